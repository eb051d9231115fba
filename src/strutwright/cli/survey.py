"""``strutwright survey``."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

import typer

from strutwright.brief import read_brief
from strutwright.cli.proof_lines import joint_lines, proof_lines
from strutwright.cli.shown import Bar
from strutwright.cli.survey_lines import plan_lines, survey_lines
from strutwright.design import plan_proof, plan_survey, survey_whole
from strutwright.errors import InputError
from strutwright.saving import save_file
from strutwright.shape import Shell
from strutwright.survey import SurveyResult
from strutwright.units import show_length
from strutwright.values import plain

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("survey")(survey)


def survey(  # noqa: PLR0917 - the options of a command
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    readings: Annotated[
        Path | None, typer.Argument(help="Tape readings, a CSV file: kind,from,to,at,value,sigma.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the result's values.")] = False,
    plan: Annotated[
        bool, typer.Option("--plan", help="Print which readings to take, fewest first.")
    ] = False,
    proof: Annotated[
        bool, typer.Option("--proof", help="Print the proof load to hang and the sink to expect.")
    ] = False,
    picture: Annotated[
        Path | None, typer.Option(help="Draw the shape as built (.svg), or the page (.pdf).")
    ] = None,
    look: Annotated[
        str, typer.Option(help="How the picture is seen: plan, front or side.")
    ] = "plan",
) -> None:
    """From tape readings of the built shell to its shape, its spread and what is wrong."""
    wishes = read_brief(brief)
    bar = Bar(sys.stderr)
    if plan:
        planned = plan_survey(wishes, bar)
        bar.close()
        _show(plain(planned), plan_lines(planned, wishes.project.show), as_json=as_json)
        return
    if proof:
        load = plan_proof(wishes, bar)
        bar.close()
        _show(plain(load), proof_lines(load, wishes.project.show), as_json=as_json)
        return
    if readings is None:
        raise InputError(
            "readings-unreadable", "no file of readings is named", "survey BRIEF READINGS.csv",
            "name the file, or ask with --plan which readings to take",
        )  # fmt: skip
    from strutwright.exports import surveyed_data  # exports are heavy

    found = survey_whole(wishes, readings, bar)
    bar.close()
    show, result = wishes.project.show, found.result
    if picture is not None and picture.suffix.lower() == ".pdf":
        from strutwright.documents import build_survey, typeset  # documents are heavy

        save_file(picture, typeset(build_survey(wishes, found)))
    elif picture is not None:
        _draw(result, found.kit.shell, look, (picture, show))
    data, lines = surveyed_data(found), survey_lines(result, show)
    if found.joints is not None:
        lines += joint_lines(found.joints, found.recheck, show)
    _show(data, lines, as_json=as_json)


def _draw(result: SurveyResult, shell: Shell, look: str, into: tuple[Path, str]) -> None:
    from strutwright.documents.pictures import as_built, marked  # documents are heavy
    from strutwright.drawing import svg

    if look not in {"plan", "front", "side"}:
        raise InputError(
            "survey-look", f"{look!r} is no way to look", "--look", "plan, front, side"
        )
    path, system = into
    asked = replace(
        marked(result),
        look=look,
        show=lambda metres: show_length(metres, system),
    )
    save_file(path, svg(as_built(shell, result.shape, asked)))


def _show(data: dict[str, Any], lines: list[str], *, as_json: bool) -> None:
    if as_json:
        print(json.dumps(data, indent=1, ensure_ascii=False))
        return
    for line in lines:
        print(line)
