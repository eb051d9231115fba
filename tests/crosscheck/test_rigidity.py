"""Mechanisms and states of self-stress of pin-ended icosahedron domes, class I, vertex up.

Source: separate computations made for this project by singular values. Struts between two base
hubs are left out where the base is pinned.
"""

import numpy as np
import pytest

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.rigidity import count_mechanisms, length_jacobian


def pinned(shell):
    return np.isin(np.arange(len(shell.hubs)), shell.base)[:, None].repeat(3, axis=1)


@pytest.mark.parametrize(
    ("division", "struts", "freedoms", "self_stress"), [((2, 0), 55, 48, 7), ((4, 0), 230, 213, 17)]
)
def test_complete_shell_on_a_pinned_base(division, struts, freedoms, self_stress):
    shell = dome(DomeSpec(3.0, division=division))
    count = count_mechanisms(shell.hubs, shell.struts, pinned(shell))
    assert (count.struts, count.freedoms) == (struts, freedoms)
    assert (count.mechanisms, count.self_stress) == (0, self_stress)


@pytest.mark.parametrize(("division", "hubs", "bars"), [((2, 0), 10, 30), ((4, 0), 20, 60)])
def test_first_course_on_a_pinned_base_keeps_one_mechanism(division, hubs, bars):
    shell = dome(DomeSpec(3.0, division=division))
    low = shell.course <= 1
    struts = shell.struts[low[shell.struts].all(axis=1)]
    n = int(low.sum())
    count = count_mechanisms(shell.hubs[:n], struts, pinned(shell)[:n])
    assert (count.struts, count.freedoms) == (bars, 3 * hubs)
    assert count.mechanisms == 1


@pytest.mark.parametrize("courses", [4, 5])
def test_first_course_of_an_odd_ring_keeps_none(courses):
    shell = dome(DomeSpec(3.0, division=(3, 0), truncation=courses, level_base="whole"))
    low = shell.course <= 1
    struts = shell.struts[low[shell.struts].all(axis=1)]
    n = int(low.sum())
    assert count_mechanisms(shell.hubs[:n], struts, pinned(shell)[:n]).mechanisms == 0


@pytest.mark.parametrize("frequency", [2, 4, 6, 8])
def test_hemisphere_on_a_level_base_free_in_plan_is_isostatic(frequency):
    shell = dome(DomeSpec(3.0, division=(frequency, 0)))
    n_struts, n_hubs, n_base = len(shell.struts), len(shell.hubs), len(shell.base)
    assert n_struts == 3 * n_hubs - 3 - n_base
    fixed = np.zeros((n_hubs, 3), dtype=bool)
    fixed[shell.base, 2] = True
    count = count_mechanisms(shell.hubs, shell.struts, fixed)
    assert count.rank == n_struts
    assert (count.mechanisms, count.self_stress) == (3, 0)  # the three movements of the plan


def test_length_jacobian_against_differences():
    shell = dome(DomeSpec(3.0, division=(2, 1), truncation=3))
    lengths = lambda hubs: np.linalg.norm(  # noqa: E731
        hubs[shell.struts[:, 1]] - hubs[shell.struts[:, 0]], axis=1
    )
    move = np.random.default_rng(3).normal(size=shell.hubs.shape)
    step = 1e-6
    change = (lengths(shell.hubs + step * move) - lengths(shell.hubs - step * move)) / (2 * step)
    found = length_jacobian(shell.hubs, shell.struts) @ move.ravel()
    assert found == pytest.approx(change, abs=1e-8)
