"""What holds every base hub down: anchor, how many with one to spare, in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Anchor, Soil, Source, anchor, find_soil, soil_ids
from strutwright.shape import Shell
from strutwright.site.holding import Holding, NoHoldError, holding
from strutwright.structure import Check, Subject
from strutwright.structure.standards.anchors import BALLAST_SHARE, anchors_needed
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["AnchorPlan", "Asked", "GroundTie", "HubAnchors", "plan_anchors", "staking_order"]

MOST: Final = 3
"""Anchors at a hub, the spare one included, beyond which the next kind is tried; our choice."""
FACTORED: Final = 1.5
"""Factored reactions are held against the working load times this: the factor on wind.

Source: EN 1990 Table A1.2(B), the factor on the leading variable action.
"""
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


@dataclass(frozen=True)
class Asked:
    """What the brief says of the ground.

    Parameters
    ----------
    base : str
        ``staked``, ``anchored``, ``ballast`` or ``free``.
    soil : str or None
    pull_test : float or None, N
        What an anchor held on the site.
    frost : float or None, m
        Depth that the ground freezes to.
    family : str
        Standards of the site: ``en`` or ``us``.
    """

    base: str
    soil: str | None
    pull_test: float | None
    frost: float | None
    family: str


@dataclass(frozen=True)
class HubAnchors:
    """What holds one base hub.

    Parameters
    ----------
    hub : int
    uplift, horizontal : float, N
        Largest, each over all combinations; not of the same one.
    combination : str
        That asks for most.
    demand, capacity : float, N
        On the anchors in the direction they are pulled, and what those that count hold: one
        is left out as missing.
    anchor : str
        Catalogue id.
    quantity : int
        The spare one included; of ballast the number of pieces of 20 kg.
    torque : float or None, Nm
        To be reached when a screw anchor goes in.
    """

    hub: int
    uplift: float
    horizontal: float
    combination: str
    demand: float
    capacity: float
    anchor: str
    quantity: int
    torque: float | None = None


@dataclass(frozen=True)
class GroundTie:
    """A tie on the ground between two base hubs across the width, and its force, N."""

    i: int
    j: int
    force: float


@dataclass(frozen=True, eq=False)
class AnchorPlan(ArrayValue):
    """What holds a shell down.

    Parameters
    ----------
    hubs : tuple of HubAnchors
        Every hub that meets the ground; empty where nothing could be chosen.
    order : (G,) int array
        In which the hubs are staked.
    ties : tuple of GroundTie
        That would hold the base together across the width of a long shell in place of the
        side load on its anchors.
    checks : tuple of Check
    notes : tuple of Note
    """

    hubs: tuple[HubAnchors, ...]
    order: Indices
    ties: tuple[GroundTie, ...]
    checks: tuple[Check, ...]
    notes: tuple[Note, ...]


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
    order = staking_order(len(ground))
    ties = _ties(shell, ground, reactions)
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
    return AnchorPlan(held.hubs, ground[order], ties, held.checks, held.notes)


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


def staking_order(n: int) -> Indices:
    """Return the order in which `n` hubs round a base are staked: opposite ones in turn.

    Two opposite hubs, then those square to them, then the rest in opposite pairs: each pair
    holds the shell against what the last one let it do.
    """
    half = n // 2
    pairs = [k for k in (0, half // 2) if k < max(half, 1)]
    pairs += [k for k in range(half) if k not in pairs]
    order = [k for first in pairs for k in (first, first + half)]
    return np.array([*order, *sorted(set(range(n)) - set(order))], dtype=np.int64)


def _anchored(pull: _Pull, asked: Asked, soil: Soil | None) -> _Held:
    if soil is None:
        given = "the brief names no soil" if asked.soil is None else f"no soil {asked.soil!r} known"
        return _unheld(
            f"{given}: what an anchor holds cannot be said; known are {', '.join(soil_ids())}"
        )
    refusals: list[str] = []
    held: list[tuple[Anchor, Holding]] = []
    for name in CHOICES[asked.base]:
        item = anchor(name)
        try:
            held.append((item, holding(item, soil, asked.pull_test)))
        except NoHoldError as reason:
            refusals.append(f"{item.name}: {reason}")
    if not held:
        why = f"nothing holds on a {asked.base} base in {soil.name}: " + "; ".join(refusals)
        return _unheld(why)
    item, hold = _choice(held, pull.working)
    rows = tuple(
        _hub(int(hub), pull.working[:, k], pull.names, item, hold)
        for k, hub in enumerate(pull.ground.tolist())
    )
    notes = [Note("anchor-chosen", f"{item.name} in {soil.name}: {hold.words}")]
    notes += [Note("anchor-refused", text) for text in refusals]
    most = max(row.quantity for row in rows)
    if most > MOST:
        text = (
            f"up to {most} anchors at a hub: stronger ones are better, such as screw anchors "
            '(base = "anchored")'
        )
        notes.append(Note("anchor-many", text))
    if asked.pull_test is not None:
        text = f"a pull test on the site of {asked.pull_test / 1000:.2f} kN replaces the estimate"
        notes.append(Note("anchor-pull-test", text))
    if asked.frost and item.length is not None and item.length < asked.frost:
        text = (
            f"the ground freezes to {asked.frost:.2f} m, the anchor reaches {item.length:.2f} m: "
            "frost can lift it; go deeper, or look at it and drive it again every spring"
        )
        notes.append(Note("anchor-frost", text))
    return _Held(rows, tuple(_check(row, hold.source) for row in rows), tuple(notes))


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
    item = anchor(CHOICES["ballast"][0])
    friction = item.friction or 0.0
    share = BALLAST_SHARE["en" if asked.family == "en" else "asce"]
    rows = []
    for k, hub in enumerate(pull.ground.tolist()):
        working = pull.working[:, k]
        side = np.hypot(working[:, 0], working[:, 1])
        # the ballast presses, the ground presses back, and friction takes the side load
        weight = np.maximum(side / friction - working[:, 2], 0.0) / share
        at = int(np.argmax(weight))
        pieces = int(np.ceil(float(weight[at]) / (BLOCK * GRAVITY) - 1e-9))
        rows.append(
            HubAnchors(
                hub,
                max(float(-working[:, 2].min()), 0.0),
                float(side.max()),
                pull.names[at],
                float(weight[at]) * share,
                pieces * BLOCK * GRAVITY * share,
                item.id,
                pieces,
            )
        )
    checks = tuple(_check(row, "weight times its share in the standard") for row in rows)
    text = f"ballast in pieces of {BLOCK:g} kg, tied to the hub, not only laid beside it"
    return _Held(tuple(rows), checks, (Note("ballast-pieces", text),))


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
        note=f"{row.quantity} of {row.anchor}, one of them to spare" if row.quantity else "",
    )


def _ties(shell: Shell, ground: Indices, reactions: Floats) -> tuple[GroundTie, ...]:
    """Return the ties across a long shell that would take the spread of facing hubs."""
    at = shell.hubs[ground, :2]
    width = float(np.ptp(at[:, 1]))
    if shell.recipe.family == "dome":
        return ()
    ties = []
    for i in np.flatnonzero(at[:, 1] > 0.05 * width).tolist():
        facing = np.flatnonzero(np.linalg.norm(at - at[i] * [1, -1], axis=1) < 1e-6 * width)
        for j in facing.tolist():
            # the ground pushes both inwards: that is what a tie would pull
            inward = np.minimum(-reactions[:, i, 1], reactions[:, j, 1])
            force = float(inward.max())
            if force > 0:
                ties.append(GroundTie(int(ground[i]), int(ground[j]), force))
    return tuple(ties)
