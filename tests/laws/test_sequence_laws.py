"""Laws of every build sequence, whatever the shell, the crew and the way."""

from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from strutwright import make_kit, make_shell, parse_brief, read_brief
from strutwright.sequence import plan_sequence
from strutwright.shape.rigidity import length_jacobian
from strutwright.shape.riser import feet_of

EXAMPLES = Path(__file__).parents[2] / "examples"
BRIEF = """
[project]
name = "Any"
use = "greenhouse"
[size]
width = "{width} m"
[shape]
family = "{family}"
{shape}
[struts]
stock = "emt-3/4"
[site]
riser = "{riser} m"
[crew]
people = {people}
reach = "2.0 m"
platform = "{platform} m"
way = "{way}"
"""


@st.composite
def briefs(draw):
    family = draw(st.sampled_from(["dome", "long-dome"]))
    is_long = family == "long-dome"
    division = draw(st.sampled_from(["[2, 0]", "[3, 0]", "[1, 1]"]))
    return BRIEF.format(
        family=family,
        width=draw(st.sampled_from([4.0, 5.2, 6.0])),
        shape="bays = 1" if is_long else f"division = {division}",
        riser=0.0 if is_long else draw(st.sampled_from([0.0, 0.0, 0.4])),
        people=draw(st.integers(1, 4)),
        platform=draw(st.sampled_from([0.0, 1.5])),
        way=draw(st.sampled_from(["auto", "in-place", "flat-courses", "crown-first", "halves"])),
    )


DOOR = """
[[openings]]
kind = "door"
width = "0.9 m"
height = "1.7 m"
facing = "south"
"""
SLOT = """
[[openings]]
kind = "slot"
width = "0.9 m"
facing = "south"
"""
SHELLS = {
    "vault": ("vault", 'bays = 4\nlevel_base = "none"', ""),
    "vault on walls": ("vault", 'bays = 3\nside_walls = "0.6 m"\nends = "wall"', ""),
    "dome with a door": ("dome", "division = [3, 0]", DOOR),
    "observatory": ("dome", "division = [4, 0]", SLOT),
    "tunnel with braces": ("long-dome", 'bays = 2\ninner_braces = "all"', DOOR),
}


@pytest.mark.parametrize("way", ["in-place", "halves"])
@pytest.mark.parametrize("name", SHELLS)
def test_shells_with_openings_walls_and_braces(name, way):
    """Vaults, slots and doors can leave a hub that nothing reaches until a later stage."""
    family, shape, more = SHELLS[name]
    riser = "0.0"
    text = BRIEF.format(
        family=family, width=5, shape=shape, riser=riser, people=2, platform=2.5, way=way
    )
    kit, plan = planned(text + more)
    picks_are_the_parts_list(kit, plan)
    prefixes_hold_together(kit, plan)
    props_come_and_go(plan)
    no_mechanism_without_props(kit, plan)


def test_an_old_kit_read_from_a_list():
    brief = read_brief(EXAMPLES / "oldmere-old-dome.toml")
    kit = make_kit(make_shell(brief), brief)
    plan = plan_sequence(kit, brief)
    picks_are_the_parts_list(kit, plan)
    prefixes_hold_together(kit, plan)
    props_come_and_go(plan)
    no_mechanism_without_props(kit, plan)


def planned(text):
    brief = parse_brief(text, "any.toml")
    shell = make_shell(brief)
    kit = make_kit(shell, brief)
    return kit, plan_sequence(kit, brief)


@given(briefs())
@settings(max_examples=10, suppress_health_check=list(HealthCheck), phases=[Phase.generate])
def test_every_sequence(text):
    kit, plan = planned(text)
    picks_are_the_parts_list(kit, plan)
    prefixes_hold_together(kit, plan)
    props_come_and_go(plan)
    no_mechanism_without_props(kit, plan)


def picks_are_the_parts_list(kit, plan):
    total = Counter()
    for step in plan.steps:
        total.update(step.picks)
        labels = Counter(kit.strut_types[k].label for k in kit.strut_type_of[step.struts])
        labels.update(kit.hub_types[k].label for k in kit.hub_type_of[step.hubs])
        assert labels == Counter(step.picks)
    wanted = {kind.label: kind.quantity for kind in (*kit.strut_types, *kit.hub_types)}
    assert total == Counter(wanted)
    struts = np.concatenate([step.struts for step in plan.steps])
    hubs = np.concatenate([step.hubs for step in plan.steps])
    assert sorted(struts.tolist()) == list(range(len(kit.shell.struts)))
    assert sorted(hubs.tolist()) == list(range(len(kit.shell.hubs)))


def prefixes_hold_together(kit, plan):
    """Nothing is used before it is placed, and what is placed hangs together."""
    placed: set[int] = set()
    links: list[tuple[int, int]] = []
    for step in plan.steps:
        placed |= set(step.hubs.tolist())
        ends = kit.shell.struts[step.struts]
        assert set(ends.ravel().tolist()) <= placed
        links += [tuple(row) for row in ends.tolist()]
        assert len(parts_of(placed, links)) == 1


def parts_of(hubs, links):
    root = {hub: hub for hub in hubs}

    def find(hub):
        while root[hub] != hub:
            hub = root[hub]
        return hub

    for i, j in links:
        root[find(i)] = find(j)
    return {find(hub) for hub in hubs}


def props_come_and_go(plan):
    """A prop is placed once, stands until it is removed, and is named in between."""
    standing: list[str] = []
    for step in plan.steps:
        standing = [name for name in standing if name not in step.removed] + list(step.props)
        assert sorted(standing) == sorted(step.standing)
    assert sorted(name for step in plan.steps for name in step.props) == sorted(
        prop.name for prop in plan.props
    )


def no_mechanism_without_props(kit, plan):
    """Dense singular values say the same as the incremental route: props hold every mechanism."""
    shell = kit.shell
    if plan.way in {"crown-first", "flat-courses"}:
        return  # parts that lie on the ground or hang: their supports change with the lift
    by_name = {prop.name: prop for prop in plan.props}
    hubs: list[int] = []
    struts: list[int] = []
    every = 1 if len(shell.struts) < 150 else 12  # dense singular values of the larger ones
    for step in plan.steps:
        hubs += step.hubs.tolist()
        struts += step.struts.tolist()
        if step.number % every:
            continue
        free = np.setdiff1d(hubs, feet_of(shell))
        columns = (3 * free[:, None] + np.arange(3)).ravel()
        rows = length_jacobian(shell.hubs, shell.struts[struts]).toarray()[:, columns]
        bars = np.zeros((len(step.standing), 3 * len(shell.hubs)))
        for k, name in enumerate(step.standing):
            prop = by_name[name]
            along = shell.hubs[prop.hub] - prop.foot
            bars[k, 3 * prop.hub : 3 * prop.hub + 3] = along / np.linalg.norm(along)
        assert len(columns) - rank(rows) == step.mechanisms
        assert rank(np.vstack([rows, bars[:, columns]])) == len(columns)
        assert len(step.standing) >= step.mechanisms


def rank(rows):
    """A movement that stretches struts by less than 1e-7 of itself is free: a slot has one whose
    2.7e-8 is neither rounding nor stiffness, and the program must not rely on it."""
    if not rows.size:
        return 0
    sizes = np.linalg.svd(rows, compute_uv=False)
    return int((sizes > 1e-7).sum())


def test_the_same_kit_gives_the_same_sequence():
    text = BRIEF.format(
        family="dome", width=5, shape="division = [2, 0]", riser=0.0, people=2,
        platform=1.0, way="auto",
    )  # fmt: skip
    assert planned(text)[1] == planned(text)[1]


def test_the_sequence_does_not_turn_with_the_crew():
    """More people change who does it, not what is picked."""
    text = BRIEF.format(
        family="dome", width=5, shape="division = [2, 0]", riser=0.0, people=2,
        platform=1.0, way="in-place",
    )  # fmt: skip
    kit, two = planned(text)
    brief = parse_brief(text, "any.toml")
    four = plan_sequence(kit, replace(brief, crew=replace(brief.crew, people=4)))
    assert [step.picks for step in two.steps] == [step.picks for step in four.steps]
    assert four.minutes < two.minutes
