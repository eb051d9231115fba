"""``strutwright build`` and ``strutwright check``."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import Brief, read_brief
from strutwright.cli.shown import Bar, verdict_lines
from strutwright.cli.weighed import choice_lines
from strutwright.design import Design, mended, run
from strutwright.errors import InputError, Problem
from strutwright.sentences import told
from strutwright.structure import verdict

__all__ = ["register"]

DONE, CHECKS_FAIL = 0, 1
THOROUGH = "Judge stability at both ends of joint stiffness, with all imperfections."


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    app.command("build")(build)
    app.command("check")(check)


def build(  # noqa: PLR0917 - the options of a command
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    out: Annotated[
        Path | None, typer.Option(help="Kit folder; the brief's name with -kit when left out.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace an existing kit folder.")] = False,
    strict: Annotated[bool, typer.Option("--strict", help="Turn notes into errors.")] = False,
    thorough: Annotated[bool, typer.Option("--thorough", help=THOROUGH)] = False,
    date: Annotated[str, typer.Option(help="Date to print; without it none is printed.")] = "",
) -> int:
    """Do the whole job: from the brief to a kit folder."""
    from strutwright.folder import check_target, write_kit  # documents and exports are heavy

    wishes = read_brief(brief)
    target = out or Path(f"{brief.stem}-kit")
    check_target(target, force=force)
    bar = Bar(sys.stderr)
    design = mended(run(wishes, bar, thorough=thorough), bar)
    _refuse_notes(design, strict=strict)
    folder = write_kit(design, target, force=force, date=date, progress=bar)
    bar.close()
    for line in verdict_lines(design):
        print(line)
    print(f"Kit folder: {folder}")
    return _exit_code(design)


def check(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print kit.json's values.")] = False,
    strict: Annotated[bool, typer.Option("--strict", help="Turn notes into errors.")] = False,
    thorough: Annotated[bool, typer.Option("--thorough", help=THOROUGH)] = False,
) -> int:
    """Work out shape, parts, loads and structure, and print the verdict."""
    wishes: Brief = read_brief(brief)
    bar = Bar(sys.stderr)
    design = mended(run(wishes, bar, thorough=thorough), bar)
    bar.close()
    _refuse_notes(design, strict=strict)
    if as_json:
        from strutwright.exports import kit_data  # exports are heavy

        print(json.dumps(kit_data(design), indent=1, ensure_ascii=False))
    else:
        for line in (*verdict_lines(design), *choice_lines(design)):
            print(line)
    return _exit_code(design)


def _exit_code(design: Design) -> int:
    return DONE if verdict(design.checks) == "passes" else CHECKS_FAIL


def _refuse_notes(design: Design, *, strict: bool) -> None:
    if strict and design.notes:
        raise InputError.of(
            Problem(
                note.code,
                told(note.text, system="both"),
                "--strict",
                "settle it in the brief, or drop --strict",
            )
            for note in design.notes
        )
