"""Cover and cautions of the build book."""

from __future__ import annotations

from typing import Final

from strutwright.design import Design, kit_number
from strutwright.documents.blocks import Block, Caution, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.structure import verdict
from strutwright.version import __version__

__all__ = ["cautions", "cover_lines", "stamp"]

BUILDING_WIND: Final = 8.0
"""m/s; nobody raises a shell in more wind than this. Our choice: a moderate breeze, in which a
strut of cover or a half shell can no longer be held by hand."""

MESSAGES: Final = (
    ("WARNING", "height"),
    ("WARNING", "collapse"),
    ("WARNING", "wind"),
    ("WARNING", "lines"),
    ("WARNING", "snow"),
    ("CAUTION", "cuts"),
    ("NOTICE", "codes"),
)
"""Signal word of each message; sorted by severity."""


def stamp(design: Design, reader: Reader) -> str:
    """Return the verdict that every page bears, or nothing when all required checks passed."""
    return {
        "passes": "",
        "not checked": reader("frame.stamp_not_checked"),
        "fails": reader("frame.stamp_fails"),
    }[verdict(design.checks)]


def cover_lines(design: Design, reader: Reader) -> tuple[str, ...]:
    """Return the lines under the title."""
    shell, kit = design.shell, design.kit
    family = reader("book.family_" + shell.recipe.family.replace("-", "_"))
    size = {
        "family": family,
        "width": reader.length(design.measures.width),
        "length": reader.length(design.measures.length),
        "rise": reader.length(design.measures.rise),
    }
    is_long = shell.recipe.family in {"long-dome", "vault"}
    return (
        reader("book.kit_number", number=kit_number(design.brief), version=__version__),
        reader("book.cover_size_long" if is_long else "book.cover_size", **size),
        reader(
            "book.cover_counts",
            hubs=len(shell.hubs),
            struts=len(shell.struts),
            types=len(kit.strut_types),
            mass=reader.mass(kit.mass),
        ),
        reader("frame.preliminary"),
    )


def cautions(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the safety chapter: what the verdict means, the messages, the limits."""
    says = {"passes": "passes", "not checked": "not_checked", "fails": "fails"}
    messages = tuple(
        Caution(
            word,  # type: ignore[arg-type]  # the table above holds the four words alone
            reader(f"cautions.{key}_hazard"),
            reader(f"cautions.{key}_consequence"),
            reader(f"cautions.{key}_avoidance", stop=reader.speed(BUILDING_WIND)),
        )
        for word, key in MESSAGES
    )
    return (
        Heading(1, reader("cautions.title")),
        Paragraph(reader("cautions.intro")),
        Paragraph(reader("cautions." + says[verdict(design.checks)]), "limit"),
        *messages,
        Table(
            (reader("cautions.limit_head"), reader("cautions.value_head")),
            _limits(design, reader),
            "ll",
            reader("cautions.limits"),
            (2.0, 3.0),
        ),
        NewPage(),
    )


def _limits(design: Design, reader: Reader) -> tuple[tuple[str, str], ...]:
    site, loads = design.brief.site, design.brief.loads
    open_value = reader("cautions.limit_not_given")
    wind = site.basic_wind
    return (
        (
            reader("cautions.limit_snow"),
            open_value if site.ground_snow is None else reader.pressure(site.ground_snow),
        ),
        (
            reader("cautions.limit_wind"),
            open_value if wind is None else f"{reader.speed(wind.value)} ({wind.basis})",
        ),
        (
            reader("cautions.limit_hung"),
            reader.force(loads.hung),
        ),
        (reader("cautions.limit_climb"), reader("cautions.limit_climb_value")),
    )
