"""``strutwright cut``."""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import Brief, Rack, read_brief, read_rack
from strutwright.cli.shown import Bar, note_line
from strutwright.design import PooledPlan, pool_cuts
from strutwright.errors import InputError
from strutwright.units import parse_length, show_length, show_share
from strutwright.values import plain

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("cut")(cut)


def cut(
    briefs: Annotated[list[Path], typer.Argument(help="Briefs whose kits are cut together.")],
    stock: Annotated[
        Path | None, typer.Option(help="The rack, a CSV file: what there is to cut from.")
    ] = None,
    keep: Annotated[
        str, typer.Option(help='Least length of a rest that is kept, such as "400 mm".')
    ] = "",
    keep_value: Annotated[float, typer.Option(help="What a metre of a kept rest is worth.")] = 0.0,
    as_json: Annotated[bool, typer.Option("--json", help="Print the plan's values.")] = False,
) -> None:
    """One cutting plan over several kits."""
    wishes = [read_brief(path) for path in briefs]
    rack = None if stock is None else read_rack(stock)
    for note in rack.notes if rack else ():
        sys.stderr.write(f"{note_line(note)}\n")
    if keep_value < 0 or (keep_value and not keep):
        raise InputError(
            "cutting-value", f"a kept metre is worth {keep_value:g}", "--keep-value",
            "give a value above zero, and --keep with the least length",
        )  # fmt: skip
    least = parse_length(keep, "--keep") if keep else None
    bar = Bar(sys.stderr)
    plans = pool_cuts(wishes, rack, keep=least, keep_value=keep_value, progress=bar)
    bar.close()
    if as_json:
        print(json.dumps(plans_data(plans, rack), indent=1, ensure_ascii=False))
        return
    for plan in plans:
        for line in plan_lines(plan, wishes):
            print(line)


def plans_data(plans: tuple[PooledPlan, ...], rack: Rack | None) -> dict[str, object]:
    """Return the plans as plain values, SI."""
    return {
        "plans": [
            {**plain(one), "gap": one.plan.gap, "yield": one.plan.used / one.plan.bought}
            for one in plans
        ],
        "notes": plain(rack.notes if rack else ()),
    }


def plan_lines(pooled: PooledPlan, briefs: list[Brief]) -> list[str]:
    """Return a plan as lines: bars that are alike once, totals, what is proven."""
    show, step = briefs[0].project.show, briefs[0].struts.step
    plan = pooled.plan
    lines = [f"{pooled.stock}: {', '.join(pooled.kits)}"]
    alike: Counter[tuple[str, float, float, tuple[tuple[str, float], ...], float, bool]] = Counter()
    for bar in plan.bars:
        cuts = tuple((c.label, c.length) for c in bar.cuts)
        alike[bar.name, bar.length, bar.start, cuts, bar.offcut, bar.worth > 0] += 1
    for (name, length, start, cuts, offcut, kept), n in alike.items():
        pieces = ", ".join(f"{label} {show_length(one, show, step=step)}" for label, one in cuts)
        head = f"  {n} x {show_length(length, show)}" + (f" ({name})" if name else "")
        away = f", from {show_length(start, show)}" if name and start > 0.1 else ""
        rest = f"rest {show_length(offcut, show)}" + (" kept" if kept else "")
        lines.append(f"{head}{away}: {pieces}; {rest}")
    money = f"{briefs[0].price.currency} " if plan.by_price else ""
    unit = "" if plan.by_price else " m"
    state = "proven: no plan costs less"
    if not plan.proven:
        state = (
            f"not proven: no plan costs less than {money}{plan.bound:.2f}{unit}, "
            f"at most {show_share(plan.gap, decimals=2)} could be saved"
        )
    lines.append(
        f"  {len(plan.bars)} bars, {plan.used:.2f} m of {plan.bought:.2f} m used "
        f"({show_share(plan.used / plan.bought)}); cost {money}{plan.cost:.2f}{unit}; {state}"
    )
    lines += [f"  {note_line(note, show)}" for note in pooled.notes]
    return lines
