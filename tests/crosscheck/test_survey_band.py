"""The banded factors of a shell against a dense solve of the same stiffness matrix."""

from pathlib import Path

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import make_elastic, settle

EXAMPLES = Path(__file__).parents[2] / "examples"
DOME = """
[project]
name = "Band test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""


def elastic_of(text):
    brief = parse_brief(text)
    return make_elastic(make_kit(make_shell(brief), brief))


@pytest.fixture(scope="module", params=["dome", "long-ambery-tunnel.toml", "pellbrook-repair.toml"])
def elastic(request):
    text = DOME if request.param == "dome" else (EXAMPLES / request.param).read_text()
    return elastic_of(text)


def dense(elastic, shape):
    """Constant part, and of every strut its stiffness along its own direction."""
    whole = elastic.constant.copy()
    for strut, (i, j) in enumerate(elastic.struts):
        step = shape[j] - shape[i]
        row = np.zeros(len(whole))
        row[3 * i : 3 * i + 3] = -step / np.linalg.norm(step)
        row[3 * j : 3 * j + 3] = step / np.linalg.norm(step)
        whole += elastic.stiffness[strut] * np.outer(row, row)
    return whole


def test_movements_are_those_of_the_dense_matrix(elastic):
    rng = np.random.default_rng(6)
    lengths = elastic.lengths + rng.normal(0.0, 0.003, len(elastic.lengths))
    rest = settle(elastic, lengths)
    forces = rng.normal(0.0, 100.0, (elastic.hubs.size, 4))
    expected = np.linalg.solve(dense(elastic, rest.shape), forces)
    size = np.abs(expected).max()
    assert rest.solve(forces) == pytest.approx(expected, abs=1e-7 * size)
    assert rest.solve(forces[:, 0]) == pytest.approx(expected[:, 0], abs=1e-7 * size)


def test_the_band_is_narrow(elastic):
    """Nothing is gained where hubs stand in an order that couples the first with the last."""
    n, width = elastic.band.constant.shape
    assert width < 0.5 * n or len(elastic.hubs) < 30
