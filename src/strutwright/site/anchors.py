"""What holds every base hub down: anchor, how many with one to spare, in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.catalogue import (
    Anchor,
    Soil,
    Source,
    anchor,
    anchor_ids,
    find_soil,
    soil_ids,
)
from strutwright.sentences import note, sentence
from strutwright.shape import Shell
from strutwright.site.anchor_values import AnchorPlan, Asked, HubAnchors, Option
from strutwright.site.holding import SCREW_DEPTH, Holding, NoHoldError, holding
from strutwright.site.staking import ground_ties, order_of
from strutwright.structure import Check, Subject
from strutwright.structure.standards.anchors import anchors_needed
from strutwright.values import Floats, Indices, Note

__all__ = ["plan_anchors"]

MOST: Final = 3
"""Anchors at a hub, the spare one included, beyond which the next kind is tried; our choice."""
FACTORED: Final = 1.5
"""Factored reactions are held against the working load times this: the factor on wind.

Source: EN 1990 Table A1.2(B), the factor on the leading variable action.
"""
ROCK_BAR: Final = "rock-bar-20x400"
"""Where rock lies higher than the anchor reaches."""
BLOCK: Final = 20.0
"""kg, a bag, block or can that one person carries; our choice."""
GRAVITY: Final = 9.80665
"""m/s2."""
CHOICES: Final = {
    "staked": ("rod-25x750", "stake-25x915", "tube-48x1200", "rock-bar-20x400"),
    "anchored": ("rock-bar-20x400", "helical-small", "anchor-hud", "footing-300x600"),
    "ballast": ("ballast-concrete",),
    "free": (),
}
"""Anchors tried for each kind of base, in order."""
WHERE: Final = Source("anchors for the reactions of all combinations", how="computed")


def plan_anchors(
    shell: Shell,
    ground: Indices,
    reactions: Floats,
    combinations: Sequence[tuple[str, str]],
    asked: Asked,
) -> AnchorPlan:
    """Return the anchors for the reactions of all combinations.

    Parameters
    ----------
    shell : Shell
    ground : (G,) int array
        Hubs that meet the ground.
    reactions : (N, G, 3) array, N
        Of the ground on each of them; below 0 in z where it has to hold the hub down.
    combinations : sequence of (str, str)
        Name and format (``factored`` or ``allowable``) of each.
    asked : Asked
    """
    order = order_of(shell, ground)
    ties = ground_ties(shell, ground, reactions)
    scale = np.array([1 / FACTORED if f == "factored" else 1.0 for _, f in combinations])
    working = reactions * scale[:, None, None]
    names = [name for name, _ in combinations]
    pull = _Pull(ground, working, names)
    if asked.base == "free":
        held = _free(pull)
    elif asked.base == "ballast":
        held = _ballasted(pull, asked)
    else:
        held = _anchored(pull, asked, find_soil(asked.soil))
    options = _options(pull, asked, held.hubs[0].anchor if held.hubs else "")
    return AnchorPlan(held.hubs, ground[order], ties, held.checks, held.notes, options)


@dataclass(frozen=True)
class _Pull:
    """Working reactions (N, G, 3) on the hubs (G,) by combination."""

    ground: Indices
    working: Floats
    names: Sequence[str]


@dataclass(frozen=True)
class _Held:
    hubs: tuple[HubAnchors, ...]
    checks: tuple[Check, ...]
    notes: tuple[Note, ...] = ()


def _unheld(why: str) -> _Held:
    missing = Check.not_made("base-anchors", Subject("shell"), why, WHERE)
    return _Held((), (missing,))


def _anchored(pull: _Pull, asked: Asked, soil: Soil | None) -> _Held:
    if soil is None:
        given = "the brief names no soil" if asked.soil is None else f"no soil {asked.soil!r} known"
        return _unheld(
            f"{given}: what an anchor holds cannot be said; known are {', '.join(soil_ids())}"
        )
    refusals: list[Note] = []
    held: list[tuple[Anchor, Holding]] = []
    for name in CHOICES[asked.base]:
        item = anchor(name)
        try:
            held.append((item, holding(item, soil, asked.pull_test)))
        except NoHoldError as reason:
            refusals.append(note("anchor-refused", item=item.name, why=reason.args[0]))
    if not held:
        said = tuple(one.text for one in refusals)
        why = sentence("anchors-none", base=asked.base, soil=soil.name, refusals=said)
        return _unheld(why)
    item, hold = _choice(held, pull.working)
    drilled = _drilled(asked, item, len(pull.ground))
    bar = anchor(ROCK_BAR)
    rock = find_soil("rock")
    in_rock = holding(bar, rock) if rock and item.id != bar.id else hold  # another was pulled
    rows = tuple(
        _hub(int(hub), pull.working[:, k], pull.names, *((bar, in_rock) if bare else (item, hold)))
        for k, (hub, bare) in enumerate(zip(pull.ground.tolist(), drilled.tolist(), strict=True))
    )
    holds = {item.id: hold, bar.id: in_rock}
    notes = [note("anchor-chosen", item=item.name, soil=soil.name, why=hold.words)]
    if drilled.any():
        stand = {"hubs": tuple(pull.ground[drilled].tolist()), "item": item.name}
        notes.append(note("anchor-rock", **stand, bar=bar.name, why=in_rock.words))
    notes += refusals
    most = max(row.quantity for row in rows)
    if most > MOST:
        notes.append(note("anchor-many", most=most))
    if asked.pull_test is not None:
        notes.append(note("anchor-pull-test", pull=asked.pull_test, item=item.name))
    notes += _frost(item, asked.frost)
    return _Held(rows, tuple(_check(row, holds[row.anchor].source) for row in rows), tuple(notes))


def _frost(item: Anchor, frost: float | None) -> list[Note]:
    """Return what frost asks of `item`; nothing of a bar in rock."""
    if not frost or item.kind == "rock":
        return []
    if item.length is None:
        return [note("anchor-frost.plate", frost=frost)]
    if item.length < frost:
        return [note("anchor-frost.short", frost=frost, length=item.length)]
    return []


def _drilled(asked: Asked, item: Anchor, n: int) -> NDArray[np.bool_]:
    """Return (n,) whether rock lies higher than `item` reaches, so that a bar is drilled in."""
    if asked.rock is None or item.kind == "rock":
        return np.zeros(n, dtype=bool)
    drilled: NDArray[np.bool_] = asked.rock < (item.length or SCREW_DEPTH)
    return drilled


def _options(pull: _Pull, asked: Asked, chosen: str) -> tuple[Option, ...]:
    """Return what every anchor of the catalogue would do here; a pull test is of the chosen one."""
    soil = find_soil(asked.soil)
    options: list[Option] = []
    if soil is None:
        return ()
    for name in anchor_ids():
        item = anchor(name)
        if item.kind == "ballast":
            continue
        try:
            hold = holding(item, soil, asked.pull_test if name == chosen else None)
        except NoHoldError as reason:
            options.append(Option(name, 0.0, 0.0, 0.0, None, str(reason)))
            continue
        most = max(_needed(pull.working[:, k], hold)[0] for k in range(len(pull.ground)))
        options.append(Option(name, hold.upward, hold.side, hold.safety, most, ""))
    return tuple(options)


def _choice(held: Sequence[tuple[Anchor, Holding]], working: Floats) -> tuple[Anchor, Holding]:
    """Return the first anchor of which few are enough everywhere, else that with the fewest."""
    most = [
        max(_needed(working[:, k], hold)[0] for k in range(working.shape[1])) for _, hold in held
    ]
    few = [k for k, count in enumerate(most) if count <= MOST]
    return held[few[0] if few else int(np.argmin(most))]


def _needed(reactions: Floats, hold: Holding) -> tuple[int, float, int]:
    """Return how many anchors a hub needs, the pull on them (N) and its combination."""
    pull = hold.pull(-reactions[:, 2], np.hypot(reactions[:, 0], reactions[:, 1]))
    at = int(np.argmax(pull))
    worst = float(pull[at])
    return max(anchors_needed(max(worst, 0.0), hold.working), 1), worst, at


def _hub(
    hub: int, reactions: Floats, names: Sequence[str], item: Anchor, hold: Holding
) -> HubAnchors:
    count, demand, at = _needed(reactions, hold)
    counted = max(count - 1, 1)
    torque = None
    if hold.torque_factor is not None and demand > 0:
        torque = demand / counted * hold.safety / hold.torque_factor
    return HubAnchors(
        hub,
        max(float(-reactions[:, 2].min()), 0.0),
        float(np.hypot(reactions[:, 0], reactions[:, 1]).max()),
        names[at],
        max(demand, 0.0),
        counted * hold.working,
        item.id,
        count,
        torque,
    )


def _ballasted(pull: _Pull, asked: Asked) -> _Held:
    """Return the ballast on every hub, as the structure asks for it, in pieces.

    What is laid by the brief is judged by `base-contact`, with all that it lets lift and slide.
    """
    if asked.weight is None:
        return _unheld(sentence("anchors-no-weight"))
    item, laid = anchor(CHOICES["ballast"][0]), asked.weight.laid
    rows = []
    for k, hub in enumerate(pull.ground.tolist()):
        needed, working = float(asked.weight.needed[k]), pull.working[:, k]
        pieces = int(np.ceil((needed if laid is None else laid) / (BLOCK * GRAVITY) - 1e-9))
        up, side = -working[:, 2], np.hypot(working[:, 0], working[:, 1])
        rows.append(
            HubAnchors(
                hub, max(float(up.max()), 0.0), float(side.max()), asked.weight.combinations[k],
                needed, pieces * BLOCK * GRAVITY if laid is None else laid, item.id, pieces,
            )
        )  # fmt: skip
    pieces_note = note("ballast-pieces", piece=BLOCK)
    found = _Held(tuple(rows), (), (pieces_note,))
    if laid is not None:
        return replace(found, checks=(_by_contact(rows),))
    return replace(found, checks=tuple(_check(row, "weight on friction") for row in rows))


def _by_contact(rows: Sequence[HubAnchors]) -> Check:
    most = max(row.demand for row in rows) / GRAVITY
    why = sentence("anchors-by-contact", most=most)
    return Check.not_made("base-anchors", Subject("shell"), why, WHERE, required=False)


def _free(pull: _Pull) -> _Held:
    """Return the check of a base that nothing holds: it must not lift anywhere."""
    up = -pull.working[..., 2]
    n, k = np.unravel_index(int(np.argmax(up)), up.shape)
    lift = max(float(up[n, k]), 0.0)
    check = Check.made(
        "base-anchors",
        Subject("base hub", int(pull.ground[k])),
        lift,
        0.0 if lift else 1.0,
        unit="N",
        source=WHERE,
        combination=pull.names[int(n)],
        note="a free base holds nothing down: stake it, anchor it or ballast it",
    )
    return _Held((), (check,))


def _check(row: HubAnchors, source: Source | str) -> Check:
    where = Source(source, how="computed") if isinstance(source, str) else source
    return Check.made(
        "base-anchors",
        Subject("base hub", row.hub),
        row.demand,
        max(row.capacity, 1e-9) if row.demand else 1.0,
        unit="N",
        source=where,
        combination=row.combination,
        note=_said(row),
    )


def _said(row: HubAnchors) -> str:
    if not row.quantity:
        return ""
    if anchor(row.anchor).kind == "ballast":
        return f"{row.quantity} pieces of {BLOCK:g} kg"
    return f"{row.quantity} of {row.anchor}" + (", one to spare" if row.quantity > 1 else "")
