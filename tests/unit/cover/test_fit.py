"""Panels on sheets: exact answers, turns that are allowed, gaps kept, the better plan kept."""

import math
from functools import partial
from itertools import combinations

import numpy as np
import pytest

from strutwright.cover import PanelWish, fit_on_sheets, laid, nest_in_rows, pack_sheets, panel_plan
from strutwright.cover.fit import better_nest, least_sheets
from strutwright.shape.dome import DomeSpec, dome

ANY = tuple(quarter * math.pi / 2 for quarter in range(4))
RIGHT = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
SHELL = dome(DomeSpec(radius=2.0, division=(2, 0)))


def there(outlines, nest):
    for one in nest.placed:
        yield one.stock, laid(outlines[one.item], one.angle) + np.array([one.x, one.y])


def distance(a, b):
    """Between two convex outlines that do not overlap, m: corner to edge, both ways."""
    least = np.inf
    for points, edges in ((a, b), (b, a)):
        step = np.roll(edges, -1, axis=0) - edges
        share = np.einsum("pkd,kd->pk", points[:, None] - edges, step) / (step**2).sum(axis=1)
        near = edges + np.clip(share, 0, 1)[..., None] * step
        least = min(least, float(np.linalg.norm(points[:, None] - near, axis=2).min()))
    return least


def test_eight_halves_of_squares_fill_a_sheet_of_one_by_four():
    nest = fit_on_sheets([RIGHT] * 8, [ANY] * 8, (1.0, 4.0), gap=0.0)
    assert len(nest.stock) == 1
    assert nest.density == pytest.approx(1.0)


def test_a_panel_that_may_not_turn_lies_as_it_is():
    flat = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])
    turned = fit_on_sheets([flat] * 2, [ANY] * 2, (2.0, 2.0), gap=0.0)
    assert len(turned.stock) == 1
    assert len(fit_on_sheets([flat] * 2, [(0.0,)] * 2, (1.5, 2.0), gap=0.0).stock) == 2
    with pytest.raises(ValueError, match="larger"):
        fit_on_sheets([flat], [(math.pi / 2,)], (1.5, 2.5))


@pytest.mark.parametrize("pack", [fit_on_sheets, partial(pack_sheets, seconds=4)])
def test_the_saw_has_its_gap_and_the_edge_needs_none(pack):
    rng = np.random.default_rng(3)
    outlines = [RIGHT * rng.uniform(0.4, 1.0, 2) for _ in range(12)]
    nest = pack(outlines, [ANY] * 12, (1.2, 2.0), gap=0.008)
    placed = list(there(outlines, nest))
    assert sorted(one.item for one in nest.placed) == list(range(12))
    for stock, shape in placed:
        assert shape.min() >= -1e-6
        assert (shape.max(axis=0) <= np.array([2.0, 1.2]) + 1e-6).all()
        assert stock < len(nest.stock)
    apart = [distance(a, b) for (s, a), (t, b) in combinations(placed, 2) if s == t]
    assert 0.008 - 3e-6 < min(apart) < 0.02


def test_fewer_sheets_than_in_rows():
    """Of 2.1 m only one lane of panels 1.2 m high is filled by rows; the rest of it is used now."""
    wish = PanelWish(0.0, (2.1, 6.0), True, 65e-6, 50.0, 0.3, 0.05)
    plan = panel_plan(SHELL, wish)
    owner = [k for k, kind in enumerate(plan.types) for _ in range(kind.quantity)]
    rows = nest_in_rows([plan.lying[k] for k in owner], 2.1, (6.0,))
    area = sum(kind.area * kind.quantity for kind in plan.types)
    assert least_sheets(area, wish.sheet) <= len(plan.nest.stock) < len(rows.stock)
    assert plan.nest.density == pytest.approx(area / (12.6 * len(plan.nest.stock)))


def test_flutes_run_along_the_sheet_and_plain_sheets_turn_any_way():
    """Every fluted panel has its first edge across the sheet: its flutes run up from there."""
    fluted, plain = (
        panel_plan(SHELL, PanelWish(0.0, (1.5, 3.0), directed, 0.0, 0.0, 0.3, 0.05))
        for directed in (True, False)
    )
    assert {one.angle for one in fluted.nest.placed} <= {0.0, math.pi}
    for kind, flat in zip(fluted.types, fluted.lying, strict=True):
        step = np.roll(flat, -1, axis=0) - flat
        first = np.linalg.norm(kind.outline[1] - kind.outline[0]) - kind.corners[:2].sum()
        across = np.abs(step[:, 0]) < 1e-9
        assert np.abs(step[across, 1]).max() == pytest.approx(first)
    assert len({round(one.angle, 6) for one in plain.nest.placed}) > 2
    assert len(plain.nest.stock) <= len(fluted.nest.stock)


def test_the_plan_that_buys_less_is_kept():
    two = fit_on_sheets([RIGHT] * 2, [ANY] * 2, (1.0, 1.0), gap=0.0)
    four = fit_on_sheets([RIGHT] * 2, [(0.0,)] * 2, (1.0, 1.0), gap=0.0)
    assert better_nest(four, two) is two
    assert better_nest(two, four) is two


def test_a_panel_too_long_for_one_way_lies_another():
    """1.9 m wide and 1.6 m high: on 1.65 by 3 m its edge lies along the sheet."""
    plan = panel_plan(SHELL, PanelWish(0.0, (1.1, 3.0), False, 0.0, 0.0, 0.3))
    assert max(float(flat[:, 1].max()) for flat in plan.lying) <= 1.1
