"""Panels in one and two layers: corners clear of hubs, inner sizes, what holds both layers."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.cover import PanelWish, offset_points, panel_plan, plan_cover
from strutwright.cover.panels import screw_pull
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import dihedrals
from strutwright.shape.surface import face_normals

BRIEF = """
[project]
name = "Corvane test house"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "timber-45x70"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "plate-bolt"
[cover]
{cover}
"""
SHELL = dome(DomeSpec(radius=2.0, division=(2, 0)))


def plan_of(cover, **more):
    brief = parse_brief(BRIEF.format(cover=cover), "house.toml")
    kit = make_kit(make_shell(brief), brief)
    return plan_cover(kit.shell, kit.stock, brief, **more)


def wish(offset, *, hub=0.0):
    return PanelWish(offset, (4.0, 6.0), False, 0.0, 0.0, 0.3, hub)


def back_on_the_shell(shell, kind, face, offset):
    """The panel's outline in space, over its face."""
    hubs = shell.faces[face].tolist()
    first = hubs.index(int(kind.first_hubs[kind.faces.tolist().index(face)]))
    a, b = (shell.hubs[hubs[(first + k) % 3]] for k in (0, 1))
    normal = face_normals(shell)[face]
    along = (b - a) / np.linalg.norm(b - a)
    inward = np.cross(normal, along)
    return a + offset * normal + kind.outline @ np.array([along, inward])


@pytest.mark.parametrize("offset", [0.035, -0.035])
def test_panels_of_both_layers_keep_half_the_gap_from_the_plane_that_halves_the_fold(offset):
    """Where two faces meet, their panels end at one plane through the strut, gap/2 to each side.

    Measured square to that plane the rest is gap/2 cos(f/2).
    """
    shell = SHELL
    plan = panel_plan(shell, wish(offset))
    normals, folds = face_normals(shell), np.pi - dihedrals(shell)
    ends = {tuple(pair): k for k, pair in enumerate(shell.struts.tolist())}
    owners = {}
    for face, hubs in enumerate(shell.faces.tolist()):
        for a, b in zip(hubs, hubs[1:] + hubs[:1], strict=True):
            owners.setdefault((min(a, b), max(a, b)), []).append(face)
    kind_of = {int(f): kind for kind in plan.types for f in kind.faces}
    checked = 0
    for (a, b), faces in owners.items():
        if len(faces) != 2:
            continue
        one, two = faces
        halving = normals[one] - normals[two]
        halving /= np.linalg.norm(halving)
        corners = back_on_the_shell(shell, kind_of[one], one, offset)
        away = np.abs((corners - shell.hubs[a]) @ halving)
        nearest = np.sort(away)[:2]
        wanted = plan.gap / 2 * np.cos(folds[ends[a, b]] / 2)
        # sides are cut alike to a millimetre
        assert nearest == pytest.approx([wanted, wanted], abs=1.5e-3)
        checked += 1
    assert checked > 20


def test_inner_panels_are_smaller_by_the_real_offset():
    """Each edge moves by the difference of the offsets times tan(f/2), corners by what that asks.

    All faces of an octahedron: sides L less 2 √3 times the inset of an equilateral triangle.
    """
    shell = dome(DomeSpec(radius=2.0, division=(1, 0), seed="octahedron"))
    outer, inner = (panel_plan(shell, wish(at)).types[0] for at in (0.04, -0.06))
    fold = np.pi - np.arccos(-1 / 3)
    moved = (inner.setbacks - outer.setbacks)[outer.bevels > 0]
    assert moved == pytest.approx(0.1 * np.tan(fold / 2))
    assert inner.area < outer.area


def test_corners_come_off_square_to_their_bisector_and_clear_the_hub():
    """Hub over the corner of an equilateral face of side 2√2: the cut is 0.2 m from it."""
    shell = dome(DomeSpec(radius=2.0, division=(1, 0), seed="octahedron"))
    plain, cut = (panel_plan(shell, wish(0.0, hub=hub)).types[0] for hub in (0.0, 0.2))
    assert np.array_equal(plain.cut, plain.outline)
    assert len(cut.cut) == 6
    gap = cut.setbacks.max()
    # opposite the free edge: both edges set back alike, the corner lies 2 gap in from the hub
    k = next(k for k in range(3) if cut.setbacks[k] > 0 and cut.setbacks[k - 1] > 0)
    assert cut.corners[k] == pytest.approx((0.2 - 2 * gap) / np.cos(np.pi / 6))
    assert cut.area < plain.area


def test_holes_keep_away_from_cut_corners():
    for kind in panel_plan(SHELL, wish(0.0, hub=0.15)).types:
        for k, corner in enumerate(kind.outline):
            near = np.linalg.norm(kind.holes - corner, axis=1).min()
            assert near > kind.corners[k]


def test_two_layers_of_sheets_are_both_cut_and_bought():
    single, double = (plan_of(f'material = "plywood-9"\nlayers = {n}', hub=0.1) for n in (1, 2))
    outer, inner = double.sheets
    assert [one.name for one in double.sheets] == ["outer", "inner"]
    assert {kind.label[0] for kind in inner.types} == {"U"}
    assert inner.offset == -outer.offset
    assert sum(k.quantity for k in inner.types) == sum(k.quantity for k in outer.types)
    assert single.used < double.used < 2 * single.used
    assert double.gap.at_strut == pytest.approx(0.07)
    assert "cover-condensation" in {note.code for note in double.notes}


@pytest.mark.parametrize("cover", ['"pe-film-180"', '"plywood-9"'])
def test_spacers_hold_both_layers_at_every_hub(cover):
    plan = plan_of(f'material = {cover}\nlayers = 2\nstandoff = "30 mm"')
    hubs = np.concatenate([one.hubs for one in plan.fittings])
    assert sorted(hubs.tolist()) == list(range(len(plan.gap.at_hub)))
    for one in plan.fittings:
        assert one.length == pytest.approx(one.above + one.below)
        assert plan.gap.at_hub[one.hubs] == pytest.approx(one.length, abs=1.5e-3)
        assert one.length >= plan.gap.at_strut - 1e-9


def test_the_spacer_of_an_apex_by_hand():
    """Faces with normals (±1, ±1, 1)/√3 moved by h meet at h √3."""
    shell = dome(DomeSpec(radius=2.0, division=(1, 0), seed="octahedron"))
    top = int(np.argmax(shell.hubs[:, 2]))
    apart = offset_points(shell, 0.02)[top] - offset_points(shell, -0.05)[top]
    assert apart == pytest.approx([0, 0, 0.07 * np.sqrt(3)])


def test_a_screw_takes_its_share_of_the_worst_face():
    plan = panel_plan(SHELL, wish(0.0))
    pressure = np.zeros(len(SHELL.faces))
    worst = plan.types[0]
    pressure[worst.faces[0]] = 1000.0
    share = 1000.0 * worst.area / len(worst.holes)
    assert screw_pull(plan, pressure) == pytest.approx(share)
