"""Parts: from a shell and choices to strut types, hub types, pieces and fasteners."""

from strutwright.parts.choices import ANGLE_TOLERANCE, LENGTH_TOLERANCE, PartChoices
from strutwright.parts.from_brief import make_kit, part_choices
from strutwright.parts.kit import assemble_kit
from strutwright.parts.split import n_pieces
from strutwright.parts.values import EndCut, Fastener, HubType, Kit, PieceCount, StrutType

__all__ = [
    "ANGLE_TOLERANCE",
    "LENGTH_TOLERANCE",
    "EndCut",
    "Fastener",
    "HubType",
    "Kit",
    "PartChoices",
    "PieceCount",
    "StrutType",
    "assemble_kit",
    "make_kit",
    "n_pieces",
    "part_choices",
]
