"""Point laws and levelling against other routes to the same points."""

import numpy as np
import pytest
from scipy.optimize import minimize, minimize_scalar

from strutwright.shape.courses import courses_from_top, keep_courses
from strutwright.shape.level import level_whole
from strutwright.shape.pointlaws import arc_points, even_points, flat_points, unit
from strutwright.shape.seeds import SEEDS, make_seed, top_of
from strutwright.shape.subdivide import subdivide
from strutwright.shape.symmetric import net_orbits, spread_out, tangents
from strutwright.shape.topology import boundary_rings, struts_of


def log_lengths(net, points):
    ends = points[struts_of(net.faces)]
    return np.log(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))


@pytest.mark.parametrize("seed", SEEDS)
def test_even_law_of_three_frequency_against_a_search_of_its_one_parameter(seed):
    """All that can move is how far the edge hubs stand from the corners, as an angle."""
    net = subdivide(make_seed(seed), (3, 0))
    on_edge = np.flatnonzero(np.sort(net.weights, axis=1)[:, 0] == 0)
    on_edge = on_edge[net.weights[on_edge].max(axis=1) == 6]  # of T = 9
    corners = np.take_along_axis(net.corners, np.argsort(-net.weights, axis=1), axis=1)[on_edge]
    near, far = net.seed.points[corners[:, 0]], net.seed.points[corners[:, 1]]
    across = unit(far - np.einsum("vd,vd->v", far, near)[:, None] * near)

    def placed(angle):
        points = flat_points(net)
        points[on_edge] = np.cos(angle) * near + np.sin(angle) * across
        return points

    edge = np.arccos(net.seed.points[net.seed.faces[0, 0]] @ net.seed.points[net.seed.faces[0, 1]])
    best = minimize_scalar(
        lambda angle: log_lengths(net, placed(angle)).var(),
        bounds=(0.1 * edge, 0.45 * edge),
        method="bounded",
        options={"xatol": 1e-10},
    )
    assert even_points(net) == pytest.approx(placed(best.x), abs=1e-6)


@pytest.mark.parametrize("division", [(4, 0), (2, 2), (3, 1), (6, 0)])
@pytest.mark.parametrize("seed", SEEDS)
def test_even_law_is_more_even_than_the_others_and_than_its_neighbours(seed, division):
    net = subdivide(make_seed(seed), division)
    even = even_points(net)
    least = log_lengths(net, even).var()
    assert least < log_lengths(net, flat_points(net)).var()
    assert least < log_lengths(net, arc_points(net)).var()
    orbits = net_orbits(net)
    places = np.einsum("vji,vj->vi", orbits.turns, even)[orbits.standing]
    for k, free in enumerate(tangents(orbits, places)):
        for direction in free.T:
            for step in (-1e-3, 1e-3):
                moved = places.copy()
                moved[k] = unit(moved[k] + step * direction)
                assert log_lengths(net, spread_out(orbits, moved)).var() > least


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("frequency", [2, 3, 5, 8])
def test_arc_law_divides_seed_edges_into_equal_arcs(seed, frequency):
    net = subdivide(make_seed(seed), (frequency, 0))
    first, second = net.seed.points[net.seed.faces[0, :2]]
    edge = np.arccos(first @ second)
    points = arc_points(net)
    lie_on = np.abs(points @ np.cross(first, second)) < 1e-12
    lie_on &= points @ (first + second) > 2 * np.cos(edge / 2) * np.cos(edge / 2) - 1e-12
    along = np.sort(np.arccos(np.clip(points[lie_on] @ first, -1, 1)))
    assert along == pytest.approx(np.linspace(0, edge, frequency + 1), abs=1e-7)


def test_arc_law_puts_the_inner_hub_where_three_great_circles_nearly_meet():
    """The hub of weights (2, 1, 1) of four, by rotations instead of sines of arcs."""
    net = subdivide(make_seed("icosahedron"), (4, 0))
    hub = np.flatnonzero((np.sort(net.weights, axis=1) == [4, 4, 8]).all(axis=1))[0]  # of T = 16
    order = np.argsort(-net.weights[hub])
    a, b, c = net.seed.points[net.corners[hub][order]]

    def part(start, end, share):
        axis = unit(np.cross(start, end))
        angle = share * np.arccos(start @ end)
        return start * np.cos(angle) + np.cross(axis, start) * np.sin(angle)

    lines = [
        np.cross(part(a, b, 2 / 4), part(a, c, 2 / 4)),
        np.cross(part(b, a, 3 / 4), part(b, c, 3 / 4)),
        np.cross(part(c, a, 3 / 4), part(c, b, 3 / 4)),
    ]
    meets = [unit(np.cross(lines[i], lines[j])) for i, j in ((0, 1), (1, 2), (2, 0))]
    meets = [point * np.sign(point @ (a + b + c)) for point in meets]
    assert arc_points(net)[hub] == pytest.approx(unit(np.sum(meets, axis=0)), abs=1e-12)


@pytest.mark.parametrize(("division", "courses"), [((4, 0), 5), ((5, 0), 7), ((6, 0), 8)])
def test_whole_levelling_moves_least(division, courses):
    """Against a general optimiser on the same free movements."""
    net = subdivide(make_seed("icosahedron"), division)
    top, start = top_of(net.seed, "vertex"), flat_points(net)
    part = keep_courses(net.faces, courses_from_top(net.faces, start @ top), courses)
    ring = boundary_rings(part)[0]
    moved = level_whole(net, start, ring, top)
    orbits = net_orbits(net)
    places = np.einsum("vji,vj->vi", orbits.turns, start)[orbits.standing]
    free = tangents(orbits, places)
    split = np.cumsum([f.shape[1] for f in free])[:-1]

    def placed(step):
        shift = [f @ s for f, s in zip(free, np.split(step, split), strict=True)]
        return spread_out(orbits, unit(places + np.array(shift)))

    _, kinds = np.unique(np.round(start[ring] @ top, 9), return_index=True)

    def uneven(step):
        return np.diff(placed(step)[ring[kinds]] @ top)

    search = minimize(
        lambda step: ((placed(step) - start) ** 2).sum(),
        np.zeros(sum(f.shape[1] for f in free)),
        method="SLSQP",
        constraints={"type": "eq", "fun": uneven},
        options={"ftol": 1e-14, "maxiter": 300},
    )
    assert search.success
    assert np.ptp(moved[ring] @ top) < 1e-9
    assert ((moved - start) ** 2).sum() == pytest.approx(search.fun, rel=1e-6)
    assert moved == pytest.approx(placed(search.x), abs=1e-5)
