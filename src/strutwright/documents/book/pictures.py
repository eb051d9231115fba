"""The pictures of the build book, as SVG by name."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from strutwright.design import Design
from strutwright.documents.book.choices import choices_pictures
from strutwright.documents.book.climate import climate_pictures
from strutwright.documents.book.cover import cover_pictures
from strutwright.documents.book.step_pictures import step_pictures
from strutwright.documents.picture_words import hub_words, scale_words
from strutwright.documents.pictures import (
    RingSigns,
    TypeSign,
    View,
    base_ring,
    hub_type_card,
    hub_type_thumb,
    kit_signs,
    marking,
    view,
)
from strutwright.documents.reader import Reader
from strutwright.drawing import FRONT, ISOMETRIC, PLAN, SIDE, Camera, Sheet, svg
from strutwright.shape.apply import azimuth_of
from strutwright.structure.judge import doors_of
from strutwright.units import show_share

__all__ = ["VIEWS", "book_pictures", "ring_picture"]

SAME: Final = 1e-6
"""m within which hubs stand at one height."""

VIEWS: Final[dict[str, Camera]] = {"plan": PLAN, "front": FRONT, "side": SIDE}
"""Cameras of the drawings by the key of their title."""


def book_pictures(design: Design, reader: Reader) -> dict[str, bytes]:
    """Return every picture of the build book."""
    types = kit_signs(design.kit)
    sheets = {
        **_views(design, reader, types),
        **step_pictures(design, reader, types),
        **cover_pictures(design, reader),
        **climate_pictures(design, reader),
        **choices_pictures(design, reader),
        "ring": ring_picture(design, reader),
    }
    longest = max((kind.cut_length for kind in design.kit.strut_types), default=1.0)
    for sign, strut in zip(types, design.kit.strut_types, strict=True):
        sheets[f"strut-{sign.label}"] = marking(sign, strut.cut_length / longest)
    for k, kind in enumerate(design.kit.hub_types):
        sheets[f"hub-{kind.label}"] = hub_type_card(
            design.kit, k, hub_words(reader), reader("hubs.name", label=kind.label)
        )
        alt = reader("hubs.alt", label=kind.label, valence=kind.valence)
        name = reader("hubs.name", label=kind.label)
        sheets[f"small-{kind.label}"] = hub_type_thumb(design.kit, k, name, alt)
    return {name: svg(sheet) for name, sheet in sheets.items()}


def ring_picture(design: Design, reader: Reader) -> Sheet:
    """Return the base ring with north, doors and the fall of the ground."""
    ground = design.terrain
    fall = None
    if ground is not None and ground.gradient > 0:
        share = show_share(ground.gradient, decimals=1)
        fall = ground.downhill, reader("ring.falls", gradient=share)
    signs = RingSigns(
        north=_north(design),
        doors=tuple(_doors(design, reader)),
        fall=fall,
        title=reader("ring.title"),
        kinds={kind: reader(f"ring.kind_{kind}") for kind in ("ring", "diagonal", "width")},
    )
    return base_ring(design.shell, design.setting_out, reader.length, signs)


def _doors(design: Design, reader: Reader) -> Iterator[tuple[str, int, int]]:
    """Yield the word for each door, and the base hubs at the feet of its jambs."""
    shell = design.shell
    rows = [row.hub for row in design.setting_out.rows]
    at = shell.hubs[rows, :2]
    for door in doors_of(shell):
        hubs = np.array(door.hubs)
        low = hubs[shell.hubs[hubs, 2] <= shell.hubs[hubs, 2].min() + SAME]
        feet = [rows[int(np.hypot(*(at - shell.hubs[hub, :2]).T).argmin())] for hub in low]
        if len(set(feet)) > 1:
            yield reader("ring.door"), feet[0], feet[-1]


def _north(design: Design) -> float:
    """Return the direction of north, rad anticlockwise from +x."""
    return azimuth_of(0.0, design.brief.site.north)


def _views(design: Design, reader: Reader, types: tuple[TypeSign, ...]) -> dict[str, Sheet]:
    cover = View(
        ISOMETRIC,
        reader("views.isometric"),
        height=150,
        hub_numbers=False,
        strut_labels=False,
        words=scale_words(reader),
    )
    asked = {"cover": cover}
    for name, camera in VIEWS.items():
        north = _north(design) if camera is PLAN else None
        asked[name] = View(
            camera,
            reader(f"views.{name}"),
            north=north,
            show=reader.length,
            words=scale_words(reader),
        )
    return {
        name: view(design.shell, design.kit.strut_type_of, types, one)
        for name, one in asked.items()
    }
