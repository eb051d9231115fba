"""Folded plates, stacked ends, stake holes, hangers: folded again in space, weighed, read."""

import io
from functools import cache

import ezdxf
import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.exports.hubs import hub_files
from strutwright.making import Fixings, foot_strap, hub_form, hub_plates, hub_solids, plates_of
from strutwright.making.directions import directions
from strutwright.parts import make_kit
from strutwright.shape import make_shell

BRIEF = """
[project]
name = "Mosswick test"
[size]
width = "4.4 m"
{size}
[shape]
family = "{family}"
division = [2, 0]
{shape}
[struts]
stock = "{stock}"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "{connector}"
"""


@cache
def kit_of(stock, connector, family="dome", size="", shape=""):
    text = BRIEF.format(stock=stock, connector=connector, family=family, size=size, shape=shape)
    brief = parse_brief(text, "house.toml")
    return make_kit(make_shell(brief), brief)


def timber():
    return kit_of("timber-45x70", "plate-bolt")


def braced(stock="timber-45x70", connector="plate-bolt"):
    size, shape = 'length = "8 m"', 'bays = 2\ninner_braces = "all"'
    return kit_of(stock, connector, "long-dome", size, shape)


def folded(arm, depth, at):
    """Return a point of the flat arm, `at` from the axis, folded in space."""
    flat = np.array([min(at, arm.fold), 0.0, 0.0])
    beyond = max(at - arm.fold, 0.0)
    dip, azimuth = arm.spoke.dip, arm.spoke.azimuth
    x, _, z = flat + beyond * np.array([np.cos(dip), 0.0, -np.sin(dip)])
    return np.array([x * np.cos(azimuth), x * np.sin(azimuth), z - depth])


@pytest.mark.parametrize("kit", [timber, braced])
def test_folded_bolts_lie_on_the_strut_as_far_from_the_hub_as_the_cut_list_says(kit):
    kit = kit()
    for kind in kit.hub_types:
        form = hub_form(kit, kind)
        ways = {spoke: way for spoke, way in zip(form.spokes, directions(kind), strict=True)}
        for plate in plates_of(form):
            for arm in plate.arms:
                way = ways[arm.spoke]
                for flat, along in zip(arm.holes, arm.spoke.holes, strict=True):
                    place = folded(arm, plate.depth, flat)
                    assert place @ way == pytest.approx(along, abs=1e-9)
                    aside = place - (place @ way) * way
                    assert np.linalg.norm(aside) == pytest.approx(abs(arm.passes_by), abs=1e-9)


def test_one_dip_everywhere_lets_all_lines_meet_in_the_hub():
    """The apex of a 2-frequency dome: five struts of one dip."""
    kit = timber()
    kind = next(k for k in kit.hub_types if k.valence == 5 and np.ptp(k.spokes[:, 1]) < 1e-6)
    (plate,) = plates_of(hub_form(kit, kind))
    assert max(abs(arm.passes_by) for arm in plate.arms) < 1e-9
    assert plate.depth > 0


def test_a_folded_plate_keeps_the_volume_of_its_sheet():
    kit = timber()
    fixings = Fixings(0.025, True, kit.shell.base)
    for kind in kit.hub_types:
        form = hub_form(kit, kind, fixings)
        if any(plate.slits for plate in plates_of(form)):
            continue
        for drawn, solid in zip(
            hub_plates(kit, kind, fixings), hub_solids(kit, kind, fixings), strict=True
        ):
            assert solid.mesh.is_watertight
            assert solid.volume == pytest.approx(drawn.area * form.thickness, rel=3e-3)
            assert solid.mesh.volume == pytest.approx(solid.volume, rel=1e-9)


def test_braces_have_a_plate_of_their_own():
    kit = braced()
    with_braces = [k for k in kit.hub_types if any(s.is_brace for s in hub_form(kit, k).spokes)]
    assert with_braces
    for kind in with_braces:
        form = hub_form(kit, kind)
        plates = hub_plates(kit, kind)
        braces = [spoke for spoke in form.spokes if spoke.is_brace]
        assert [plate.label for plate in plates] == [kind.label, f"{kind.label}-braces"]
        assert plates[1].holes == 2 * len(braces) + 1  # and one on the axis that joins the plates
        starts = {round(spoke.start, 6) for spoke in braces}
        assert min(starts) >= max(s.start for s in form.spokes if not s.is_brace) - 1e-9
        assert all(solid.mesh.is_watertight for solid in hub_solids(kit, kind))


def test_arms_that_lie_over_one_another_are_parted_by_a_slit():
    """Corners of two arms of width w at an angle a meet w / (2 sin(a / 2)) from the axis."""
    kit = braced()
    slit = next(s for k in kit.hub_types for p in plates_of(hub_form(kit, k)) for s in p.slits)
    form = next(
        hub_form(kit, k) for k in kit.hub_types
        if any(slit in p.slits for p in plates_of(hub_form(kit, k)))
    )  # fmt: skip
    gaps = [
        (b.azimuth - a.azimuth) % (2 * np.pi)
        for a in form.spokes for b in form.spokes
        if (a.label, b.label) == slit.between
    ]  # fmt: skip
    corners = [form.width / 2 / np.sin(gap / 2) for gap in gaps if 0 < gap < np.pi]
    last = max(spoke.end for spoke in form.spokes)
    assert any(slit.end == pytest.approx(one) for one in corners) or slit.end <= last + 0.05
    assert slit.start < slit.end


@pytest.mark.parametrize("connector", ["socket-pin", "flattened-bolt"])
def test_stakes_stand_upright_in_the_world_and_clear_of_all_struts(connector):
    kit = kit_of("emt-1", connector)
    fixings = Fixings(0.025, False, kit.shell.base)
    staked = 0
    for kind in kit.hub_types:
        stake = hub_form(kit, kind, fixings).stake
        standing = np.intersect1d(kind.hubs, kit.shell.base)
        assert (stake.count if stake else 0) == len(standing)
        if stake is None:
            continue
        staked += stake.count
        ways, hub = directions(kind), int(standing[0])
        ends = kit.shell.struts[kit.sockets(hub)]
        along = kit.shell.hubs[ends.sum(axis=1) - hub] - kit.shell.hubs[hub]
        rise = along[:, 2] / np.linalg.norm(along, axis=1)
        assert ways @ stake.up == pytest.approx(rise, abs=2e-2)
        assert np.dot(stake.up, stake.out) == pytest.approx(0.0, abs=1e-9)
        line = stake.reach * np.array(stake.out) + np.linspace(-1, 1, 4001)[:, None] * stake.up
        for way in ways:
            reach = np.maximum(line @ way, 0.0)
            near = np.linalg.norm(line - reach[:, None] * way, axis=1).min()
            assert near > stake.diameter / 2 + kit.stock.section.depth / 2
    assert staked == len(kit.shell.base)


def test_stake_and_hanger_are_bored_into_the_body():
    kit = kit_of("emt-1", "socket-pin")
    kind = next(k for k in kit.hub_types if np.isin(k.hubs, kit.shell.base).any())
    (bare,) = hub_solids(kit, kind)
    (hung,) = hub_solids(kit, kind, Fixings(None, True))
    (staked,) = hub_solids(kit, kind, Fixings(0.025, False, kit.shell.base))
    assert hung.mesh.is_watertight
    assert staked.mesh.is_watertight
    form = hub_form(kit, kind, Fixings(None, True))
    through = np.pi / 4 * form.hanger**2 * 2 * form.outer  # a ball is thinner beside its axis
    assert 0.85 * through < bare.volume - hung.volume < through * 1.2
    assert staked.volume > bare.volume
    assert staked.mesh.euler_number == bare.mesh.euler_number - 2  # one hole more


def test_pressed_ends_are_a_stack_of_plies_on_the_bolt():
    kit = kit_of("emt-1", "flattened-bolt")
    for kind in kit.hub_types:
        (stack,) = plates_of(hub_form(kit, kind))
        (solid,) = hub_solids(kit, kind)
        assert solid.mesh.is_watertight
        levels = [arm.level for arm in stack.arms]
        assert np.diff(levels) == pytest.approx(2 * kit.stock.section.wall)
        assert all(
            hole == pytest.approx(0.0, abs=1e-12) for arm in stack.arms for hole in arm.holes
        )


def test_the_files_for_the_cutter_hold_their_holes_in_true_size():
    kit = kit_of("emt-1", "flattened-bolt")
    fixings = Fixings(0.025, False, kit.shell.base)
    files = hub_files(kit, fixings)
    read = ezdxf.read(io.StringIO(files["hubs/foot-strap.dxf"].decode()))
    assert not read.audit().has_errors
    holes = sorted(one.dxf.radius for one in read.modelspace().query("CIRCLE[layer=='HOLES']"))
    assert holes == pytest.approx([1000 * kit.connector.hole_diameter / 2, 27.0 / 2])
    strap = foot_strap(hub_form(kit, kit.hub_types[-1], fixings).stake, 0.009)
    assert strap.area > 0
    assert all(name.endswith((".dxf", ".stl", ".3mf")) for name in files)
    assert "hubs/foot-strap.dxf" not in hub_files(kit)
