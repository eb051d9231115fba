"""Film unrolled from any shell: edges as long as struts, flat and free of overlap, all covered."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from strutwright.cover import FilmWish, PanelWish, film_layer, nest_in_rows, panel_plan, patterns
from strutwright.cover.surface import vents_of
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import dihedrals, node_lengths
from strutwright.shape.stretch import LongDomeSpec, long_dome
from strutwright.shape.surface import angle_deficits, face_areas
from strutwright.shape.vault import VaultSpec, vault
from strutwright.shape.vents import Vent, open_vents

FEW = settings(max_examples=6, deadline=None)

domes = st.builds(
    lambda f, r, cut: dome(DomeSpec(radius=r, division=(f, 0), truncation=cut)),
    st.integers(1, 3),
    st.floats(1.5, 3.0),
    st.sampled_from(["1/2", "2/3"]),
)
long_domes = st.builds(
    lambda p, n: long_dome(LongDomeSpec(4.0, None, None, n, p, (1, 1))),
    st.sampled_from([4, 5, 6]),
    st.integers(0, 2),
)
vaults = st.builds(
    lambda profile, n: vault(VaultSpec(4.0, None, 2.0, n, profile=profile)),
    st.sampled_from(["circle", "pointed"]),
    st.integers(2, 3),
)
shells = st.one_of(domes, long_domes, vaults)
ways = st.sampled_from(["courses", "free"])


def wish(width=6.0, way="courses", offset=0.0):
    return FilmWish("outer", "P", offset, width, (30.0, 100.0), way)


def area(polygon):
    x, y = polygon.T
    return np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2


def crosses(p, q, r, s):
    def side(a, b, c):
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return side(p, q, r) * side(p, q, s) < -1e-12 and side(r, s, p) * side(r, s, q) < -1e-12


def is_simple(polygon):
    edges = list(zip(polygon, np.roll(polygon, -1, axis=0), strict=True))
    return not any(crosses(*a, *b) for a, b in itertools.combinations(edges, 2))


@FEW
@given(shell=shells, way=ways)
def test_unrolled_edges_are_as_long_as_struts(shell, way):
    film = film_layer(shell, wish(way=way))
    lengths = node_lengths(shell)
    ends = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    for piece in film.pieces:
        for face, corners in zip(piece.faces.tolist(), piece.corners, strict=True):
            hubs = shell.faces[face].tolist()
            for k in range(3):
                flat = np.linalg.norm(corners[(k + 1) % 3] - corners[k])
                strut = ends[min(hubs[k], hubs[(k + 1) % 3]), max(hubs[k], hubs[(k + 1) % 3])]
                assert flat == pytest.approx(lengths[strut], abs=1e-4)


@FEW
@given(shell=shells, way=ways)
def test_every_face_is_covered_once_and_no_piece_overlaps_itself(shell, way):
    film = film_layer(shell, wish(way=way))
    covered = np.concatenate([piece.faces for piece in film.pieces])
    assert sorted(covered.tolist()) == list(range(len(shell.faces)))
    areas = face_areas(shell)
    for piece in film.pieces:
        # an outline that crosses itself nowhere and is as large as its faces: none lies on another
        assert is_simple(piece.outline)
        assert area(piece.outline) == pytest.approx(areas[piece.faces].sum(), rel=1e-9)
        assert area(piece.cut) > area(piece.outline)
        assert piece.width <= 6.0 + 1e-9
    total = sum(area(piece.outline) for piece in film.pieces)
    assert total == pytest.approx(areas.sum(), rel=1e-9)


@FEW
@given(shell=shells)
def test_every_edge_is_seam_hem_or_flap_as_the_shell_has_them(shell):
    film = film_layer(shell, wish())
    lengths = node_lengths(shell)
    seams = {seam.strut for seam in film.seams}
    assert len(seams) == len(film.seams)
    inside = len(shell.faces) * 3 - len(film.seams) * 2
    inside -= sum(kind != "seam" for piece in film.pieces for kind in piece.edge_kinds)
    # a tree of n faces keeps n - 1 struts, and one more round each hub that closes flat
    kept = len(shell.faces) - len(film.pieces)
    assert inside >= 2 * kept
    assert film.seam_length == pytest.approx(lengths[list(seams)].sum())
    ring = np.isin(shell.struts, shell.base).all(axis=1)
    assert film.hem_length <= lengths[ring].sum() + 1e-9


@FEW
@given(shell=shells)
def test_the_higher_piece_lies_over_the_lower(shell):
    film = film_layer(shell, wish())
    height = shell.hubs[shell.faces, 2].mean(axis=1)
    owner = {int(f): k for k, piece in enumerate(film.pieces) for f in piece.faces}
    edges = {}
    for face, hubs in enumerate(shell.faces.tolist()):
        for a, b in zip(hubs, hubs[1:] + hubs[:1], strict=True):
            edges.setdefault((min(a, b), max(a, b)), []).append(face)
    for seam in film.seams:
        one, two = edges[tuple(shell.struts[seam.strut].tolist())]
        upper = one if height[one] >= height[two] else two
        if abs(height[one] - height[two]) > 1e-3:
            assert owner[upper] == seam.over
        assert {seam.over, seam.under} == {owner[one], owner[two]}


@FEW
@given(shell=domes)
def test_angle_deficits_are_a_full_turn(shell):
    """Gauss-Bonnet: what film has to lose at the hubs, the base ring's turn included, is 360°."""
    assert angle_deficits(shell).sum() == pytest.approx(2 * np.pi)


@FEW
@given(shell=shells)
def test_a_piece_folded_back_lies_on_the_shell(shell):
    """Each face is turned up about its strut by the fold there, one after the other."""
    film = film_layer(shell, wish())
    piece = max(film.pieces, key=lambda one: len(one.faces))
    fold = np.pi - dihedrals(shell)
    ends = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    placed = {}
    for face, flat in zip(piece.faces.tolist(), piece.corners, strict=True):
        hubs = shell.faces[face].tolist()
        shared = [h for h in hubs if h in placed]
        if not placed:
            placed |= dict(zip(hubs, shell.hubs[hubs], strict=True))
            last = {face: np.cross(*(shell.hubs[hubs[1:]] - shell.hubs[hubs[0]]))}
            continue
        # the neighbour across a kept strut
        common, normal = next(
            (both, normal)
            for other, normal in last.items()
            if len(both := [h for h in hubs if h in shell.faces[other]]) == 2
        )
        i = next(k for k in range(3) if hubs[k] in common and hubs[(k + 1) % 3] in common)
        a, b, c = hubs[i], hubs[(i + 1) % 3], hubs[(i + 2) % 3]
        fa, fb, fc = flat[i], flat[(i + 1) % 3], flat[(i + 2) % 3]
        along2 = (fb - fa) / np.linalg.norm(fb - fa)
        x = (fc - fa) @ along2
        y = along2[0] * (fc - fa)[1] - along2[1] * (fc - fa)[0]
        pa, pb = placed[a], placed[b]
        along = (pb - pa) / np.linalg.norm(pb - pa)
        n = normal / np.linalg.norm(normal)
        flat_in = np.cross(n, along)  # away from the neighbour, in its plane
        angle = fold[ends[min(a, b), max(a, b)]]
        inward = np.cos(angle) * flat_in - np.sin(angle) * n
        point = pa + x * along + y * inward
        assert point == pytest.approx(shell.hubs[c], abs=1e-6)
        placed[c] = point
        last[face] = np.cross(along, inward)
        assert shared


@FEW
@given(shell=shells)
def test_panels_are_the_faces(shell):
    plan = panel_plan(shell, PanelWish(0.0, (4.0, 12.0), True, 0.0, 0.0, 0.3))
    covered = np.concatenate([kind.faces for kind in plan.types])
    assert sorted(covered.tolist()) == list(range(len(shell.faces)))
    assert sum(kind.quantity for kind in plan.types) == len(plan.nest.placed)


def test_vents_are_pieces_of_their_own():
    shell = open_vents(dome(DomeSpec(radius=3.0, division=(3, 0))), Vent("vent_1", 2.0))
    film = film_layer(shell, wish())
    alone = [piece for piece in film.pieces if piece.vent]
    assert sorted(int(piece.faces[0]) for piece in alone) == vents_of(shell).tolist()
    assert all(len(piece.faces) == 1 for piece in alone)


@FEW
@given(
    sizes=st.lists(st.tuples(st.floats(0.2, 1.4), st.floats(0.2, 1.4)), min_size=1, max_size=14),
    skew=st.floats(0, 1),
)
def test_nested_pieces_keep_apart_and_inside(sizes, skew):
    outlines = [np.array([[0, 0], [a, 0], [a * skew, b]]) for a, b in sizes]
    nest = nest_in_rows(outlines, 2.0, (6.0,))
    placed = []
    for one in nest.placed:
        shape = outlines[one.item]
        if one.turned:
            shape = shape.max(axis=0) + shape.min(axis=0) - shape
        shape = shape + np.array([one.x, one.y])
        assert shape.min() >= -1e-9
        assert shape[:, 0].max() <= 6.0 + 1e-9
        assert shape[:, 1].max() <= 2.0 + 1e-9
        placed.append((one.stock, shape))
    for (s, a), (t, b) in itertools.combinations(placed, 2):
        assert s != t or separated(a, b)
    assert sorted(one.item for one in nest.placed) == list(range(len(sizes)))


def separated(a, b):
    for polygon in (a, b):
        step = np.roll(polygon, -1, axis=0) - polygon
        for normal in np.stack([step[:, 1], -step[:, 0]], axis=1):
            p, q = a @ normal, b @ normal
            if p.max() <= q.min() + 1e-9 or q.max() <= p.min() + 1e-9:
                return True
    return False


@FEW
@given(shell=domes)
def test_pieces_of_a_pattern_are_cut_alike(shell):
    film = film_layer(shell, wish())
    groups = patterns(film.pieces)
    assert sorted(k for group in groups for k in group) == list(range(len(film.pieces)))
    for group in groups:
        sizes = [film.pieces[k].area for k in group]
        assert max(sizes) - min(sizes) < 5e-3
