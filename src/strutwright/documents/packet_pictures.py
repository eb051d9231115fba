"""Pictures of the permit packet: plan, elevations, sections, and the shapes that loads give."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.design import Design
from strutwright.documents.picture_words import scale_words
from strutwright.documents.pictures.of_kit import kit_signs
from strutwright.documents.pictures.section import section_view
from strutwright.documents.pictures.shapes import ShapeWords, moved_shell
from strutwright.documents.pictures.views import View, view
from strutwright.documents.reader import Reader
from strutwright.drawing import FRONT, ISOMETRIC, PLAN, SIDE, Sheet, svg
from strutwright.values import Floats

__all__ = ["SECTIONS", "SHAPES", "VIEWS", "packet_pictures"]

VIEWS: Final = {"plan": PLAN, "front": FRONT, "side": SIDE}
SECTIONS: Final = {"across": SIDE, "along": FRONT}
"""A section across the house is seen as its side is, one along it as its front."""
SHAPES: Final = ("deflected", "buckled", "moving")


def packet_pictures(design: Design, reader: Reader) -> dict[str, bytes]:
    """Return the pictures of the packet of `design` as SVG, by name."""
    types, shell = kit_signs(design.kit), design.shell
    cover = View(
        ISOMETRIC, reader("views.isometric"), height=150, hub_numbers=False, strut_labels=False
    )
    asked = {"cover": cover}
    for name, camera in VIEWS.items():
        asked[name] = View(
            camera, reader(f"views.{name}"), show=reader.length, words=scale_words(reader)
        )
    sheets = {
        name: view(shell, design.kit.strut_type_of, types, one) for name, one in asked.items()
    }
    for name, camera in SECTIONS.items():
        title = reader(f"views.{name}")
        sheets[name] = section_view(
            shell, camera, title, reader("packet.section_words"), reader.length
        )
    sheets |= _shapes(design, reader)
    return {name: svg(sheet) for name, sheet in sheets.items()}


def _shapes(design: Design, reader: Reader) -> dict[str, Sheet]:
    shell, judged = design.shell, design.judgement
    labels = ShapeWords(
        reader("packet.used_to", top="{top}"),
        reader("packet.used_above"),
        reader("packet.drawn", times="{times}"),
    )
    used: Floats | None = None
    if judged.strength is not None and judged.strength.uses:
        used = np.max([use.worst for use in judged.strength.uses], axis=0)
    sheets = {}
    if judged.service is not None:
        moved = np.linalg.norm(judged.service.displacements, axis=2).max(axis=1)
        row = int(np.argmax(moved))
        said = judged.service.combinations[row].name
        moves = judged.service.displacements[row]
        sheets["deflected"] = moved_shell(shell, moves, used, said, labels)
    if judged.stability is not None and judged.stability.buckled:
        first = judged.stability.buckled[0]
        if len(first.mode):
            said = (
                f"{reader('packet.buckling')}: {first.factor:.3g}; {first.scene.combination.name}"
            )
            sheets["buckled"] = moved_shell(shell, first.mode, used, said, labels)
    if judged.movement is not None:
        said = reader("packet.moving")
        sheets["moving"] = moved_shell(shell, judged.movement.mode, None, said, labels)
    return sheets
