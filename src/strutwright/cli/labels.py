"""``strutwright labels`` and ``strutwright template``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import read_brief
from strutwright.catalogue import label_sheet, label_sheet_ids, usual_sheet
from strutwright.documents import Reader, Words, build_labels, end_template
from strutwright.parts import make_kit
from strutwright.saving import save_file
from strutwright.shape import make_shell
from strutwright.units import parse_angle, parse_length

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("labels")(labels)
    app.command("template")(template)


def labels(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    out: Annotated[Path, typer.Option(help="PDF to write.")] = Path("labels.pdf"),
    sheet: Annotated[
        str, typer.Option(help=f"Sheet of labels: {', '.join(label_sheet_ids())}.")
    ] = "",
    skip: Annotated[int, typer.Option(help="Labels of the first sheet that are gone.", min=0)] = 0,
) -> None:
    """Write a label for every piece and every hub."""
    wish = read_brief(brief)
    known = label_sheet(sheet) if sheet else usual_sheet(wish.project.show)
    kit = make_kit(make_shell(wish), wish)
    save_file(out, build_labels(kit, wish, known, skip=skip))
    print(f"Labels on {known.name}: {out}")


def template(
    diameter: Annotated[str, typer.Argument(help='Outside of the tube, such as "42.4 mm".')],
    tilt: Annotated[str, typer.Option(help="How far the tube leans from square.")] = "0 deg",
    onto: Annotated[str, typer.Option(help="Outside of the round body it is fitted to.")] = "",
    show: Annotated[str, typer.Option(help="metric (A4) or imperial (Letter).")] = "metric",
    out: Annotated[Path, typer.Option(help="PDF to write.")] = Path("template.pdf"),
) -> None:
    """Write the paper template of a mitred or coped tube end, at full size."""
    reader = Reader(Words.of("en"), show, 0.001)
    body = parse_length(onto, "--onto") if onto else None
    sizes = (parse_length(diameter, "DIAMETER"), parse_angle(tilt, "--tilt"), body)
    save_file(out, end_template(*sizes, reader))
    print(f"Template: {out}")
