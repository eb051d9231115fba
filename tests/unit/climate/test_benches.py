"""Benches and paths on floors that can be drawn by hand."""

import numpy as np
import pytest

from strutwright.climate import Entrance, bench_plan, bench_sheet
from strutwright.shape import topology
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.surface import floor_area


def barn(length, width, eaves=2.5):
    """A house of straight walls with a roof of 1 m over them, open at no end."""
    x, y = length / 2, width / 2
    ring = np.array([[x, y], [-x, y], [-x, -y], [x, -y]])
    hubs = np.vstack([
        np.column_stack([ring, np.zeros(4)]), np.column_stack([ring, np.full(4, eaves)]),
        [[0.0, 0.0, eaves + 1]],
    ])  # fmt: skip
    faces = []
    for k in range(4):
        n = (k + 1) % 4
        faces += [[k, n, n + 4], [k, n + 4, k + 4], [k + 4, n + 4, 8]]
    faces = np.array(faces)
    struts = topology.struts_of(faces)
    return Shell(
        hubs=hubs, struts=struts, role=np.array(["shell"] * len(struts)), faces=faces,
        course=np.array([0] * 4 + [1] * 4 + [2]), base=np.arange(4), groups={},
        recipe=Recipe("imported"),
    )  # fmt: skip


def test_a_bench_round_the_wall_and_an_island_within_the_path():
    """6 by 5 m: wall bench 30 - 4.2 x 3.2, a path of 0.75 m, an island of 2.7 x 1.7 m."""
    found = bench_plan(barn(6, 5))
    wall, island = 6 * 5 - 4.2 * 3.2, 2.7 * 1.7
    assert found.wall == pytest.approx(wall / 0.9)
    assert found.middle == pytest.approx(island / 0.9)
    assert found.path_area == pytest.approx(4.2 * 3.2 - island)
    assert found.bench_area + found.path_area == pytest.approx(30)
    assert found.standing == pytest.approx(1)
    assert dict(found.floor) == pytest.approx(dict.fromkeys((1.2, 1.6, 1.9), 30.0))


def test_a_door_keeps_its_way_through_the_wall_bench():
    free = bench_plan(barn(6, 5))
    shut = bench_plan(barn(6, 5), [Entrance((3.0, 0.0), 0.0, 1.0)])
    assert free.wall - shut.wall == pytest.approx(1.0)
    # a door narrower than a path gets the width of a path
    slim = bench_plan(barn(6, 5), [Entrance((3.0, 0.0), 0.0, 0.5)])
    assert free.wall - slim.wall == pytest.approx(0.75)


def test_a_wide_house_has_rings_with_a_path_between():
    """14 by 12 m: within the first path 10.7 x 8.7; a ring of 1.8 m, then 7.1 x 5.1 of floor.

    Behind the second path 5.6 x 3.6 m: a ring as deep as leaves a path inside, 1.425 m.
    """
    found = bench_plan(barn(14, 12))
    first = 10.7 * 8.7 - 7.1 * 5.1
    second = 5.6 * 3.6 - (5.6 - 2.85) * 0.75
    assert found.middle == pytest.approx((first + second) / 0.9, abs=0.02)
    entered = bench_plan(barn(14, 12), [Entrance((0.0, -6.0), -np.pi / 2, 1.0)])
    assert found.middle - entered.middle == pytest.approx((1.8 + 1.425) / 0.9, abs=0.02)


def test_no_bench_is_deeper_than_one_reaches():
    """However wide the house, every point of a bench lies within 0.9 m of a path's edge."""
    for length, width in ((7, 6.5), (9, 8), (11, 7.4), (14, 12)):
        found = bench_plan(barn(length, width))
        inner = [ring for ring in found.benches if np.abs(ring).max() < width / 2 - 0.9]
        rings = sorted(inner, key=lambda ring: -np.abs(ring).max())
        for outer, hole in zip(rings[::2], [*rings[1::2], np.zeros((1, 2))], strict=False):
            deep = np.abs(outer).max(axis=0) - np.abs(hole).max(axis=0)
            assert deep.min() <= 1.8 + 1e-6


def test_a_riser_lifts_the_headroom():
    shell = dome(DomeSpec(radius=2.0, division=(3, 0)))
    low, high = bench_plan(shell), bench_plan(shell, riser=1.2)
    assert high.floor[0][1] == pytest.approx(floor_area(shell))
    assert high.bench_area > low.bench_area


def test_a_tunnel_too_low_for_benches_has_none():
    found = bench_plan(dome(DomeSpec(radius=1.0, division=(2, 0))))
    assert found.benches == ()
    assert found.wall == found.middle == found.path_area == found.standing == 0


def test_the_picture_shows_benches_doors_and_headroom():
    shell = barn(6, 5)
    doors = [Entrance((3.0, 0.0), 0.0, 1.0)]
    plan = bench_plan(shell, doors)
    sheet = bench_sheet(plan, shell, doors, lambda m: f"{m:g} m")
    layers = {getattr(mark, "layer", "") for mark in sheet.marks}
    assert {"BASE", "BENCHES", "DOORS", "HEADROOM"} <= layers
    assert any(getattr(mark, "text", "") == "1.9 m" for mark in sheet.marks)
