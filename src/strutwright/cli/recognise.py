"""``strutwright recognise``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import read_old_kit
from strutwright.cli.shown import note_line
from strutwright.errors import InputError
from strutwright.sentences import told
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.old_kit import match_words
from strutwright.shape.outer import measures
from strutwright.shape.recognise import recognise

__all__ = ["register"]

MOST = 5
"""Matches that are told; the best ones come first."""


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("recognise")(recognise_file)


def recognise_file(
    file: Annotated[Path, typer.Argument(help="CSV, DXF or OBJ file of an old kit's struts.")],
    unit: Annotated[
        str | None, typer.Option(help="Unit of bare numbers: mm, cm, m, in or ft.")
    ] = None,
    up: Annotated[str, typer.Option(help="Axis of the file that points up: z or y.")] = "z",
) -> None:
    """Say what an old kit is, from its strut lengths and counts or from its lines."""
    if unit not in {None, "mm", "cm", "m", "in", "ft"}:
        mend = "write mm, cm, m, in or ft"
        raise InputError("import-unit", f'"{unit}" is no unit known here', "--unit", mend)
    if up not in {"z", "y"}:
        raise InputError("import-unit", f'"{up}" is no axis that can point up', "--up", "write z")
    kit = read_old_kit(file, unit=unit, up=up)
    if kit.lengths:
        for match in recognise(kit.lengths)[:MOST]:
            print(told(match_words(match), system="both"))
    else:
        shell = shell_from_lines(kit.lines)
        size = measures(shell)
        print(
            f"{len(shell.hubs)} hubs, {len(shell.struts)} struts, {len(shell.faces)} faces, "
            f"{size.width:.3f} m wide, {size.length:.3f} m long, {size.rise:.3f} m high"
        )
        for note in shell.recipe.notes:
            print(note_line(note))
    print('To build, check or document it, write in a brief: [shape] family = "imported",')
    print(f'file = "{file.name}"' + (f', unit = "{unit}"' if unit else ""))
