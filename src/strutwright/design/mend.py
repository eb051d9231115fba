"""What would mend a kit that fails: each change tried for real, the least that passes first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from strutwright.brief import Bar, Brief, Shape, end_tests_of
from strutwright.catalogue import Stock, stock, stock_ids
from strutwright.design.design import Design
from strutwright.design.priced import price_instead
from strutwright.design.run import run
from strutwright.errors import InputError, ResultError
from strutwright.parts import make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.sentences import note, sentence
from strutwright.shape import make_shell
from strutwright.structure import governing, verdict
from strutwright.structure.judge import judge
from strutwright.structure.mended import Mend
from strutwright.values import Note

__all__ = ["mended"]

TRIALS: Final = 10
"""Most changes that are tried."""
STRUTS: Final = 2500
"""No further change is tried once the kits that were tried have so many struts together."""
SMALLER: Final = 0.85
"""Share of the span that is tried; our choice: about one step of a bar's length."""
CONNECTORS: Final = ("socket-pin", "plate-bolt")
"""Stiffer connectors of the catalogue, which a workshop can make for any stock."""


@dataclass(frozen=True)
class _Change:
    """A change in words, and the brief that asks for it."""

    words: str
    brief: Brief
    is_braces: bool = False


def mended(design: Design, progress: Progress = SILENT) -> Design:
    """Return `design` with its mend table, where a required check of struts or base fails.

    Where the brief leaves the inner braces open (``auto``) and another spacing of them is the
    least that passes, the design made with it is returned instead. A use that is refused, and a
    design that does not fail, come back as they are.
    """
    if verdict(design.judgement.checks) != "fails" or design.brief.project.use == "climbing":
        return design
    found: list[tuple[Mend, _Change]] = []
    struts, left_out = 0, []
    changes = list(_changes(design))
    for number, change in enumerate(changes):
        step(progress, "mend table", number / len(changes))
        if number >= TRIALS or struts >= STRUTS:
            left_out.append(change.words)
            continue
        mend, count = _tried(change, design)
        struts += count
        found.append((mend, change))
    step(progress, "mend table", 1.0)
    found.sort(key=lambda pair: _order(pair[0], design.kit.mass))
    best = next(((mend, change) for mend, change in found if mend.passes), None)
    table = tuple(mend for mend, _ in found)
    unpriced = _unpriced(design, table)
    if best and best[1].is_braces and _leaves_braces_open(design.brief):
        return _with_braces(best[1], table, progress)
    notes = (*design.notes, *_cut_short(left_out), *unpriced)
    return replace(design, mends=table, notes=notes)


def _order(mend: Mend, mass: float) -> tuple[bool, float]:
    """Sort what passes first, then by how much the mass changes."""
    return (not mend.passes, abs((mend.mass or 1e9) - mass))


def _with_braces(change: _Change, table: tuple[Mend, ...], progress: Progress) -> Design:
    design = run(change.brief, progress)
    said = note("braces-chosen", change=change.words)
    return replace(design, mends=table, notes=(*design.notes, said))


def _leaves_braces_open(brief: Brief) -> bool:
    return brief.shape is not None and brief.shape.inner_braces == "auto"


def _unpriced(design: Design, table: tuple[Mend, ...]) -> tuple[Note, ...]:
    changes = [mend.change for mend in table if mend.passes and mend.price is None]
    if not changes or not any(
        line.amount for line in design.price.lines if line.kind == "material"
    ):
        return ()
    return (note("mend-unpriced", changes=tuple(changes)),)


def _cut_short(left_out: list[str]) -> tuple[Note, ...]:
    if not left_out:
        return ()
    limits = {"trials": TRIALS, "struts": STRUTS}
    return (note("mend-cut-short", **limits, changes=tuple(left_out)),)


def _tried(change: _Change, design: Design) -> tuple[Mend, int]:
    """Return what a change does, from shape to checks, and the struts of its kit.

    What passes is priced, where its prices are known as those of `design` are.
    """
    try:
        shell = make_shell(change.brief)
        kit = make_kit(shell, change.brief)
        judged = judge(kit, change.brief, limits=False)
    except (InputError, ResultError) as error:
        return Mend(
            change.words, False, None, None, f"cannot be built: {error.problems[0].what}"
        ), 0
    fails = [c for c in judged.checks if c.required and c.status == "fail"]
    open_ = [c for c in judged.checks if c.required and c.code in _DEPENDS]
    worst = governing(judged.checks)
    words = "not known" if worst is None else f"{worst.code} at {worst.use}"
    unknown = [c for c in open_ if c.status == "not_checked"]
    if unknown:
        words += f"; not known: {unknown[0].note}"
    passes = not fails and not unknown
    price = price_instead(kit, change.brief, design) if passes else None
    return Mend(change.words, passes, kit.mass, price, words), len(shell.struts)


_DEPENDS: Final = (
    "joint-strength", "strut-resistance", "strut-eccentricity", "coupler-stiffness",
    "coupler-strength", "mechanism",
)  # fmt: skip
"""Checks whose absence leaves open whether a change helps."""


def _changes(design: Design) -> Iterator[_Change]:
    brief, shape = design.brief, design.brief.shape
    yield from _braces(brief, shape, design)
    yield from _stocks(design)
    if brief.site.base in {"ballast", "free"}:
        staked = replace(brief, site=replace(brief.site, base="staked"))
        yield _Change(sentence("mend.stake"), staked)
    yield from _frequencies(brief, shape)
    yield from _connectors(brief)
    yield from _smaller(brief)
    yield from _both(design)


def _both(design: Design) -> Iterator[_Change]:
    """Yield the finest division together with the stock of this kind that has most metal."""
    kind = design.kit.stock.material.kind
    alike = [one for one in map(stock, stock_ids()) if one.material.kind == kind]
    finer = list(_frequencies(design.brief, design.brief.shape))
    if not alike or not finer:
        return
    most = max(alike, key=lambda one: one.section.area)
    if most.section.area > design.kit.stock.section.area:
        made = _with_stock(finer[-1].brief, most)
        both = sentence("mend.both", first=finer[-1].words, second=made.words)
        yield replace(made, words=both)


def _braces(brief: Brief, shape: Shape | None, design: Design) -> Iterator[_Change]:
    if shape is None or design.shell.recipe.family != "long-dome":
        return
    for way in ("all", "none"):
        if shape.inner_braces != way:
            changed = replace(brief, shape=replace(shape, inner_braces=way))
            yield _Change(sentence(f"mend.braces-{way}"), changed, is_braces=True)


def _stocks(design: Design) -> Iterator[_Change]:
    """Yield the next two sizes of stock of the same material, by the strength of the section."""
    brief, used = design.brief, design.kit.stock
    section = used.section.modulus_z
    larger = [
        one
        for one in map(stock, stock_ids())
        if one.material.id == used.material.id and one.section.modulus_z > section * 1.01
    ]
    for one in sorted(larger, key=lambda s: s.section.modulus_z)[:2]:
        yield _with_stock(brief, one)


def _with_stock(brief: Brief, one: Stock) -> _Change:
    """Return `brief` in another stock: its ends are other ends, so that tests do not hold."""
    bars = tuple(Bar(bar.length, None, None) for bar in brief.struts.bars)
    struts = replace(brief.struts, stock=one.id, bars=bars)
    key = "mend.stock-tested" if end_tests_of(brief) else "mend.stock"
    changed = replace(brief, struts=struts, hubs=replace(brief.hubs, tests=(), test_file=None))
    return _Change(sentence(key, stock=one.name), changed)


def _frequencies(brief: Brief, shape: Shape | None) -> Iterator[_Change]:
    if shape is None or shape.division is None:
        return
    b, c = shape.division
    for more in (1, 2) if c == 0 else (1,):
        finer = (b + more, 0) if c == 0 else (b + more, c + more) if b == c else None
        if finer is not None:
            changed = replace(brief, shape=replace(shape, division=finer))
            new = {"b": finer[0], "c": finer[1]}
            yield _Change(sentence("mend.division", **new, old_b=b, old_c=c), changed)


def _connectors(brief: Brief) -> Iterator[_Change]:
    for name in CONNECTORS:
        if brief.hubs.connector != name:
            hubs = replace(brief.hubs, connector=name, tests=(), test_file=None)
            yield _Change(sentence("mend.connector", connector=name), replace(brief, hubs=hubs))


def _smaller(brief: Brief) -> Iterator[_Change]:
    size = brief.size
    if size.width is None:
        return
    lengths = {
        name: value * SMALLER
        for name in ("width", "length", "rise")
        if (value := getattr(size, name)) is not None
    }
    changed = replace(brief, size=replace(size, **lengths))
    yield _Change(sentence("mend.smaller", share=SMALLER), changed)
