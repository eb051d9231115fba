"""Stages of the four ways to build."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from strutwright.progress import step as report
from strutwright.sequence.close import give, slack_of
from strutwright.sequence.effort import lift_limit
from strutwright.sequence.group import MOST_STRUT_TYPES, group
from strutwright.sequence.order import Placement, course_order, few_types, with_feet
from strutwright.sequence.values import Prop, Stage, StageKind, Step
from strutwright.sequence.yard import (
    Yard,
    add_stands,
    place,
    prop_up,
    renamed,
    take_props_away,
    tell,
)
from strutwright.values import Indices

__all__ = ["crown_first", "flat_courses", "halves", "in_place"]

MOST_STARTS: Final = 12
"""Hubs from which the order round a course is tried, in both directions."""
LOOSEST: Final = 0.98
"""Share of the largest give that counts as loosest: equal ones differ by rounding."""

Half = Literal["", "first", "second"]


def in_place(yard: Yard) -> list[Stage]:
    """Return the stages from the ground up, each hub put where it stays."""
    return _stages(yard, _courses(yard, range(len(yard.kit.shell.hubs))), "")


def halves(yard: Yard) -> list[Stage]:
    """Return the stages of one half of a long shell, then of the other, each from the ground up.

    The base ring is laid whole: it is what both halves are measured against.
    """
    x = yard.kit.shell.hubs[:, 0]
    course = yard.kit.shell.course
    whole = _courses(yard, range(len(x)))
    stages = [_stage(yard, hubs, "") for hubs in whole if course[hubs[0]] <= 0]
    near = 1e-6 * yard.kit.shell.size
    parts: tuple[tuple[Half, Indices], ...] = (
        ("first", np.flatnonzero((x <= near) & (course > 0))),
        ("second", np.flatnonzero((x > near) & (course > 0))),
    )
    left: list[int] = []
    for half, part in parts:
        rows = _courses(yard, [*part.tolist(), *left])
        stages += _stages(yard, rows, half)
        left = sorted({hub for row in rows for hub in row} - set(yard.hubs))
    return stages


def _stages(
    yard: Yard, rows: Sequence[Sequence[int]], half: Half, *, flat: bool = False
) -> list[Stage]:
    """Return a stage for each row of hubs; a hub that nothing reaches yet comes with the next."""
    stages = []
    waiting: list[int] = []
    for row in rows:
        hubs = _reached(yard, [*row, *waiting])
        waiting = [hub for hub in (*row, *waiting) if hub not in set(hubs)]
        if hubs:
            on_ground = yard.kit.shell.course[hubs[0]] <= 0
            stages.append(_stage(yard, hubs, half, flat=flat and not on_ground))
    return stages


def _reached(yard: Yard, hubs: Sequence[int]) -> list[int]:
    """Return those `hubs` that rest on the ground, or that struts join to what stands."""
    there = set(yard.hubs)
    left = list(hubs)
    found = {hub for hub in left if hub in yard.ground}
    if yard.kit.shell.course[list(hubs)].min() <= 0:
        return left
    while True:
        joined = there | found
        near = [
            hub
            for hub in left
            if hub not in found and any(other in joined for other, _ in yard.net.neighbours[hub])
        ]
        if not near:
            return [hub for hub in left if hub in found]
        found.update(near)


def flat_courses(yard: Yard) -> list[Stage]:
    """Return the stages of courses laid out flat beside the shell, joined, then raised."""
    rows = _courses(yard, range(len(yard.kit.shell.hubs)))
    return _stages(yard, rows, "", flat=True)


def crown_first(yard: Yard) -> list[Stage]:
    """Return the stages from the crown down: built on the ground, lifted, the next course under.

    What is lifted stands on a stand with two guys under each of its lowest hubs until the course
    below carries it.
    """
    courses = _courses(yard, range(len(yard.kit.shell.hubs)))[::-1]
    first = [*courses[1], *courses[0]] if len(courses) > 1 else courses[0]
    ring = courses[1] if len(courses) > 1 else courses[0]
    heights = yard.kit.shell.hubs[:, 2]
    kept_ground, floor = yard.ground, yard.floor
    yard.ground, yard.floor = set(ring), float(heights[ring].min())
    stages = [_stage(yard, first, "", kind="crown")]
    for above, hubs in pairwise([ring, *courses[2:]]):
        low = float(heights[hubs].min())
        yard.ground, yard.floor = set(), low
        lift = _lift(yard, above)
        last = hubs is courses[-1]
        yard.ground = kept_ground if last else set(hubs)
        stage = _stage(yard, hubs, "", before=(lift,))
        stages.append(stage)
    yard.ground, yard.floor = kept_ground, floor
    return stages


def _lift(yard: Yard, ring: Sequence[int]) -> Step:
    """Lift all that is built until the next course fits under it, and put stands there."""
    gone = tuple(yard.standing)
    yard.standing, yard.rigid = [], set()
    stands = add_stands(yard, ring)
    tried = yard.tried(ring, exact=True)
    mass = min(yard.mass, 4 * lift_limit(4))
    return tell(yard, (), (), action="lift", props=stands, removed=gone, tried=tried, mass=mass)


def _courses(yard: Yard, hubs: Iterable[int]) -> list[list[int]]:
    """Return the hubs by course from the ground up; the feet of legs come with the base ring."""
    course = yard.kit.shell.course
    rows: dict[int, list[int]] = {}
    for hub in hubs:
        rows.setdefault(int(course[hub]), []).append(int(hub))
    if 0 in rows:
        rows.pop(-1, None)
    order = sorted(rows)
    return [rows[key] for key in order]


def _stage(
    yard: Yard,
    hubs: Sequence[int],
    half: Half,
    *,
    flat: bool = False,
    kind: StageKind | None = None,
    before: Sequence[Step] = (),
) -> Stage:
    """Put up the hubs of one course and return its stage."""
    shell = yard.kit.shell
    report(yard.progress, "sequence", yard.share)
    course = int(shell.course[list(hubs)].min()) if kind == "crown" else int(shell.course[hubs[0]])
    order = _best_order(yard, hubs)
    has_feet = course == 0 and bool((shell.course < 0).any())
    steps = [*before, *(_flat_steps(yard, order) if flat else _standing_steps(yard, order))]
    steps += _braces(yard)
    gone = take_props_away(yard, hubs)
    if gone:
        tried = yard.tried(hubs, exact=True)
        steps.append(tell(yard, (), (), action="unprop", removed=gone, tried=tried))
    yard.stiffen()
    name: StageKind = kind or ("legs" if has_feet else "course" if course else "base")
    if name == "course" and course == int(shell.course.max()):
        name = "crown"
    return Stage(name, course, tuple(steps), half)


def _best_order(yard: Yard, hubs: Sequence[int]) -> list[Placement]:
    """Return the order round a course that leaves the loosest strut for last in fewest steps."""
    all_hubs = np.array(list(hubs), dtype=np.int64)
    grounded = set(hubs) <= yard.ground
    starts = all_hubs[:: max(1, -(-len(all_hubs) // MOST_STARTS))].tolist()
    closing = _give_of_course(yard, hubs)
    has_feet = bool(
        (yard.kit.shell.course[all_hubs] == 0).any() & (yard.kit.shell.course < 0).any()
    )
    found: list[tuple[float, float, list[Placement]]] = []
    for start in starts:
        for turn in (1, -1):
            order = course_order(
                yard.net, all_hubs, yard.hubs, start=start, turn=turn, on_ground=grounded
            )
            loosest = max((closing.get(strut, 0.0) for strut in order[-1].struts), default=0.0)
            if has_feet:
                order = with_feet(yard.net, order, yard.hubs)
            order = few_types(yard.net, order, yard.hubs, yard.kit.strut_type_of, MOST_STRUT_TYPES)
            found.append((loosest, group(yard.kit, order)[1], order))
    most = max(row[0] for row in found)
    good = [row for row in found if row[0] >= LOOSEST * most]
    return min(good, key=lambda row: row[1])[2]


def _give_of_course(yard: Yard, hubs: Sequence[int]) -> dict[int, float]:
    """Return how much each strut that this course brings gives when it alone is missing."""
    shell = yard.kit.shell
    there = np.zeros(len(shell.hubs), dtype=bool)
    there[[*yard.hubs, *hubs]] = True
    struts = np.flatnonzero(there[shell.struts].all(axis=1) & (shell.role != "brace"))
    free = np.array([h for h in np.flatnonzero(there) if h not in yard.ground], dtype=np.int64)
    asked = struts[np.isin(shell.struts[struts], list(hubs)).any(axis=1)]
    values = give(shell, struts, free, asked)
    return dict(zip(asked.tolist(), values.tolist(), strict=True))


def _standing_steps(yard: Yard, order: Sequence[Placement]) -> list[Step]:
    steps: list[Step] = []
    groups, _ = group(yard.kit, order)
    for index, one in enumerate(groups):
        props: list[Prop] = []
        done: list[int] = []
        ends = index == len(groups) - 1
        for k, unit in enumerate(one.units):
            for placing in unit:
                props += place(yard, placing)
                done += [placing.hub] if placing.hub >= 0 else []
            is_last = ends and k == len(one.units) - 1
            fresh = done if is_last else done[-len(unit) :]
            tried, more = prop_up(yard, fresh, exact=is_last)
            props += more
        placings = one.placings
        last = _closing(yard, placings[-1]) if ends and not set(done) <= yard.ground else (-1, 0.0)
        struts = [strut for placing in placings for strut in placing.struts]
        steps.append(
            tell(yard, struts, done, repeats=len(one.units), props=props, tried=tried, last=last)
        )
    return steps


def _closing(yard: Yard, placing: Placement) -> tuple[int, float]:
    """Return the strut of the last placing to fasten last, and its give under a pull."""
    if not placing.struts:
        return -1, 0.0
    ground = np.array(sorted(yard.ground), dtype=np.int64)
    gives = [slack_of(yard.bench, yard.struts, ground, yard.standing, s) for s in placing.struts]
    best = int(np.argmax(np.round(gives, 9)))
    return placing.struts[best], gives[best]


def _flat_steps(yard: Yard, order: Sequence[Placement]) -> list[Step]:
    """Return the steps of a course laid out flat, then raised as one."""
    steps: list[Step] = []
    before = list(yard.standing)
    laid: list[int] = []
    for one in group(yard.kit, order)[0]:
        struts = [strut for placing in one.placings for strut in placing.struts]
        hubs = [placing.hub for placing in one.placings if placing.hub >= 0]
        steps.append(tell(yard, struts, hubs, action="flat", repeats=len(one.units)))
        laid += struts
    new: list[Prop] = []
    for placing in order:
        new += place(yard, placing)
    hubs = [placing.hub for placing in order if placing.hub >= 0]
    gone = {prop.name for prop in take_props_away(yard, hubs)}
    tried, more = prop_up(yard, hubs, exact=True)
    kept = renamed(yard, [*new, *more], gone)
    removed = [prop for prop in before if prop.name in gone]
    mass = yard.mass_of(laid)
    steps.append(
        tell(yard, (), (), action="raise", props=kept, removed=removed, tried=tried, mass=mass,
             last=_closing(yard, order[-1]))
    )  # fmt: skip
    return steps


def _braces(yard: Yard) -> list[Step]:
    """Return the steps of the struts that go in when both their hubs stand: inner braces."""
    shell = yard.kit.shell
    there = np.zeros(len(shell.hubs), dtype=bool)
    there[yard.hubs] = True
    done = np.zeros(len(shell.struts), dtype=bool)
    done[yard.struts] = True
    left = np.flatnonzero(there[shell.struts].all(axis=1) & ~done)
    kinds = yard.kit.strut_type_of[left]
    placings = [Placement(-1, (int(strut),)) for strut in left[np.argsort(kinds, kind="stable")]]
    steps = []
    for one in group(yard.kit, placings)[0] if placings else []:
        struts = [strut for placing in one.placings for strut in placing.struts]
        for placing in one.placings:
            place(yard, placing)
        ends = sorted(set(shell.struts[struts].ravel().tolist()) - yard.ground)
        tried, more = prop_up(yard, ends)
        steps.append(
            tell(yard, struts, (), action="brace", repeats=len(one.units), props=more, tried=tried)
        )
    return steps
