"""``strutwright survey``."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from strutwright.brief import read_brief
from strutwright.cli.shown import Bar
from strutwright.design import survey as survey_brief
from strutwright.errors import InputError
from strutwright.survey import Checked, SurveyResult
from strutwright.units import show_length
from strutwright.values import plain

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("survey")(survey)


def survey(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    readings: Annotated[
        Path | None, typer.Argument(help="Tape readings, a CSV file: kind,from,to,at,value,sigma.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the result's values.")] = False,
) -> None:
    """From tape readings of the built shell to its shape, its spread and what is wrong."""
    wishes = read_brief(brief)
    if readings is None:
        raise InputError(
            "readings-unreadable", "no file of readings is named", "survey BRIEF READINGS.csv",
            "name the file",
        )  # fmt: skip
    bar = Bar(sys.stderr)
    result = survey_brief(wishes, readings, bar)
    bar.close()
    if as_json:
        print(json.dumps(survey_data(result), indent=1, ensure_ascii=False))
        return
    for line in _lines(result, wishes.project.show):
        print(line)


def survey_data(result: SurveyResult) -> dict[str, Any]:
    """Return `result` as the plain data of ``--json``, SI."""
    return {
        "shape": plain(result.shape),
        "suspects": [plain(one) for one in result.suspects],
        "corrections": [plain(one) for one in result.corrections],
        "spread": plain(result.spread),
        "next_reading": plain(result.next_reading),
        "cannot_know": list(result.cannot_know),
        "redundancy": plain(result.redundancy),
        "readings": [_reading_data(one) for one in result.checked],
        "ellipses": plain(result.ellipses),
        "notes": [plain(one) for one in result.notes],
    }


def _reading_data(one: Checked) -> dict[str, Any]:
    measure = one.measure
    return {
        "line": measure.reading.line,
        "kind": measure.reading.kind,
        "hubs": list(measure.hubs),
        "measured": plain(measure.value),
        "design": plain(measure.design),
        "sigma": plain(measure.sigma),
        "residual": plain(one.residual),
        "redundancy": plain(one.redundancy),
        "standardised": plain(one.standardised),
        "detectable": plain(one.detectable),
    }


def _lines(result: SurveyResult, system: str) -> list[str]:
    moved = float(abs(result.shape - result.design).max())
    lines = [
        f"{len(result.checked)} readings used, redundancy {result.redundancy}; largest "
        f"movement {show_length(moved, system)}; base spread {_signed(result.spread, system)}.",
        "line  reading                 measured        off design   residual   w",
    ]
    lines += [_row(one, system) for one in result.checked]
    lines += [f"cannot know: {text}" for text in result.cannot_know]
    lines += [f"note {note.code}: {note.text}" for note in result.notes]
    return lines


def _row(one: Checked, system: str) -> str:
    measure = one.measure
    w = "-" if one.standardised is None else f"{one.standardised:+.1f}"
    return (
        f"{measure.reading.line:>4}  {measure.name:<22}  {show_length(measure.value, system):<14}"
        f"  {_signed(measure.value - measure.design, system):<11}"
        f"  {_signed(one.residual, system):<9}  {w}"
    )


def _signed(metres: float, system: str) -> str:
    return ("-" if metres < 0 else "+") + show_length(abs(metres), system)
