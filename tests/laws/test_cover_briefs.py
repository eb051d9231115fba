"""Covers of random briefs of every family: laws of strips, panels, layers and their nests."""

from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection

import strutwright as sw
from strutwright.brief import parse_brief
from strutwright.cover import offset_points, plan_cover
from strutwright.cover.nest import laid
from strutwright.cover.surface import vents_of
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.shape import make_shell, topology
from strutwright.shape.surface import angle_deficits, face_areas, face_normals

SOME = settings(max_examples=8, deadline=None)

DOMES = st.builds(
    'family = "dome"\ndivision = [{}, 0]\ntruncation = "{}"\nseed = "{}"'.format,
    st.integers(1, 3),
    st.sampled_from(["1/2", "2/3"]),
    st.sampled_from(["icosahedron", "octahedron"]),
)
LONG_DOMES = st.builds(
    'family = "long-dome"\nbays = {}\ncap_symmetry = {}\nrows = "{}"'.format,
    st.integers(1, 2),
    st.integers(4, 6),
    st.sampled_from(["along", "around"]),
)
VAULTS = st.builds(
    'family = "vault"\nbays = {}\nprofile = "{}"\ngrid = "{}"\n'
    'ends = "{}"\nside_walls = "{} m"'.format,
    st.integers(2, 3),
    st.sampled_from(["circle", "parabola", "pointed"]),
    st.sampled_from(["three-way", "lamella"]),
    st.sampled_from(["wall", "open"]),
    st.sampled_from(["0", "0.6"]),
)
OPENINGS = st.sampled_from([
    "",
    '[[openings]]\nkind = "door"\nwidth = "0.8 m"\nheight = "1.6 m"',
    '[[openings]]\nkind = "vent"\nshare = "8 %"\nplace = "low"\n'
    '[[openings]]\nkind = "vent"\nshare = "8 %"\nplace = "high"',
    '[[openings]]\nkind = "slot"\nwidth = "0.6 m"',
])  # fmt: skip
FILMS = st.builds(
    'material = "pe-film-180"\nroll = "{} m"\nlayers = {}\n'
    'standoff = "{} mm"\nstrips = "{}"'.format,
    st.sampled_from(["3.6", "6", "12"]),
    st.integers(1, 2),
    st.sampled_from(["0", "40"]),
    st.sampled_from(["auto", "courses", "free"]),
)
SHEETS = st.builds(
    'material = "{}"\nsheet = ["{} m", "6 m"]\nlayers = {}'.format,
    st.sampled_from(["pc-8", "plywood-12"]),
    st.sampled_from(["3", "4"]),
    st.integers(1, 2),
)


def brief_of(shape, openings, cover, riser):
    return f"""
[project]
name = "Mosswick test house"
[size]
width = "4.6 m"
[shape]
{shape}
[struts]
stock = "emt-1"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "socket-pin"
[site]
riser = "{riser} m"
[cover]
{cover}
{openings}
"""


def wishes(kinds):
    """Shape, openings, cover and riser of a brief, as its text."""
    shapes = st.one_of(DOMES, LONG_DOMES, VAULTS)
    return st.tuples(shapes, OPENINGS, kinds, st.sampled_from(["0", "0.5"]))


def covered(wish):
    """A shell with its cover; a brief whose opening does not suit its shape goes without it."""
    shape, openings, cover, riser = wish
    for tried in ((openings, riser), ("", riser), ("", "0")):
        brief = parse_brief(brief_of(shape, tried[0], cover, tried[1]), "house.toml")
        try:
            kit = make_kit(make_shell(brief), brief)
        except InputError:
            continue
        return kit.shell, plan_cover(kit.shell, kit.stock, brief, hub=0.05)
    pytest.fail(f"no shell: {shape}")


def rims(shell):
    """Free edges of the shell: those between two base hubs, and the others."""
    edges = [tuple(sorted(edge)) for ring in topology.boundary_rings(shell.faces)
             for edge in pairwise([*ring.tolist(), int(ring[0])])]  # fmt: skip
    base = set(shell.base.tolist())
    return [e for e in edges if set(e) <= base], [e for e in edges if not set(e) <= base]


def section(outline):
    return CrossSection([np.asarray(outline, dtype=float)])


def is_laid_well(outlines, nest):
    """Inside their stock, and none over another."""
    placed = {}
    for one in nest.placed:
        shape = laid(outlines[one.item], one.angle)
        there = shape + np.array([one.x, one.y])
        use = nest.stock[one.stock]
        assert there.min() >= -1e-6
        assert (there.max(axis=0) <= [use.length + 1e-6, use.width + 1e-6]).all()
        placed.setdefault(one.stock, []).append(there)
    for pieces in placed.values():
        for a, b in combinations(pieces, 2):
            if (a.min(0) < b.max(0)).all() and (b.min(0) < a.max(0)).all():
                assert (section(a) ^ section(b)).area() < 1e-6


@SOME
@given(wish=wishes(FILMS))
def test_film_of_any_shell(wish):
    """One draw, all laws: the shells cost more than the looking."""
    shell, plan = covered(wish)
    lies_flat_and_covers_all(shell, plan)
    has_every_strut_once(shell, plan)
    folds_back_onto_the_shell(shell, plan)
    turns_full_circle(shell)


def lies_flat_and_covers_all(shell, plan):
    """Edges as long as what they lie on to 0.1 mm, no face over another, every face once."""
    for film in plan.films:
        points = offset_points(shell, film.offset)
        covered = np.concatenate([piece.faces for piece in film.pieces])
        assert sorted(covered.tolist()) == list(range(len(shell.faces)))
        for piece in film.pieces:
            hubs = points[shell.faces[piece.faces]]
            for k in range(3):
                flat = np.linalg.norm(piece.corners[:, k] - piece.corners[:, k - 1], axis=1)
                assert flat == pytest.approx(
                    np.linalg.norm(hubs[:, k] - hubs[:, k - 1], axis=1), abs=1e-4
                )
            p, q = hubs[:, 1] - hubs[:, 0], hubs[:, 2] - hubs[:, 0]
            area = np.linalg.norm(np.cross(p, q), axis=1).sum() / 2
            # faces laid flat fill the outline: as large together, and as large as their union
            whole = CrossSection(list(piece.corners))
            assert abs(section(piece.outline).area()) == pytest.approx(area, rel=1e-6)
            assert whole.area() == pytest.approx(area, rel=1e-6)
            assert (section(piece.outline) - section(piece.cut)).area() < 1e-9
        is_laid_well([piece.cut for piece in film.pieces], film.nest)


def has_every_strut_once(shell, plan):
    """As a seam, a hem, a flap, or inside a piece; vents are pieces of their own."""
    hems, flaps = rims(shell)
    of_strut = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    for film in plan.films:
        kinds = {"seam": [], "hem": [], "flap": []}
        for piece in film.pieces:
            for strut, kind in zip(piece.edge_struts.tolist(), piece.edge_kinds, strict=True):
                kinds[kind].append(strut)
        assert sorted(kinds["hem"]) == sorted(of_strut[e] for e in hems)
        assert sorted(kinds["flap"]) == sorted(of_strut[e] for e in flaps)
        assert sorted(kinds["seam"]) == sorted([seam.strut for seam in film.seams] * 2)
        alone = [set(piece.faces.tolist()) for piece in film.pieces if piece.vent]
        assert sorted(min(faces) for faces in alone) == vents_of(shell).tolist()


def folds_back_onto_the_shell(shell, plan):
    """Each piece is folded along its inner edges by the angle between the faces' normals."""
    film = plan.films[-1]
    points = offset_points(shell, film.offset)
    for piece in film.pieces:
        flats = dict(zip(piece.faces.tolist(), piece.corners, strict=True))
        start = next(iter(flats))
        frames = {start: motion(flats[start], points[shell.faces[start]])}
        waiting = [face for face in flats if face != start]
        while waiting:
            # the next face beside one that is placed turns about the edge that they share
            face, other = next(
                (f, g) for f in waiting for g in frames if len(shared(shell, f, g)) == 2
            )
            waiting.remove(face)
            frames[face] = hinged(shell, points, flats, frames[other], (face, other))
            turn, shift = frames[face]
            back = np.column_stack([flats[face], np.zeros(3)]) @ turn.T + shift
            assert np.abs(back - points[shell.faces[face]]).max() < 1e-4


def shared(shell, one, two):
    return [h for h in shell.faces[one].tolist() if h in shell.faces[two]]


def hinged(shell, points, flats, frame, pair):
    """The motion of a face whose neighbour has moved by `frame`."""
    face, other = pair
    hubs = shell.faces[face].tolist()
    flat = flats[face]
    turn, shift = frame
    i, j = (hubs.index(h) for h in shared(shell, face, other))
    axis = turn @ np.append(flat[j] - flat[i], 0.0)
    axis /= np.linalg.norm(axis)
    before, after = normal_of(points[shell.faces[other]]), normal_of(points[hubs])
    spin = rotation(axis, np.arctan2(np.cross(before, after) @ axis, before @ after))
    pivot = turn @ np.append(flat[i], 0.0) + shift
    return spin @ turn, spin @ (shift - pivot) + pivot


def normal_of(corners):
    normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
    return normal / np.linalg.norm(normal)


def motion(flat, corners):
    """The rigid motion that brings a flat triangle (3, 2) onto its corners in space."""
    x = corners[1] - corners[0]
    u = flat[1] - flat[0]
    z = normal_of(corners)
    x = x / np.linalg.norm(x)
    y = np.cross(z, x)
    angle = np.arctan2(u[1], u[0])
    c, s = np.cos(angle), np.sin(angle)
    turn = np.column_stack([c * x - s * y, s * x + c * y, z])
    return turn, corners[0] - turn @ np.append(flat[0], 0.0)


def rotation(axis, angle):
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * k @ k


@SOME
@given(wish=wishes(SHEETS))
def test_panels_are_the_faces_and_lie_on_them(wish):
    """Faces less openings: each has one panel; laid back it ends within the planes of its folds."""
    shell, plan = covered(wish)
    normals = face_normals(shell)
    for layer in plan.sheets:
        seen = np.concatenate([kind.faces for kind in layer.types])
        assert sorted(seen.tolist()) == list(range(len(shell.faces)))
        kinds = {int(f): (kind, int(h)) for kind in layer.types
                 for f, h in zip(kind.faces, kind.first_hubs, strict=True)}  # fmt: skip
        placed = {}
        for face, (kind, first) in kinds.items():
            hubs = shell.faces[face].tolist()
            k = hubs.index(first)
            a, b = shell.hubs[first], shell.hubs[hubs[(k + 1) % 3]]
            along = (b - a) / np.linalg.norm(b - a)
            inward = np.cross(normals[face], along)
            frame = np.array([along, inward])
            placed[face] = a + layer.offset * normals[face] + kind.outline @ frame
        edges = {}
        for face, hubs in enumerate(shell.faces.tolist()):
            for i, j in pairwise([*hubs, hubs[0]]):
                edges.setdefault((min(i, j), max(i, j)), []).append(face)
        for (i, _), faces in edges.items():
            if len(faces) == 2:
                halving = normals[faces[0]] - normals[faces[1]]
                size = np.linalg.norm(halving)
                if size < 1e-6:
                    continue
                for face in faces:
                    # out of the face: away from its own middle
                    out = -np.sign(
                        (shell.hubs[shell.faces[face]].mean(0) - shell.hubs[i]) @ halving
                    )
                    beyond = (placed[face] - shell.hubs[i]) @ halving / size * out
                    # alike to a millimetre, and short of the plane between them
                    assert beyond.max() < 1.5e-3
        is_laid_well(list(layer.lying), layer.nest)
    if len(plan.sheets) == 2 and shell.recipe.family == "dome":
        outer, inner = (sum(k.area * k.quantity for k in layer.types) for layer in plan.sheets)
        assert inner < outer


def turns_full_circle(shell):
    """Gauss-Bonnet: 360 degrees times the Euler number, openings, open ends and risers or not."""
    turns = topology.euler_number(shell.faces)
    assert angle_deficits(shell).sum() == pytest.approx(2 * np.pi * turns)


def test_an_imported_kit_is_covered_like_any_other():
    brief = sw.read_brief(Path("examples/oldmere-old-dome.toml"))
    kit = make_kit(make_shell(brief), brief)
    plan = plan_cover(kit.shell, kit.stock, brief)
    (film,) = plan.films
    assert kit.shell.recipe.family == "imported"
    covered = np.concatenate([piece.faces for piece in film.pieces])
    assert sorted(covered.tolist()) == list(range(len(kit.shell.faces)))
    total = face_areas(kit.shell).sum()
    # moved out by half a strut the film is a little larger than the faces
    assert total < sum(section(p.outline).area() for p in film.pieces) < 1.05 * total
