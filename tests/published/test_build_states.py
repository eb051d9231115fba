"""Published and computed counts of half-built shells.

Values: job reference of the trade, own computation by an independent program unless a source is
named beside the value.
"""

import numpy as np
import pytest

from strutwright import make_kit, make_shell, parse_brief
from strutwright.sequence import lay_down, plan_sequence
from strutwright.sequence.effort import lift_limit
from strutwright.shape import DomeSpec, dome
from strutwright.shape.rigidity import count_mechanisms


def pinned_base(shell):
    fixed = np.zeros((len(shell.hubs), 3), dtype=bool)
    fixed[shell.base] = True
    return fixed


@pytest.mark.parametrize(
    ("frequency", "bars", "freedoms", "self_stress"), [(2, 55, 48, 7), (4, 230, 213, 17)]
)
def test_complete_pinned_dome(frequency, bars, freedoms, self_stress):
    """SEQ-1, computed: struts between two base hubs left out, three freedoms a free hub."""
    shell = dome(DomeSpec(radius=3.0, division=(frequency, 0)))
    count = count_mechanisms(shell.hubs, shell.struts, pinned_base(shell))
    assert (count.struts, count.freedoms) == (bars, freedoms)
    assert (count.self_stress, count.mechanisms) == (self_stress, 0)


@pytest.mark.parametrize(("frequency", "mechanisms"), [(2, 1), (3, 0), (4, 1), (5, 0), (6, 1)])
def test_closed_first_course(frequency, mechanisms):
    """Job reference 2.2, computed: on a pinned base even rings keep one mechanism (10, 20, 30
    hubs), odd rings (15, 25 hubs) none."""
    shell = dome(DomeSpec(radius=3.0, division=(frequency, 0)))
    low = shell.course <= 1
    struts = shell.struts[low[shell.struts].all(axis=1)]
    used = np.unique(struts)
    place = np.full(len(shell.hubs), -1)
    place[used] = np.arange(len(used))
    fixed = pinned_base(shell)[used]
    assert count_mechanisms(shell.hubs[used], place[struts], fixed).mechanisms == mechanisms


@pytest.mark.parametrize(("frequency", "mechanisms"), [(2, 1), (3, 0), (4, 1), (5, 0)])
def test_the_sequence_finds_the_same_when_the_first_course_is_closed(frequency, mechanisms):
    """The same values by the route of the sequence, from its own props and factorisation."""
    text = f"""
[project]
name = "Ring"
use = "greenhouse"
[size]
width = "6 m"
[shape]
family = "dome"
division = [{frequency}, 0]
[struts]
stock = "emt-1"
[crew]
people = 4
platform = "8 m"
way = "in-place"
"""
    brief = parse_brief(text, "ring.toml")
    plan = plan_sequence(make_kit(make_shell(brief), brief), brief)
    first = next(stage for stage in plan.stages if stage.course == 1)
    assert first.steps[-1].mechanisms == mechanisms
    assert len(first.steps[-1].standing) >= mechanisms
    assert (plan.steps[-1].mechanisms, plan.steps[-1].standing) == (0, ())


def test_ground_for_the_first_course_laid_flat():
    """SEQ-3, computed, tolerance 0.01 m: 2-frequency, R = 3 m, the 20 faces on the base."""
    shell = dome(DomeSpec(radius=3.0, division=(2, 0)))
    whole, half = lay_down(shell, 1, 1), lay_down(shell, 1, 2)
    assert (whole.length, whole.width) == pytest.approx((16.75, 4.848), abs=0.01)
    assert (half.length, half.width) == pytest.approx((9.248, 2.495), abs=0.01)


@pytest.mark.parametrize(("people", "limit"), [(1, 25.0), (2, 33.33), (3, 37.5)])
def test_team_lift(people, limit):
    """SEQ-4, read: two thirds of the sum for two people, half for three (Network Rail page
    citing the HSE rule); 25 kg each recalled."""
    assert lift_limit(people) == pytest.approx(limit, abs=0.01)
