"""The workshop's own tests in a brief become the connector's values, with their source."""

import math
import statistics

import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.shape import make_shell

HEAD = """
[project]
name = "Tested"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[hubs]
connector = "socket-pin"
"""
K_N = {3: 3.37, 4: 2.63, 5: 2.33}
"""EN 1990 Table D1, V_x unknown, as printed (recalled)."""


def kit_of(*tests):
    text = HEAD + "".join(f"[[hubs.tests]]\n{test}\n" for test in tests)
    brief = parse_brief(text, "test.toml")
    return make_kit(make_shell(brief), brief)


def fractile(values, side):
    logs = [math.log(value) for value in values]
    return math.exp(statistics.mean(logs) + side * K_N[len(logs)] * statistics.stdev(logs))


def test_strength_is_the_low_fractile_of_the_weaker_way_and_says_its_source():
    kit = kit_of(
        'pull = ["8.0 kN", "9.0 kN", "8.5 kN"]', 'push = ["7.0 kN", "7.1 kN", "6.9 kN", "7.2 kN"]'
    )
    pull = fractile([8000, 9000, 8500], -1)
    push = fractile([7000, 7100, 6900, 7200], -1)
    assert kit.connector.strength == pytest.approx(min(pull, push), rel=2e-3)
    assert "workshop test, 3 samples" in str(kit.connector.sources["strength"])
    assert kit.connector.sources["strength"].verified


def test_stiffness_is_a_range_and_slip_and_offset_are_high_fractiles():
    bend, slip, offset = (300, 330, 310, 340, 320), (0.4, 0.5, 0.6), (1.0, 1.1, 0.9)
    kit = kit_of(
        "bend = [" + ", ".join(f'"{k} Nm/rad"' for k in bend) + "]",
        "slip = [" + ", ".join(f'"{s} mm"' for s in slip) + "]",
        "offset = [" + ", ".join(f'"{s} mm"' for s in offset) + "]",
    )
    low, high = kit.connector.rotational_stiffness
    assert (low, high) == pytest.approx((fractile(bend, -1), fractile(bend, 1)), rel=2e-3)
    assert kit.connector.slip == pytest.approx(fractile(slip, 1) / 1000, rel=2e-3)
    assert kit.connector.eccentricity == pytest.approx(fractile(offset, 1) / 1000, rel=2e-3)


def test_readings_of_one_kind_are_taken_together_and_pull_alone_is_noted():
    kit = kit_of('pull = ["8.0 kN", "9.0 kN"]', 'pull = ["8.5 kN", "8.7 kN", "8.2 kN"]')
    assert kit.connector.strength == pytest.approx(
        fractile([8000, 9000, 8500, 8700, 8200], -1), rel=2e-3
    )
    assert "push-not-tested" in {note.code for note in kit.notes}


def test_too_few_samples_and_a_reading_of_nothing_are_refused_at_once():
    with pytest.raises(InputError) as caught:
        kit_of('pull = ["8.0 kN", "9.0 kN"]\nbend = ["0 Nm/rad", "3 Nm/rad", "2 Nm/rad"]')
    codes = {problem.code for problem in caught.value.problems}
    assert codes == {"samples-too-few", "test-reading"}
    assert all("hubs.tests" in problem.where for problem in caught.value.problems)
