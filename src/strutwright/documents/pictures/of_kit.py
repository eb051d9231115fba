"""From a kit to what its pictures need: signs of strut types, rows, spokes of hub types."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from strutwright.documents.pictures.hub_card import HubWords, Spoke, hub_card, hub_inset, hub_thumb
from strutwright.documents.pictures.signs import TypeSign, signs
from strutwright.drawing import INK, Sheet
from strutwright.parts import Kit
from strutwright.shape.measure import hub_normals

__all__ = ["hub_at", "hub_type_card", "hub_type_thumb", "kit_signs"]

FLAT: Final = 0.97
"""Upward part of a hub's normal from which no spoke of it points up: within 14 degrees."""


def kit_signs(kit: Kit) -> tuple[TypeSign, ...]:
    """Return the signs of the kit's strut types, in their order."""
    return signs([k.label for k in kit.strut_types], [k.band for k in kit.strut_types])


def hub_type_card(
    kit: Kit, index: int, said: HubWords | None = None, title: str = "", *, width: float = 84.0
) -> Sheet:
    """Return the picture of hub type `index`: spokes numbered from the first, with their labels.

    A socket that takes different strut types at different hubs bears them all, as ``B/C``, and
    no bands.
    """
    said = said or HubWords()
    spokes = _spokes(kit, index, said)
    return hub_card(title or f"Hub type {kit.hub_types[index].label}", spokes, said, width=width)


def hub_type_thumb(kit: Kit, index: int, title: str, text: str) -> Sheet:
    """Return hub type `index` small, for the parts list."""
    return hub_thumb(title, text, _spokes(kit, index, HubWords()))


def _spokes(kit: Kit, index: int, said: HubWords) -> list[Spoke]:
    kind = kit.hub_types[index]
    known = {sign.label: sign for sign in kit_signs(kit)}
    return [
        Spoke(
            azimuth,
            dip,
            known.get(label, TypeSign(label, "", INK)),
            said.spoke.format(number=number),
        )
        for number, ((azimuth, dip), label) in enumerate(
            zip(kind.spokes.tolist(), kind.sockets, strict=True), 1
        )
    ]


def hub_at(kit: Kit, hub: int, note: str, words: tuple[str, str] = ("up", "back")) -> Sheet:
    """Return the inset of one hub: its real spokes, their letters and the hubs they go to.

    It is seen from outside, and up on paper is up at the shell; a hub that lies flat has +y, the
    back of the plan, up. `words` are what stands at the arrow: up, and back.
    """
    shell = kit.shell
    out = hub_normals(shell)[hub]
    is_flat = abs(float(out[2])) > FLAT
    high = np.array([0.0, 1.0, 0.0]) if is_flat else np.array([0.0, 0.0, 1.0])
    high = high - (high @ out) * out
    high /= np.linalg.norm(high)
    right = np.cross(high, out)
    known = kit_signs(kit)
    spokes = []
    for strut in kit.sockets(hub).tolist():
        i, j = shell.struts[strut].tolist()
        other = j if i == hub else i
        run = shell.hubs[other] - shell.hubs[hub]
        run = run / np.linalg.norm(run)
        azimuth, dip = math.atan2(run @ high, run @ right), math.asin(-float(run @ out))
        sign = known[int(kit.strut_type_of[strut])]
        spokes.append(Spoke(azimuth, dip, sign, str(other)))
    return hub_inset(str(hub), spokes, note, words[1] if is_flat else words[0])
