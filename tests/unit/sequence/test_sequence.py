"""The pieces of a build sequence."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright import make_kit, make_shell, parse_brief
from strutwright.brief import Crew
from strutwright.progress import Cancelled
from strutwright.sequence import (
    BuildSequence,
    Prop,
    Stage,
    Step,
    crew_checks,
    looseness,
    plan_sequence,
)
from strutwright.sequence.choose import choose_way
from strutwright.sequence.effort import people_for
from strutwright.sequence.propping import feet_for, held_directions
from strutwright.sequence.rank import removable
from strutwright.sequence.state import bench_of, try_state

TEXT = """
[project]
name = "Plain"
use = "shelter"
[size]
width = "{width} m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
[crew]
people = 2
reach = "2.0 m"
platform = "1.5 m"
"""


@pytest.fixture(scope="module")
def brief():
    return parse_brief(TEXT.format(width=5), "plain.toml")


@pytest.fixture(scope="module")
def kit(brief):
    return make_kit(make_shell(brief), brief)


def test_a_crew_of_one_under_a_crown_of_four_metres_gets_the_reason_and_a_way():
    brief = parse_brief(TEXT.format(width=8), "tall.toml")
    kit = make_kit(make_shell(brief), brief)
    choice = choose_way(kit, Crew(people=1, reach=2.0, platform=0.0, way="in-place"))
    assert not choice.as_asked
    assert choice.people == 2
    assert choice.platform == pytest.approx(2.0)
    (note,) = choice.notes
    assert note.code == "sequence-not-as-asked"
    assert "4000 mm" in note.text
    assert "2000 mm" in note.text


def test_what_a_crew_cannot_build_is_a_failed_check_with_the_nearest_way():
    brief = parse_brief(TEXT.format(width=8), "tall.toml")
    crew = Crew(people=1, reach=2.0, platform=0.0, way="in-place")
    kit = make_kit(make_shell(brief), brief)
    plan = plan_sequence(kit, replace(brief, crew=crew))
    reach, people = crew_checks(plan, crew)
    assert (reach.code, reach.demand, reach.capacity) == ("crew-reach", pytest.approx(4.0), 2.0)
    assert (people.code, people.demand, people.capacity) == ("crew-people", 2.0, 1.0)
    for check in (reach, people):
        assert check.status == "fail"
        assert not check.required
        assert "in-place with 2 people and a platform of 2.0 m" in check.note


def test_a_crew_that_can_passes_its_checks(kit, brief):
    plan = plan_sequence(kit, brief)
    assert [check.status for check in crew_checks(plan, brief.crew)] == ["pass", "pass"]
    assert plan.as_asked


def test_a_lone_leg_on_its_pin_stands_with_its_props():
    """Without them it falls: what keeps it from turning about itself keeps it from nothing else."""
    brief = parse_brief(TEXT.format(width=5) + '[site]\nriser = "0.8 m"\n', "legs.toml")
    kit = make_kit(make_shell(brief), brief)
    bench, shell = bench_of(kit), kit.shell
    leg = int(np.flatnonzero(shell.role == "leg")[0])
    foot, top = sorted(shell.struts[leg].tolist(), key=lambda hub: shell.hubs[hub, 2])
    held = tuple(
        Prop(f"P{k}", top, tuple(shell.hubs[top] + run), "stand")
        for k, run in enumerate(np.array([[1, 0, -0.8], [0, 1, -0.8], [-1, -1, -0.8]]))
    )
    ground = np.array([foot])
    tried = [
        try_state(bench, np.array([leg]), ground, props, np.array([top]), exact=True).check
        for props in (held, ())
    ]
    assert [check.passes for check in tried] == [True, False]


def test_a_crew_that_can_is_taken_as_it_is(kit):
    choice = choose_way(kit, Crew(people=2, reach=2.0, platform=1.0, way="in-place"))
    assert (choice.as_asked, choice.platform, choice.notes) == (True, 1.0, ())


@pytest.mark.parametrize("way", ["in-place", "flat-courses", "crown-first", "halves"])
def test_every_way_builds_a_small_dome(kit, brief, way):
    crew = Crew(people=4, reach=2.5, platform=1.5, way=way)
    plan = plan_sequence(kit, replace(brief, crew=crew))
    assert plan.way == way
    assert sum(len(step.struts) for step in plan.steps) == 65
    assert bool(plan.laydown) == (way == "flat-courses")
    assert not plan.steps[-1].standing


def test_the_first_course_keeps_a_prop_until_the_next_holds_it(kit, brief):
    plan = plan_sequence(kit, brief)
    closed = next(stage for stage in plan.stages if stage.course == 1).steps[-1]
    assert closed.mechanisms == 1
    assert closed.standing


def test_a_prop_is_as_good_as_the_strut_it_stands_for():
    """A mast with two legs falls over; a prop across holds it; four legs need none."""
    hubs = np.array([[0.0, 0, 2], [1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0]])
    prop = Prop("P1", 0, (0.0, 1.5, 0.0), "mechanism")
    two = np.array([[0, 1], [0, 2]])
    four = np.array([[0, 1], [0, 2], [0, 3], [0, 4]])
    free = np.array([0])
    assert looseness(hubs, two, free, [prop]).mechanisms == 1
    assert removable(looseness(hubs, two, free, [prop])).tolist() == []
    assert looseness(hubs, four, free, [prop]).mechanisms == 0
    assert removable(looseness(hubs, four, free, [prop])).tolist() == [0]


def test_three_struts_in_a_plane_do_not_hold_a_hub():
    flat = np.array([[1.0, 0, 0], [-1, 1, 0], [-1, -1, 0]])
    assert held_directions(np.zeros(3), flat)[0] == 2
    assert held_directions(np.array([0, 0, 1.0]), flat)[0] == 3


def test_the_foot_of_a_prop_resists_what_is_loose():
    hub = np.array([3.0, 0, 1.5])
    (foot,) = feet_for(hub, np.array([[1.0, 0, 0]]), 0.0)
    assert foot[0] < hub[0]
    assert foot[2] == 0.0
    upright = feet_for(hub, np.array([[0.0, 0, 1]]), 0.0)
    assert upright == [(3.0, 0.0, 0.0)]


def test_a_heavier_part_or_a_higher_hub_takes_more_people():
    assert people_for(10, 1.0) == 1
    assert people_for(10, 1.5) == 2
    assert people_for(30, 1.0) == 2
    assert people_for(80, 1.0) == 5


def test_a_state_without_its_prop_cannot_stand(kit):
    """The frame solver says what the rank says: an open corner without its prop moves freely."""
    shell, bench = kit.shell, bench_of(kit)
    hub = int(np.flatnonzero(shell.course == 1)[0])
    down = np.flatnonzero(
        (shell.struts == hub).any(axis=1) & (shell.struts < len(shell.base)).any(axis=1)
    )
    args = (bench, down, shell.base)
    loose = try_state(*args, [], np.array([hub])).check
    assert not loose.passes
    prop = Prop("P1", hub, tuple(shell.hubs[hub] * [0.4, 0.4, 0.0]), "mechanism")
    held = try_state(*args, [prop], np.array([hub])).check
    assert held.passes


def test_the_push_moves_a_propped_mast_as_its_stiffness_says(kit):
    """Closed: two equal bars and a prop along the third axis; the push is resisted by EA/L."""
    bench = bench_of(kit)
    half = replace(bench, weights=np.zeros_like(bench.weights))
    shell = kit.shell
    hub = int(np.flatnonzero(shell.course == 1)[0])
    down = np.flatnonzero(
        (shell.struts == hub).any(axis=1) & (shell.struts < len(shell.base)).any(axis=1)
    )
    foot = tuple(shell.hubs[hub] * [0.4, 0.4, 0.0])
    check = try_state(
        half, down, shell.base, [Prop("P1", hub, foot, "mechanism")], np.array([hub])
    ).check
    ends = shell.hubs[shell.struts[down]]
    bars = np.vstack([ends[:, 0] - ends[:, 1], [shell.hubs[hub] - foot]])
    lengths = np.linalg.norm(bars, axis=1)
    axial = bench.frame.sections.area[0] * bench.frame.sections.modulus[0]
    stiff = sum(axial / n * np.outer(b / n, b / n) for b, n in zip(bars, lengths, strict=True))
    assert check.deflection == pytest.approx(100.0 / np.linalg.eigvalsh(stiff)[0], rel=1e-6)


def test_steps_are_few_parts_and_few_types(kit, brief):
    for step in plan_sequence(kit, brief).steps:
        if step.action == "place":
            once = (len(step.struts) + len(step.hubs)) / step.repeats
            labels = [label for label in step.picks if not label.startswith("H")]
            assert once <= 12
            assert len(labels) <= 3


def test_steps_must_be_numbered_through():
    step = Step(2, np.array([0]), np.array([0]), {})
    with pytest.raises(ValueError, match="numbered through"):
        BuildSequence((Stage("base", 0, (step,)),))


def test_planning_can_be_stopped(kit, brief):
    class Stop:
        def stage(self, name, fraction):
            pass

        def cancelled(self):
            return True

    with pytest.raises(Cancelled):
        plan_sequence(kit, brief, Stop())
