"""``strutwright compare`` and ``strutwright lengths``."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import read_brief
from strutwright.brief.lengths import read_lengths
from strutwright.cli.shown import Bar
from strutwright.design import Design, run, surveyed_kit
from strutwright.design.returned import judge_lengths
from strutwright.structure import verdict
from strutwright.units import show_length, show_mass

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    app.command("compare")(compare)
    app.command("lengths")(lengths)


def compare(
    brief_a: Annotated[Path, typer.Argument(help="The brief as it was.")],
    brief_b: Annotated[Path, typer.Argument(help="The brief as it is now.")],
) -> None:
    """Say what changed in parts, steps, mass and price."""
    bar = Bar(sys.stderr)
    before, after = (run(read_brief(path), bar) for path in (brief_a, brief_b))
    bar.close()
    for line in changes(before, after):
        print(line)


def changes(before: Design, after: Design) -> list[str]:
    """Return what changed from one design to the other, a line each; counts first."""
    show = after.brief.project.show
    pairs = [
        ("width", *(show_length(one.measures.width, show) for one in (before, after))),
        ("hubs", *(str(len(one.shell.hubs)) for one in (before, after))),
        ("struts", *(str(len(one.shell.struts)) for one in (before, after))),
        ("strut types", *(str(len(one.kit.strut_types)) for one in (before, after))),
        ("hub types", *(str(len(one.kit.hub_types)) for one in (before, after))),
        ("bars", *(str(len(one.cutting.bars)) for one in (before, after))),
        ("steps", *(str(sum(len(s.steps) for s in one.sequence.stages))
                    for one in (before, after))),
        ("parcels", *(str(len(one.packing.parcels)) for one in (before, after))),
        ("mass", *(show_mass(one.kit.mass, show) for one in (before, after))),
        ("price", *(_price(one) for one in (before, after))),
        ("verdict", *(verdict(one.checks) for one in (before, after))),
    ]  # fmt: skip
    lines = [f"{name}: {a} -> {b}" if a != b else f"{name}: {a}, as before" for name, a, b in pairs]
    was, now = _pieces(before), _pieces(after)
    for kind in sorted(was | now):
        n, m = was[kind], now[kind]
        if n != m:
            name, tenths = kind
            size = f" of {tenths / 10:.1f} mm" if tenths else ""
            lines.append(f"  {name}{size}: {n} -> {m}")
    return lines


def _price(design: Design) -> str:
    rest = "" if design.price.is_complete else " and what has no price"
    return f"{design.price.currency} {design.price.total:.2f}{rest}"


def _pieces(design: Design) -> Counter[tuple[str, int]]:
    """Return pieces by length to a tenth of a mm, hubs by their sockets, fasteners by item."""
    found: Counter[tuple[str, int]] = Counter()
    for kind in design.kit.strut_types:
        for piece in kind.pieces:
            found["piece", round(piece.length * 1e4)] += piece.quantity
    for hub in design.kit.hub_types:
        found[f"hub with {hub.valence} sockets", 0] += hub.quantity
    for item in design.kit.fasteners:
        found[item.item, 0] += item.quantity
    return found


def lengths(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    returned: Annotated[Path, typer.Argument(help="Lengths as cut, a CSV file: label,length.")],
) -> int:
    """Judge the lengths that were cut elsewhere: fits, or cut these again."""
    wishes = read_brief(brief)
    bar = Bar(sys.stderr)
    kit = surveyed_kit(wishes, bar)
    bar.close()
    found = judge_lengths(kit, wishes, read_lengths(returned))
    show = wishes.project.show
    counts = Counter(one.verdict for one in found)
    for one in found:
        if one.verdict in {"cut again", "replace"}:
            want = show_length(one.wanted, show, step=wishes.struts.step)
            print(f"{one.verdict}: {one.label} is {show_length(one.length, show)}, wanted {want}")
        elif one.verdict == "unknown":
            print(f"unknown: no place for {one.label} of {show_length(one.length, show)}")
    for (label, wanted), n in Counter(
        (one.label, one.wanted) for one in found if one.verdict == "missing"
    ).items():
        print(f"missing: {n} x {label} of {show_length(wanted, show)}")
    print(", ".join(f"{n} {name}" for name, n in sorted(counts.items())))
    return 0 if set(counts) == {"fits"} else 1
