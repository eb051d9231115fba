"""The adjusted shape of a built shell."""

import numpy as np
import pytest

from strutwright.brief import Reading, Readings, Survey, parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import base_spread, survey_shell

BRIEF = """
[project]
name = "Built test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [{f}, 0]
[struts]
stock = "emt-3/4"
"""
SURVEY = Survey(tape=0.003, cut=0.001, play=0.001)


def kit_of(f=2):
    brief = parse_brief(BRIEF.format(f=f))
    return make_kit(make_shell(brief), brief)


def readings_of(points, pairs, noise=None):
    noise = np.zeros(len(pairs)) if noise is None else noise
    lengths = [float(np.linalg.norm(points[j] - points[i])) for i, j in pairs]
    return Readings(
        tuple(
            Reading("distance", pair, "centre", length + more, temperature=20.0, line=k + 2)
            for k, (pair, length, more) in enumerate(zip(pairs, lengths, noise, strict=True))
        )
    )


ACROSS = [(0, 5), (1, 6), (2, 7), (3, 8), (4, 9), (0, 12), (3, 17), (10, 18)]


@pytest.mark.parametrize("f", [2, 4])
@pytest.mark.parametrize("n", [1, 4, 8])
def test_every_tape_reading_adds_one_redundancy(f, n):
    """Struts and a level base alone have none: E = 3V - 3 - B (identity, Euler)."""
    kit = kit_of(f)
    pairs = ACROSS[:n]
    result = survey_shell(kit, readings_of(kit.shell.hubs, pairs), SURVEY)
    assert result.redundancy == n
    assert np.abs(result.shape - kit.shell.hubs).max() < 1e-9
    assert result.spread == pytest.approx(0.0, abs=1e-9)


def test_the_shape_of_a_scaled_shell_comes_back():
    """Struts all 0.2 % long: the shell grows as a whole."""
    kit = kit_of()
    grown = kit.shell.hubs * 1.002
    pairs = [tuple(int(h) for h in row) for row in kit.shell.struts]
    readings = readings_of(grown, pairs + ACROSS)
    exact = Readings(tuple(
        Reading(r.kind, r.hubs, r.at, r.value, 1e-6, 20.0, r.line) for r in readings.readings
    ))  # fmt: skip
    result = survey_shell(kit, exact, SURVEY)
    assert np.abs(result.shape - grown).max() < 2e-5
    assert result.spread == pytest.approx(0.006, abs=2e-5)


def test_one_misread_tape_stands_out_among_many():
    kit = kit_of()
    noise = np.zeros(len(ACROSS))
    noise[3] = 0.060
    result = survey_shell(kit, readings_of(kit.shell.hubs, ACROSS, noise), SURVEY)
    w = [abs(one.standardised) for one in result.checked]
    assert int(np.argmax(w)) == 3
    assert w[3] > 3.29


def test_spread_of_a_round_base_is_its_growth_of_radius():
    kit = kit_of()
    moved = kit.shell.hubs * np.array([1.01, 1.01, 1.0])
    assert base_spread(kit.shell, moved) == pytest.approx(0.03)


def test_too_few_readings_are_told():
    kit = kit_of()
    result = survey_shell(kit, readings_of(kit.shell.hubs, ACROSS[:1]), SURVEY)
    assert "too few" in result.cannot_know[0]


def test_a_file_with_nothing_usable_says_what_it_cannot_know():
    kit = kit_of()
    feet = Reading("width", (0, 5), "centre", 19.7, temperature=20.0, line=2)
    result = survey_shell(kit, Readings((feet,)), Survey())
    assert (result.checked, result.suspects, result.chance) == ((), (), 1.0)
    assert result.shape == pytest.approx(kit.shell.hubs, abs=1e-9)
    assert any(text.startswith("0 usable reading(s) are too few") for text in result.cannot_know)
    assert "feet written as metres" in result.notes[0].text


def test_a_misread_tape_moves_nothing_and_pulls_nothing():
    """Half a metre too much in one of six readings of a true shell."""
    kit = kit_of()
    pairs = [(0, 5), (1, 6), (2, 7), (3, 8), (4, 9)]
    true = [float(np.linalg.norm(kit.shell.hubs[i] - kit.shell.hubs[j])) for i, j in pairs]
    rows = [
        Reading("width", pair, "centre", value + (0.5 if pair == (2, 7) else 0.0),
                temperature=20.0, line=line)
        for line, (pair, value) in enumerate(zip(pairs, true, strict=True), start=2)
    ]  # fmt: skip
    result = survey_shell(kit, Readings(tuple(rows)), Survey())
    assert (result.suspects[0].hypothesis, result.suspects[0].line) == ("misread", 4)
    assert np.abs(result.shape - kit.shell.hubs).max() < 0.001
    assert result.checked[2].residual == pytest.approx(-0.5, abs=0.001)
    assert result.checked[2].standardised < -100
    assert result.corrections == ()
    assert any("take the suspected reading again first" in text for text in result.cannot_know)
