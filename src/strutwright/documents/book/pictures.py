"""The pictures of the build book, as SVG by name."""

from __future__ import annotations

from typing import Final

from strutwright.design import Design
from strutwright.documents.book.choices import choices_pictures
from strutwright.documents.book.climate import climate_pictures
from strutwright.documents.book.cover import cover_pictures
from strutwright.documents.book.step_pictures import step_pictures
from strutwright.documents.pictures import (
    TypeSign,
    View,
    base_ring,
    hub_type_card,
    kit_signs,
    marking,
    view,
)
from strutwright.documents.reader import Reader
from strutwright.drawing import FRONT, ISOMETRIC, PLAN, SIDE, Camera, Sheet, svg
from strutwright.shape.apply import azimuth_of

__all__ = ["VIEWS", "book_pictures"]

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
        "ring": base_ring(design.shell, design.setting_out, reader.length, north=_north(design)),
    }
    for sign in types:
        sheets[f"strut-{sign.label}"] = marking(sign)
    for k, kind in enumerate(design.kit.hub_types):
        sheets[f"hub-{kind.label}"] = hub_type_card(design.kit, k)
    return {name: svg(sheet) for name, sheet in sheets.items()}


def _north(design: Design) -> float:
    """Return the direction of north, rad anticlockwise from +x."""
    return azimuth_of(0.0, design.brief.site.north)


def _views(design: Design, reader: Reader, types: tuple[TypeSign, ...]) -> dict[str, Sheet]:
    cover = View(
        ISOMETRIC, reader("views.isometric"), height=150, hub_numbers=False, strut_labels=False
    )
    asked = {"cover": cover}
    for name, camera in VIEWS.items():
        north = _north(design) if camera is PLAN else None
        asked[name] = View(camera, reader(f"views.{name}"), north=north, show=reader.length)
    return {
        name: view(design.shell, design.kit.strut_type_of, types, one)
        for name, one in asked.items()
    }
