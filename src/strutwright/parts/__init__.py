"""Parts: from a shell and choices to strut types, hub types, pieces and fasteners."""

from strutwright.parts.values import EndCut, Fastener, HubType, Kit, PieceCount, StrutType

__all__ = ["EndCut", "Fastener", "HubType", "Kit", "PieceCount", "StrutType"]
