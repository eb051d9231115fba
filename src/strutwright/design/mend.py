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
from strutwright.sentences import Sentence, note, sentence
from strutwright.shape import make_shell
from strutwright.shape.braces import middle_rows
from strutwright.structure import Check, governing, verdict
from strutwright.structure.check import Verdict
from strutwright.structure.judge import judge
from strutwright.structure.mended import Mend
from strutwright.values import Note

__all__ = ["mended"]

TRIALS: Final = 12
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
    is_last: bool = False
    """Tried only where nothing before it passes."""
    estimate: str = ""
    """What the price of its bars rests on, where the brief does not give it."""


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
        if change.is_last and any(mend.passes for mend, _ in found):
            continue
        if number >= TRIALS or struts >= STRUTS:
            left_out.append(change.words)
            continue
        mend, count = _tried(change, design)
        struts += count
        found.append((mend, change))
    step(progress, "mend table", 1.0)
    found.sort(key=lambda pair: _order(pair[0], design.kit.mass))
    unpriced = _unpriced(design, [mend for mend, _ in found])
    best = next(((mend, change) for mend, change in found if mend.passes), None)
    table = tuple(mend for mend, _ in found)
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


def _unpriced(design: Design, table: list[Mend]) -> tuple[Note, ...]:
    without = [mend for mend in table if mend.mass is not None and mend.price is None]
    if not without or not any(
        line.amount for line in design.price.lines if line.kind == "material"
    ):
        return ()
    told = tuple(
        sentence("mend.without-price", change=mend.change, what=mend.price_says) for mend in without
    )
    return (note("mend-unpriced", changes=told),)


def _cut_short(left_out: list[str]) -> tuple[Note, ...]:
    if not left_out:
        return ()
    limits = {"trials": TRIALS, "struts": STRUTS}
    return (note("mend-cut-short", **limits, changes=tuple(left_out)),)


def _tried(change: _Change, design: Design) -> tuple[Mend, int]:
    """Return what a change does, from shape to checks and price, and the struts of its kit."""
    try:
        shell = make_shell(change.brief)
        kit = make_kit(shell, change.brief)
        judged = judge(kit, change.brief, limits=False)
    except (InputError, ResultError) as error:
        why = sentence("mend.cannot", why=error.problems[0].what)
        return Mend(change.words, "fails", None, None, why), 0
    fails = [c for c in judged.checks if c.required and c.status == "fail"]
    open_ = [c for c in judged.checks if c.required and c.code in _DEPENDS]
    worst = governing(judged.checks)
    words = sentence("mend.no-worst") if worst is None else _used(worst)
    unknown = [c for c in open_ if c.status == "not_checked"]
    if unknown:
        words = sentence("mend.open", worst=words, why=unknown[0].note)
    says: Verdict = "fails" if fails else "not checked" if unknown else "passes"
    price, unpriced = price_instead(kit, change.brief, design)
    rests_on = unpriced if price is None else change.estimate
    return Mend(change.words, says, kit.mass, price, words, rests_on), len(shell.struts)


def _used(worst: Check) -> Sentence:
    return sentence("mend.worst", code=worst.code, use=worst.use)


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
    """Yield the finest division together with the next stocks, then with heavier ones."""
    used = design.kit.stock
    alike = [one for one in map(stock, stock_ids()) if one.material.kind == used.material.kind]
    finer = list(_frequencies(design.brief, design.brief.shape))
    if not alike or not finer:
        return
    for one in _larger(design):
        yield _finer_in(finer[-1], one, used)
    tried = max(_larger(design), key=lambda one: one.section.modulus_z, default=used)
    more = [one for one in alike if one.section.modulus_z > 1.01 * tried.section.modulus_z]
    more.sort(key=lambda one: one.mass)
    middle, last = more[len(more) // 2 : -1][:1], more[-1:]
    for one in (*middle, *last):
        yield replace(_finer_in(finer[-1], one, used), is_last=True)


def _finer_in(finer: _Change, one: Stock, used: Stock) -> _Change:
    """Return the change `finer` in the stock `one` as well."""
    made = _with_stock(finer.brief, one, used)
    return replace(made, words=sentence("mend.both", first=finer.words, second=made.words))


def _braces(brief: Brief, shape: Shape | None, design: Design) -> Iterator[_Change]:
    if shape is None or design.shell.recipe.family != "long-dome":
        return
    ways: dict[str, str | tuple[int, ...]] = {
        "all": "all", "none": "none", "middle": middle_rows(design.shell),
    }  # fmt: skip
    for key, way in ways.items():
        if shape.inner_braces != way:
            changed = replace(brief, shape=replace(shape, inner_braces=way))
            yield _Change(sentence(f"mend.braces-{key}"), changed, is_braces=True)


def _stocks(design: Design) -> Iterator[_Change]:
    for one in _larger(design):
        yield _with_stock(design.brief, one, design.kit.stock)


def _larger(design: Design) -> list[Stock]:
    """Return the next two sizes of stock of the same material, by the strength of the section."""
    used = design.kit.stock
    section = used.section.modulus_z
    larger = [
        one
        for one in map(stock, stock_ids())
        if one.material.id == used.material.id and one.section.modulus_z > section * 1.01
    ]
    return sorted(larger, key=lambda s: s.section.modulus_z)[:2]


def _with_stock(brief: Brief, one: Stock, used: Stock) -> _Change:
    """Return `brief` in another stock: its ends are other ends, so that tests do not hold.

    Its bars have no price in the brief: that of a kilogram of the bars `used` is taken.
    """
    share = one.mass / used.mass
    bars = tuple(
        Bar(bar.length, None if bar.price is None else bar.price * share, None)
        for bar in brief.struts.bars
    )
    priced = any(bar.price is not None for bar in bars)
    struts = replace(brief.struts, stock=one.id, bars=bars)
    key = "mend.stock-tested" if end_tests_of(brief) else "mend.stock"
    changed = replace(brief, struts=struts, hubs=replace(brief.hubs, tests=(), test_file=None))
    says = sentence("mend.estimate") if priced else ""
    return _Change(sentence(key, stock=one.name), changed, estimate=says)


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
