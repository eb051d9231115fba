"""Which answer that a brief leaves open matters most: each is tried within what is plausible.

Nothing is ranked beforehand: every default that stands in for an answer is changed to values that
another site or customer could well give, the kit is judged again, and the answer that turns the
verdict, or moves the worst use most, is what to ask next.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final

from strutwright.brief import Brief
from strutwright.catalogue import stock, stock_ids
from strutwright.design import Design
from strutwright.errors import InputError, ResultError
from strutwright.parts import make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.structure import governing, verdict
from strutwright.structure.judge import judge

__all__ = ["ask_next"]

LONGEST: Final = 40.0
"""Seconds after which no further answer is tried; our choice."""
LITTLE: Final = 0.05
"""Change of the worst use, as a share, below which an answer does not matter; our choice."""
HUNG: Final = 500.0
"""N that a customer may well hang at one hub: half a dozen full baskets; our choice."""
COVER: Final = "pe-film-180"
_EXPOSURES: Final = {"en": ("I", "IV"), "asce": ("B", "D")}
_CLASSES: Final = {"en": ("CC1", "CC2", "CC3"), "asce": ("I", "II", "III", "IV")}
_WORDS: Final = {"passes": "passes", "fails": "fails", "not checked": "cannot be checked"}
Answer = dict[str, Any]


@dataclass(frozen=True)
class _Open:
    """An answer that is missing, what stands in its place, and what it could be instead."""

    key: str
    question: str
    now: str
    tries: tuple[tuple[str, Brief], ...]
    is_of_parts: bool = False


@dataclass(frozen=True)
class _Outcome:
    """What was found with one answer."""

    words: str
    verdict: str
    used: float

    def said(self) -> str:
        """Return the outcome in a few words."""
        used = "without any capacity" if math.isinf(self.used) else f"{self.used:.2f}"
        return f"{self.words}: {_WORDS[self.verdict]}, worst use {used}"


def ask_next(design: Design, progress: Progress = SILENT) -> Answer:
    """Return the open answer of `design` that matters most: ``key`` and ``text`` for a reader.

    ``key`` is empty where nothing that is left open matters, or too little is known to tell.
    """
    told = {note.code for note in design.brief.notes}
    if told & {"site-no-snow", "site-no-wind"}:
        missing = "site.ground_snow" if "site-no-snow" in told else "site.basic_wind"
        text = "How much snow lies on the ground there, and how strong is the wind? Without both "
        return {"key": missing, "text": f"{text}nothing can be checked against them."}
    if design.brief.site.soil is None and _is_unmade(design, "base-anchors"):
        text = "What is the soil? Without it nobody can say what holds the base, and no verdict is "
        return {"key": "site.soil", "text": f"{text}given."}
    left = list(_open(design, told))
    if not left:
        return {"key": "", "text": "The brief answers all that could change the verdict."}
    return _weighed(design, left, progress)


def _is_unmade(design: Design, code: str) -> bool:
    return any(
        one.code == code and one.required and one.status == "not_checked" for one in design.checks
    )


def _weighed(design: Design, left: list[_Open], progress: Progress) -> Answer:
    begun = time.monotonic()
    found: list[tuple[float, _Open, list[_Outcome]]] = []
    now = _outcome(design.brief, design, "now", is_of_parts=False)
    if now is None:
        return {"key": "", "text": "What matters most cannot be told: nothing governs yet."}
    for number, one in enumerate(left):
        step(progress, "what to ask next", number / len(left))
        if time.monotonic() - begun > LONGEST:
            break
        outcomes = [
            outcome
            for words, brief in one.tries
            if (outcome := _outcome(brief, design, words, is_of_parts=one.is_of_parts))
            and (outcome.verdict != "not checked" or now.verdict == "not checked")
        ]
        found.append((_weight(now, outcomes), one, outcomes))
    part = "" if len(found) == len(left) else f" (tried {len(found)} of {len(left)} open answers)"
    weight, most, outcomes = max(found, key=lambda one: one[0])
    if weight < LITTLE:
        text = "No open answer moves the worst use by more than 5 %"
        return {"key": "", "text": f"{text}{part}."}
    said = "; ".join(outcome.said() for outcome in (replace(now, words=most.now), *outcomes))
    return {"key": most.key, "text": f"{most.question} {said}{part}."}


def _weight(now: _Outcome, outcomes: list[_Outcome]) -> float:
    """Return how far the answers lie apart; a verdict that turns outweighs any number."""

    def moved(one: _Outcome) -> float:
        turned = 1000.0 if one.verdict != now.verdict else 0.0
        if math.isinf(one.used) or math.isinf(now.used):
            return turned + (0.0 if one.used == now.used else 100.0)
        return turned + abs(math.log(max(one.used, 1e-6) / max(now.used, 1e-6)))

    return max((moved(one) for one in outcomes), default=0.0)


def _outcome(brief: Brief, design: Design, words: str, *, is_of_parts: bool) -> _Outcome | None:
    try:
        kit = make_kit(design.shell, brief) if is_of_parts else design.kit
        checks = judge(kit, brief, limits=False).checks
    except (InputError, ResultError):
        return None  # it cannot be built so: no plausible answer
    check = governing(checks)
    if check is None or check.utilisation is None:
        return None
    return _Outcome(words, verdict(checks), check.utilisation)


def _open(design: Design, told: set[str]) -> Iterator[_Open]:
    brief = design.brief
    site, family = brief.site, "en" if brief.site.standard == "en" else "asce"

    def at_site(**values: object) -> Brief:
        return replace(brief, site=replace(site, **values))  # type: ignore[arg-type]

    if "assumed-exposure" in told:
        tries = tuple((e, at_site(exposure=e)) for e in _EXPOSURES[family] if e != site.exposure)
        yield _Open("site.exposure", "How open is the land around?", site.exposure, tries)
    if "assumed-consequence" in told:
        known = _CLASSES[family]
        at = known.index(site.consequence)
        tries = tuple(
            (known[k], at_site(consequence=known[k]))
            for k in (at - 1, at + 1)
            if 0 <= k < len(known)
        )
        question = "How bad would a collapse be?"
        yield _Open("site.consequence", question, site.consequence, tries)
    if "assumed-base" in told:
        tries = tuple((b, at_site(base=b)) for b in ("staked", "ballast") if b != site.base)
        yield _Open("site.base", "How is it held to the ground?", site.base, tries)
    if "assumed-temperature" in told:
        low, high = site.temperature
        wider = at_site(temperature=(low - 10.0, high + 15.0))
        question = "How cold and how warm does the frame get?"
        yield _Open(
            "site.temperature", question, "as usual", (("10 K colder, 15 K warmer", wider),)
        )
    yield from _open_loads(brief, told)
    yield from _open_parts(design, told)


def _open_loads(brief: Brief, told: set[str]) -> Iterator[_Open]:
    if "assumed-hung-load" in told:
        hung = brief.loads.hung
        more = max(HUNG, 2 * hung)
        tried = ((f"{more:.0f} N", replace(brief, loads=replace(brief.loads, hung=more))),)
        yield _Open("loads.hung", "What will hang from a hub?", f"{hung:.0f} N", tried)
    if "assumed-no-cover" in told:
        film = replace(brief, cover=replace(brief.cover, material=COVER))
        yield _Open("cover.material", "Will it be covered?", "bare", (("with film", film),))


def _open_parts(design: Design, told: set[str]) -> Iterator[_Open]:
    brief, held = design.brief, design.kit.stock
    if "assumed-stock" in told:
        kin = (stock(one) for one in stock_ids())
        kin = (one for one in kin if one.material.id == held.material.id and one.id != held.id)
        sizes = sorted(kin, key=lambda one: abs(one.mass - held.mass))[:2]
        tries = tuple(
            (one.name, replace(brief, struts=replace(brief.struts, stock=one.id))) for one in sizes
        )
        question = "What tube or timber can be had?"
        yield _Open("struts.stock", question, held.name, tries, is_of_parts=True)
    if "assumed-connector" in told:
        others = [one for one in ("socket-pin", "plate-bolt") if one != brief.hubs.connector]
        tries = tuple(
            (one, replace(brief, hubs=replace(brief.hubs, connector=one))) for one in others
        )
        now = design.kit.connector.name
        yield _Open("hubs.connector", "How are struts joined?", now, tries, is_of_parts=True)
