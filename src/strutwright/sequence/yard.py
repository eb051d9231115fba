"""The building site while a sequence is worked out: what stands, on which props, and the steps."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np

from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress
from strutwright.sentences import note
from strutwright.sequence.effort import minutes_of, people_for
from strutwright.sequence.order import Net, Placement, net_of
from strutwright.sequence.propping import feet_for, held_directions
from strutwright.sequence.rank import Looseness, looseness, removable
from strutwright.sequence.state import LEAST_FACTOR, Bench, Tried, bench_of, try_state
from strutwright.sequence.values import Action, Prop, Stage, StateCheck, Step
from strutwright.shape.riser import feet_of
from strutwright.values import Floats, Indices, Note

__all__ = [
    "Yard",
    "add_stands",
    "open_yard",
    "place",
    "prop_up",
    "remarks",
    "renamed",
    "take_props_away",
    "tell",
]

MOST_EXTRA: Final = 4
"""Props added to one state because it is soft, before the check is left to say so."""
MOST_PUSHED: Final = 24
"""Hubs of one state that are pushed, spread evenly over the new ones. Our choice: time."""
WHOLE: Final = 600
"""Struts up to which every state is checked as a whole. Our choice: time."""
NO_WORSE: Final = 1.02
"""Ratio of movements, or of load factors, within which a state is as good as another."""
WINDOW: Final = 2
"""Courses under the growing one that move with it in larger shells. Our choice."""


@dataclass
class Yard:
    """A site at work: this value changes as steps are made, and is dropped with the plan.

    Parameters
    ----------
    kit : Kit
    net : Net
    bench : Bench
    reach, floor : float, m
        How high a person reaches from the ground; height of the ground.
    ground : set of int
        Hubs that the ground holds.
    people : int
        Who work on it.
    hubs, struts : list of int
        Placed, in their order.
    standing, props : list of Prop
        There now; ever placed.
    steps : int
        Made so far.
    rigid : set of int
        Hubs of the last stage at whose end the struts alone left nothing loose, with those of
        the stages before it: no movement of what stands moves them.
    """

    kit: Kit
    net: Net
    bench: Bench
    reach: float
    floor: float
    ground: set[int]
    people: int
    progress: Progress = SILENT
    hubs: list[int] = field(default_factory=list)
    struts: list[int] = field(default_factory=list)
    standing: list[Prop] = field(default_factory=list)
    props: list[Prop] = field(default_factory=list)
    steps: int = 0
    rigid: set[int] = field(default_factory=set)

    @property
    def share(self) -> float:
        """Return how much of the shell stands, 0 to 1."""
        return len(self.struts) / len(self.kit.shell.struts)

    @property
    def mass(self) -> float:
        """Return the mass of what stands, kg."""
        return self.mass_of(self.struts)

    def mass_of(self, struts: Sequence[int]) -> float:
        """Return the mass of struts with their share of the hubs, kg."""
        return float(self.bench.weights[list(struts)].sum()) / 9.80665

    def loose(self) -> Looseness:
        """Return the mechanisms of what stands, its props left out.

        Hubs that are rigid count as ground, which is exact: struts that alone leave a part no
        movement leave it none with more struts on it either.
        """
        held = self.ground | self.rigid
        free = np.array([hub for hub in self.hubs if hub not in held], dtype=np.int64)
        shell = self.kit.shell
        ends = shell.struts[self.struts]
        live = ends[np.isin(ends, free).any(axis=1)]
        return looseness(shell.hubs, live, free, self.standing)

    def stiffen(self) -> None:
        """Take note of what stands as rigid where its struts alone leave nothing loose."""
        if not self.loose().mechanisms:
            self.rigid = set(self.hubs)

    def tried(self, fresh: Sequence[int], *, exact: bool = False) -> Tried:
        """Return how what stands carries itself and a push on the `fresh` hubs.

        While a course of a large shell grows, the closed courses far under it count as ground;
        with `exact`, as at the end of a stage, the whole is taken.
        """
        struts = np.array(self.struts, dtype=np.int64)
        ground = np.array(sorted(self.ground), dtype=np.int64)
        props: Sequence[Prop] = self.standing
        low = self._lowest(fresh)
        if len(struts) > WHOLE and not exact and low is not None:
            shell = self.kit.shell
            live = shell.course >= low
            struts = struts[live[shell.struts[struts]].any(axis=1)]
            ground = np.union1d(ground, np.flatnonzero(~live))
            props = [prop for prop in props if live[prop.hub]]
        new = np.array(list(fresh), dtype=np.int64)
        new = new[:: max(1, -(-len(new) // MOST_PUSHED))]
        return try_state(self.bench, struts, ground, props, new, exact=exact)

    def _lowest(self, fresh: Sequence[int]) -> int | None:
        """Return the lowest course that moves with the `fresh` hubs; None where all does."""
        course = self.kit.shell.course
        if not len(fresh) or not self.ground or (course[sorted(self.ground)] > 0).any():
            return None
        return int(course[list(fresh)].min()) - WINDOW

    def prop(self, hub: int, loose: Floats, why: str) -> list[Prop]:
        """Place a prop at `hub` for each `loose` direction (k, 3) and return them."""
        new = [
            Prop(f"P{len(self.props) + 1 + k}", hub, foot, why)  # type: ignore[arg-type]
            for k, foot in enumerate(feet_for(self.kit.shell.hubs[hub], loose, self.floor))
        ]
        self.props += new
        self.standing += new
        return new


def open_yard(kit: Kit, reach: float, people: int, progress: Progress = SILENT) -> Yard:
    """Return the empty site of `kit`."""
    feet = feet_of(kit.shell)
    floor = float(kit.shell.hubs[feet, 2].min())
    ground = {int(foot) for foot in feet}
    return Yard(kit, net_of(kit.shell), bench_of(kit), reach, floor, ground, people, progress)


def place(yard: Yard, one: Placement) -> list[Prop]:
    """Put a hub up with its struts; props hold what the struts leave loose."""
    shell = yard.kit.shell
    yard.struts += one.struts
    if one.hub < 0:
        return []
    yard.hubs.append(one.hub)
    if one.hub in yard.ground:
        return []
    ends = shell.struts[list(one.struts)] if one.struts else np.empty((0, 2), dtype=np.int64)
    others = ends[ends != one.hub]
    held, loose = held_directions(shell.hubs[one.hub], shell.hubs[others])
    return yard.prop(one.hub, loose, "mechanism") if held < 3 else []


def prop_up(yard: Yard, fresh: Sequence[int], *, exact: bool = False) -> tuple[Tried, list[Prop]]:
    """Return the state with props added where it sways too far, and those props."""
    new: list[Prop] = []
    tried = yard.tried(fresh, exact=exact)
    while not tried.check.passes and len(new) < MOST_EXTRA and tried.hub >= 0:
        if sum(prop.hub == tried.hub for prop in yard.standing) >= 3:
            break
        new += yard.prop(tried.hub, tried.towards[None, :], "soft")
        tried = yard.tried(fresh, exact=exact)
    return tried, new


def take_props_away(yard: Yard, fresh: Sequence[int]) -> tuple[Prop, ...]:
    """Take away the props that the state no longer needs, and return them.

    One goes only when the struts and the other props leave no mechanism, and what then stands
    passes its check with a push on the `fresh` hubs or, where the state does not pass with all
    its props, is no worse without this one.
    """
    if not yard.standing:
        return ()
    order = [yard.standing[k] for k in removable(yard.loose())]
    before = list(yard.standing)
    all_props = [yard.tried(fresh, exact=exact).check for exact in (False, True)]

    def without(count: int, *, exact: bool) -> bool:
        names = {prop.name for prop in order[:count]}
        yard.standing = [prop for prop in before if prop.name not in names]
        pushed = sorted({*fresh, *(prop.hub for prop in order[:count])})
        return _goes(yard.tried(pushed, exact=exact).check, all_props[exact])

    most = _most(len(order), lambda count: without(count, exact=False))
    if most and not without(most, exact=True):
        most = _most(most - 1, lambda count: without(count, exact=True))
    names = {prop.name for prop in order[:most]}
    yard.standing = [prop for prop in before if prop.name not in names]
    return tuple(order[:most])


def _goes(without: StateCheck, with_all: StateCheck) -> bool:
    """Return whether a state `without` some props will do, against the one `with_all` of them."""
    if without.passes:
        return True
    deflection = max(with_all.limit, NO_WORSE * with_all.deflection)
    factor = min(LEAST_FACTOR, with_all.buckling / NO_WORSE)
    return without.deflection <= deflection and without.buckling >= factor


def _most(count: int, can: Callable[[int], bool]) -> int:
    """Return the largest number up to `count` that `can`, where fewer always can too."""
    if not count or can(count):
        return count
    least, most = 0, count
    while most - least > 1:
        middle = (least + most) // 2
        least, most = (middle, most) if can(middle) else (least, middle)
    return least


def renamed(yard: Yard, new: Sequence[Prop], gone: Collection[str]) -> list[Prop]:
    """Return those of the `new` props that are not `gone`, numbered on from the earlier ones."""
    fresh = {prop.name for prop in new}
    yard.props = [prop for prop in yard.props if prop.name not in fresh]
    kept = [prop for prop in new if prop.name not in gone]
    names = {prop.name: f"P{len(yard.props) + 1 + k}" for k, prop in enumerate(kept)}
    yard.standing = [
        replace(prop, name=names[prop.name]) if prop.name in names else prop
        for prop in yard.standing
    ]
    kept = [replace(prop, name=names[prop.name]) for prop in kept]
    yard.props += kept
    return kept


def add_stands(yard: Yard, hubs: Sequence[int]) -> list[Prop]:
    """Return the stands under the lowest hubs of a lifted part: each holds all three directions."""
    new: list[Prop] = []
    for hub in hubs:
        new += yard.prop(hub, np.eye(3), "stand")
    return new


def tell(  # noqa: PLR0913 - the parts of one step
    yard: Yard,
    struts: Sequence[int],
    hubs: Sequence[int],
    *,
    action: Action = "place",
    repeats: int = 1,
    props: Sequence[Prop] = (),
    removed: Sequence[Prop] = (),
    tried: Tried | None = None,
    mass: float | None = None,
    last: tuple[int, float] = (-1, 0.0),
) -> Step:
    """Return the step that has just been made."""
    yard.steps += 1
    kit = yard.kit
    shell = kit.shell
    worked = set(hubs) | set(shell.struts[list(struts)].ravel().tolist())
    worked |= {prop.hub for prop in removed}
    high = max((float(shell.hubs[hub, 2]) for hub in worked), default=yard.floor) - yard.floor
    if action in {"flat", "lift", "raise"}:
        high = 0.0 if action == "flat" else high
    heaviest = max((yard.mass_of([strut]) for strut in struts), default=0.0)
    lifted = heaviest if mass is None else mass
    people = people_for(lifted, high)
    return Step(
        number=yard.steps,
        struts=np.array(list(struts), dtype=np.int64),
        hubs=np.array(list(hubs), dtype=np.int64),
        picks=picks_of(kit, struts, hubs),
        action=action,
        repeats=repeats,
        props=tuple(prop.name for prop in props),
        removed=tuple(prop.name for prop in removed),
        standing=tuple(prop.name for prop in yard.standing),
        people=people,
        reach=high,
        platform=max(0.0, high - yard.reach),
        lift=lifted / people,
        mechanisms=yard.loose().mechanisms,
        check=None if tried is None else tried.check,
        last_strut=last[0],
        slack=last[1],
        minutes=minutes_of(
            kit, len(struts), len(hubs), len(props) + 0.5 * len(removed), yard.people
        ),
    )


def picks_of(kit: Kit, struts: Sequence[int] | Indices, hubs: Sequence[int]) -> dict[str, int]:
    """Return the number of each strut and hub type among `struts` and `hubs`, by label."""
    n_strut = np.bincount(kit.strut_type_of[list(struts)], minlength=len(kit.strut_types))
    n_hub = np.bincount(kit.hub_type_of[list(hubs)], minlength=len(kit.hub_types))
    struts_of = zip([kind.label for kind in kit.strut_types], n_strut.tolist(), strict=True)
    hubs_of = zip([kind.label for kind in kit.hub_types], n_hub.tolist(), strict=True)
    return {label: int(n) for label, n in (*struts_of, *hubs_of) if n}


def remarks(yard: Yard, stages: Sequence[Stage]) -> tuple[Note, ...]:
    """Return what the sequence leaves open: props that stay, states that do not pass."""
    notes = []
    if yard.standing:
        said = {"props": len(yard.standing), "names": tuple(p.name for p in yard.standing)}
        loose = yard.loose().mechanisms
        notes.append(note("sequence-props-stay", **said, mechanisms=loose))
    soft = [s for stage in stages for s in stage.steps if s.check and not s.check.passes]
    if soft:
        worst = max(soft, key=lambda step: step.check.deflection if step.check else 0.0)
        check = worst.check
        if check is not None:
            notes.append(
                note(
                    "sequence-soft",
                    soft=len(soft),
                    steps=yard.steps,
                    step=worst.number,
                    moves=check.deflection,
                    limit=check.limit,
                    factor=check.buckling,
                )
            )
    return tuple(notes)
