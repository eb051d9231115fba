"""From a kit to what its pictures need: signs of strut types, rows, spokes of hub types."""

from __future__ import annotations

from strutwright.documents.pictures.hub_card import Spoke, hub_card, hub_inset
from strutwright.documents.pictures.signs import TypeSign, signs
from strutwright.documents.pictures.strut_card import TypeRow
from strutwright.drawing import INK, Sheet
from strutwright.parts import Kit

__all__ = ["hub_at", "hub_type_card", "kit_rows", "kit_signs"]


def kit_signs(kit: Kit) -> tuple[TypeSign, ...]:
    """Return the signs of the kit's strut types, in their order."""
    return signs([k.label for k in kit.strut_types], [k.band for k in kit.strut_types])


def kit_rows(kit: Kit) -> tuple[TypeRow, ...]:
    """Return the rows of the picture of all strut types."""
    return tuple(
        TypeRow(sign, kind.cut_length, kind.quantity)
        for sign, kind in zip(kit_signs(kit), kit.strut_types, strict=True)
    )


def hub_type_card(kit: Kit, index: int, *, width: float = 84.0) -> Sheet:
    """Return the picture of hub type `index`: spokes numbered from the first, with their labels.

    A socket that takes different strut types at different hubs bears them all, as ``B/C``, and
    no bands.
    """
    kind = kit.hub_types[index]
    known = {sign.label: sign for sign in kit_signs(kit)}
    spokes = [
        Spoke(azimuth, dip, known.get(label, TypeSign(label, "", INK)), f"spoke {number}")
        for number, ((azimuth, dip), label) in enumerate(
            zip(kind.spokes.tolist(), kind.sockets, strict=True), 1
        )
    ]
    return hub_card(f"Hub type {kind.label}", spokes, width=width)


def hub_at(kit: Kit, hub: int, note: str) -> Sheet:
    """Return the inset of one hub: its real spokes, their letters and the hubs they go to."""
    kind = kit.hub_types[int(kit.hub_type_of[hub])]
    turn = -1.0 if kit.is_mirrored[hub] else 1.0
    known = kit_signs(kit)
    spokes = []
    for (azimuth, dip), strut in zip(kind.spokes.tolist(), kit.sockets(hub).tolist(), strict=True):
        i, j = kit.shell.struts[strut].tolist()
        sign = known[int(kit.strut_type_of[strut])]
        spokes.append(Spoke(turn * azimuth, dip, sign, str(j if i == hub else i)))
    return hub_inset(str(hub), spokes, note)
