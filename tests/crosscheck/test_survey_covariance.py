"""The covariance of readings by linear propagation against shells built at random."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import Spread, make_elastic, settle
from strutwright.survey.evidence import linear
from strutwright.survey.hypotheses import Hypothesis
from strutwright.survey.sight import sight_of_pairs
from strutwright.survey.simulate import built

BRIEF = """
[project]
name = "Covariance test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
"""
PAIRS = np.array([(0, 5), (2, 7), (1, 13), (10, 15), (12, 18)])
SHELLS = 250


def test_readings_scatter_as_linear_propagation_says():
    """A sample standard deviation of n shells is itself known to 1 / sqrt(2 n) = 4.5 %; four of
    these are allowed, for the worst of five readings and the shell's curvature."""
    brief = parse_brief(BRIEF)
    elastic = make_elastic(make_kit(make_shell(brief), brief))
    spread = Spread(strut=0.0015, tape=0.003, level=0.003, cut=0.0033)
    sight = sight_of_pairs(PAIRS, elastic.hubs, 1e-9)
    rest = settle(elastic, elastic.lengths)
    expected = linear(elastic, rest, sight, spread, Hypothesis("nothing-wrong")).covariance
    rng = np.random.default_rng(6)
    seen = np.array([sight.predict(built(elastic, None, spread, rng)) for _ in range(SHELLS)])
    ratio = seen.std(axis=0) / np.sqrt(np.diag(expected))
    assert ratio == pytest.approx(np.ones(len(PAIRS)), abs=0.18)
    assert seen.mean(axis=0) == pytest.approx(sight.values, abs=2e-3)
