"""The page of a survey: the shape as built, what is suspect, what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.design import Surveyed
from strutwright.documents.blocks import Block, Bullets, Document, Figure, Heading, Paragraph, Table
from strutwright.documents.framed import page_of
from strutwright.documents.pictures import as_built, marked
from strutwright.documents.reader import Reader
from strutwright.drawing import svg
from strutwright.shape import Shell
from strutwright.structure import verdict
from strutwright.survey import Correction, SurveyResult, Suspect
from strutwright.units import show_length, show_use

__all__ = ["build_survey"]

TENTH: Final = 0.0001
"""m, to which sinks are shown in metric."""
STAMPED: Final = {"fails": "survey.stamp_fails", "not checked": "frame.stamp_not_checked"}


def build_survey(brief: Brief, found: Surveyed, *, date: str = "") -> Document:
    """Return the page of a survey of the built shell of `brief`.

    `date` is printed as given; without it none is.
    """
    reader = Reader.of_brief(brief)
    result = found.result
    pictures = {f"built-{look}": _picture(found, reader, look) for look in ("plan", "front")}
    blocks = (
        Heading(1, reader("survey.title")),
        Paragraph(_summary(result, reader)),
        *_suspects(result, reader),
        *_pulls(result, found.kit.shell, reader),
        Figure("built-plan", reader("survey.alt_plan"), reader("survey.plan")),
        *_readings(result, reader),
        *_joints(found, reader),
        Heading(2, reader("survey.unknown")),
        Bullets(result.cannot_know or (reader("survey.nothing"),)),
        *([Bullets(reader.notes(result.notes))] if result.notes else []),
        Figure("built-front", reader("survey.alt_front"), reader("survey.front")),
        Paragraph(reader("frame.preliminary"), "small"),
    )
    again = found.recheck
    code = "" if again is None else STAMPED.get(verdict(again.after), "")
    stamp = reader(code) if code else ""
    return page_of(
        brief, reader, reader("survey.document"), (blocks, pictures), stamp=stamp, date=date
    )


def _picture(found: Surveyed, reader: Reader, look: str) -> bytes:
    result = found.result

    def say(scale: float, factor: int, moved: str) -> tuple[str, str]:
        drawn = reader("survey.drawn", scale=f"1:{scale:g}", times=factor, moved=moved)
        return drawn, reader("survey.key")

    asked = replace(
        marked(result),
        pulls=tuple((one.hub, one.dx, one.dy) for one in result.corrections if one.dx or one.dy),
        look=look,
        height=160.0 if look == "plan" else 90.0,
        show=reader.length,
        say=say,
    )
    return svg(as_built(found.kit.shell, result.shape, asked))


def _summary(result: SurveyResult, reader: Reader) -> str:
    moved = float(np.linalg.norm(result.shape - result.design, axis=1).max())
    spread = reader.length(abs(result.spread))
    return reader(
        "survey.summary",
        readings=len(result.checked),
        redundancy=result.redundancy,
        moved=reader.length(moved),
        spread=spread if result.spread >= 0 else f"-{spread}",
    )


def _suspects(result: SurveyResult, reader: Reader) -> list[Block]:
    if not result.suspects:
        chance = f"{result.chance:.0%}"
        word = "survey.true" if result.checked else "survey.nothing_read"
        return [Paragraph(reader(word, chance=chance), "limit")]
    head = tuple(
        reader(f"survey.{key}_head") for key in ("place", "fault", "likely", "first", "force")
    )
    rows = tuple(
        (
            str(place), reader(f"survey.kind_{one.hypothesis.replace('-', '_')}"),
            f"{one.probability:.0%}", _look(one, reader),
            "" if one.force is None else reader.force(one.force),
        )
        for place, one in enumerate(result.suspects, start=1)
    )  # fmt: skip
    blocks: list[Block] = [
        Table(head, rows, "llrlr", reader("survey.suspects"), (0.4, 1.5, 0.8, 4, 1.1))
    ]
    if result.next_reading is not None:
        one = result.next_reading
        text = reader(
            "survey.next", first=one.hubs[0], second=one.hubs[1],
            expected=reader.length(one.expected),
        )  # fmt: skip
        blocks.append(Paragraph(text, "limit"))
    return blocks


def _look(one: Suspect, reader: Reader) -> str:
    return reader(
        f"survey.look_{one.hypothesis.replace('-', '_')}",
        struts=", ".join(map(str, one.struts)),
        hubs=", ".join(map(str, one.hubs)),
        size="" if one.size is None else reader.length(abs(one.size)),
        line=one.line or 0,
    )


def _pulls(result: SurveyResult, shell: Shell, reader: Reader) -> list[Block]:
    if not result.corrections:
        return []
    keys = ("order", "hub", "across", "sideways", "up", "force", "again")
    head = tuple(reader(f"survey.{key}_head") for key in keys)
    is_long = bool(np.ptp(shell.hubs[shell.base, 0]) > 1.2 * np.ptp(shell.hubs[shell.base, 1]))
    rows = tuple(_pull(one, shell, reader, is_long=is_long) for one in result.corrections)
    return [
        Heading(2, reader("survey.pulls")),
        Paragraph(reader("survey.pull_intro"), "limit"),
        Table(head, rows, "rrrrrrl", "", (0.6, 0.6, 1.6, 1.6, 1.2, 1.2, 1.6)),
    ]


def _pull(one: Correction, shell: Shell, reader: Reader, *, is_long: bool) -> tuple[str, ...]:
    """Return a row: inwards or outwards, then left or right as seen from inside."""
    at = shell.hubs[one.hub, :2]
    out = np.array([0.0, np.sign(at[1])]) if is_long and at[1] else at / np.linalg.norm(at)
    left = np.array([-out[1], out[0]])
    move = np.array([one.dx, one.dy])
    return (
        str(one.order), str(one.hub),
        _way(float(move @ out), ("outwards", "inwards"), reader),
        _way(float(move @ left), ("left", "right"), reader),
        _way(one.dz, ("raise", "lower"), reader),
        "" if one.force is None else reader.force(one.force),
        "",
    )  # fmt: skip


def _way(metres: float, words: Sequence[str], reader: Reader) -> str:
    shown = reader.length(abs(metres))
    if shown == reader.length(0.0):
        return ""
    return f"{shown} {reader('survey.' + words[0 if metres > 0 else 1])}"


def _readings(result: SurveyResult, reader: Reader) -> list[Block]:
    if not result.checked:
        return []
    keys = ("line", "reading", "measured", "off", "residual", "w", "found")
    head = tuple(reader(f"survey.{key}_head") for key in keys)
    rows = tuple(
        (
            str(one.measure.reading.line),
            reader(f"survey.of_{one.measure.reading.kind}", hubs=" - ".join(
                map(str, one.measure.hubs))),
            reader.length(one.measure.value),
            _signed(one.measure.value - one.measure.design, reader),
            _signed(one.residual, reader),
            "" if one.standardised is None else f"{one.standardised:+.1f}",
            "" if one.detectable is None else reader.length(one.detectable),
        )
        for one in result.checked
    )  # fmt: skip
    return [Table(head, rows, "llrrrrr", reader("survey.readings"))]


def _signed(metres: float, reader: Reader) -> str:
    shown = reader.length(abs(metres))
    return shown if shown == reader.length(0.0) else ("-" if metres < 0 else "+") + shown


def _joints(found: Surveyed, reader: Reader) -> list[Block]:
    joints, again = found.joints, found.recheck
    if joints is None:
        return []
    step = None if reader.system == "imperial" else TENTH
    sinks = tuple(
        (
            str(one.reading.hubs[0]),
            reader.force((one.reading.load or (0.0, 0))[0]),
            show_length(one.value, reader.system, step=step),
            show_length(one.fitted, reader.system, step=step),
        )
        for one in joints.sunk
    )
    head = tuple(reader(f"survey.{key}_head") for key in ("hub", "load", "sank", "best"))
    give = f"{joints.stiff.give * 1e6:.2g} - {joints.soft.give * 1e6:.2g} mm/kN"
    blocks: list[Block] = [
        Heading(2, reader("survey.proof")),
        Paragraph(reader(f"survey.joints_{joints.verdict}", give=give), "limit"),
        Table(head, sinks, "rrrr"),
    ]
    if again is not None:
        rows = tuple((code, *(show_use(use) for use in uses)) for code, *uses in again.worst())
        head = tuple(reader(f"survey.{key}_head") for key in ("check", "before", "after"))
        blocks.append(Table(head, rows, "lrr", reader("survey.again")))
    return blocks
