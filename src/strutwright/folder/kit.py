"""The kit folder of a design: which files it holds and from where they come."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Final

from strutwright.catalogue import usual_sheet
from strutwright.design import Design, fixings_of
from strutwright.documents import (
    build_book,
    build_labels,
    build_packet,
    build_patterns,
    build_quote,
    build_shop_cards,
    build_templates,
    typeset,
)
from strutwright.exports import Order, export, hub_files, kit_json, pattern_files, setting_out_csv
from strutwright.folder.write import check_target, write_files
from strutwright.progress import SILENT, Progress, step

__all__ = ["kit_files", "write_kit"]

TYPESETTERS: Final = 2
"""Documents that are typeset at once."""


def kit_files(design: Design, *, date: str = "", progress: Progress = SILENT) -> dict[str, bytes]:
    """Return every file of the kit folder by its path; the same design gives the same bytes."""
    step(progress, "files", 0.0)
    brief = design.brief
    book = build_book(design, date=date)
    sheet = usual_sheet(brief.project.show)
    with ThreadPoolExecutor(TYPESETTERS) as pool:  # typesetting leaves the interpreter free
        pages = {
            "build-book.pdf": pool.submit(typeset, book),
            "permit-packet.pdf": pool.submit(typeset, build_packet(design, date=date)),
            "shop-cards.pdf": pool.submit(typeset, build_shop_cards(design, date=date)),
            "quote.pdf": pool.submit(typeset, build_quote(design, date=date)),
        }
        if patterns := build_patterns(design, date=date):
            pages["patterns/cover-patterns.pdf"] = pool.submit(typeset, patterns)
        order = Order(
            design.kit, design.cutting.bars, brief.project.show, brief.struts.step, book.stamp
        )
        files = {"brief.toml": brief.text.encode(), "kit.json": kit_json(design), **export(order)}
        files["setting-out.csv"] = setting_out_csv(design.setting_out)
        files |= pattern_files(design.cover, design.shell)
        files |= hub_files(design.kit, fixings_of(design))
        files["labels.pdf"] = build_labels(design.kit, brief, sheet)
        files["templates.pdf"] = build_templates(design)
        step(progress, "build book", 0.5)
        files |= {name: page.result() for name, page in pages.items()}
    files |= {f"pictures/{name}.svg": content for name, content in book.pictures.items()}
    step(progress, "build book", 1.0)
    return files


def write_kit(
    design: Design,
    out: str | Path,
    *,
    force: bool = False,
    date: str = "",
    progress: Progress = SILENT,
) -> Path:
    """Write the kit folder of `design` at `out` and return its path.

    Parameters
    ----------
    design : Design
    out : path
    force : bool
        Replace an existing kit folder.
    date : str
        Printed as given; empty prints none, so that the same brief gives the same bytes.

    Raises
    ------
    InputError
        `out` may not be written.
    """
    target = Path(out)
    check_target(target, force=force)
    return write_files(kit_files(design, date=date, progress=progress), target, force=force)
