"""``strutwright critique`` and ``strutwright page``."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import read_brief
from strutwright.cli.shown import Bar
from strutwright.design import Design, run
from strutwright.documents import Document, build_book, typeset
from strutwright.documents.book import hub_page, left_over_page, step_page
from strutwright.documents.critique import Finding
from strutwright.documents.critique import critique as judge_book
from strutwright.errors import InputError
from strutwright.exports import kit_json
from strutwright.saving import save_file

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    app.command("critique")(critique)
    app.command("page")(page)


def critique(
    kit: Annotated[Path, typer.Argument(help="A kit folder, or a brief.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings as data.")] = False,
) -> int:
    """Hold the build book against the rules for good instructions; exit 1 where it breaks one."""
    design = _design(kit)
    findings = (*judge_book(build_book(design), design), *_stale(kit, design))
    if as_json:
        rows = [{"rule": f.rule, "where": f.where, "what": f.what} for f in findings]
        print(json.dumps(rows, indent=1, ensure_ascii=False))
    else:
        for finding in findings:
            print(finding)
        print(f"{len(findings)} findings" if findings else "the build book breaks no rule")
    return 1 if findings else 0


def page(
    kit: Annotated[Path, typer.Argument(help="A kit folder, or a brief.")],
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")],
    step: Annotated[int | None, typer.Option("--step", help="One step of the book.")] = None,
    hub: Annotated[int | None, typer.Option("--hub", help="What one hub joins.")] = None,
    part: Annotated[
        list[str] | None, typer.Option("--part", help="Where struts of this letter go.")
    ] = None,
) -> None:
    """Write a single page: a step for the phone, what a hub joins, where left-over parts go."""
    if [step is not None, hub is not None, bool(part)].count(True) != 1:
        raise InputError(
            "page-choice", "not exactly one of --step, --hub and --part is given",
            "page KIT --out FILE", "ask for one page at a time",
        )  # fmt: skip
    document = _asked(_design(kit), step, hub, tuple(part or ()))
    save_file(out, typeset(document))
    print(f"wrote {out}")


def _asked(design: Design, step: int | None, hub: int | None, labels: tuple[str, ...]) -> Document:
    if step is not None:
        return step_page(design, step)
    if hub is not None:
        return hub_page(design, hub)
    return left_over_page(design, labels)


def _design(kit: Path) -> Design:
    """Return the design of a kit folder or of a brief."""
    bar = Bar(sys.stderr)
    design = run(read_brief(kit / "brief.toml" if kit.is_dir() else kit), bar)
    bar.close()
    return design


def _stale(kit: Path, design: Design) -> tuple[Finding, ...]:
    """Return what in the folder is not what its brief gives."""
    if not kit.is_dir():
        return ()
    found = []
    if not (kit / "build-book.pdf").exists():
        found.append(Finding("book-missing", str(kit), "it has no build-book.pdf"))
    data = kit / "kit.json"
    if not data.exists():
        return (*found, Finding("kit-missing", str(kit), "it has no kit.json"))
    given, fresh = json.loads(data.read_bytes()), json.loads(kit_json(design))
    for key in ("parts", "sequence"):
        if given.get(key) != fresh[key]:
            text = f"{key} is not what the brief gives: build the kit again"
            found.append(Finding("kit-stale", "kit.json", text))
    return tuple(found)
