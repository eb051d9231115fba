"""Hub bodies, plates and ends: watertight, of the right volume, with the right holes."""

import io
import zipfile

import numpy as np
import pytest
import trimesh

from strutwright.brief import parse_brief
from strutwright.exports.hubs import hub_files
from strutwright.making import end_work, hub_plates, hub_solids, socket_sizes
from strutwright.making.directions import directions
from strutwright.parts import make_kit
from strutwright.shape import make_shell

BRIEF = """
[project]
name = "Mosswick test"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "{connector}"
"""


def kit_of(stock="emt-1", connector="socket-pin"):
    brief = parse_brief(BRIEF.format(stock=stock, connector=connector), "house.toml")
    return make_kit(make_shell(brief), brief)


@pytest.fixture(scope="module")
def sockets():
    return kit_of()


def test_spokes_point_where_the_struts_of_the_hub_go(sockets):
    """Angles between the spokes of a type are those between the struts in the shell."""
    shell = sockets.shell
    for kind in sockets.hub_types:
        hub = int(kind.hubs[0])
        struts = sockets.socket_struts[sockets.socket_start[hub] : sockets.socket_start[hub + 1]]
        ends = shell.struts[struts]
        other = np.where(ends[:, 0] == hub, ends[:, 1], ends[:, 0])
        ways = shell.hubs[other] - shell.hubs[hub]
        ways /= np.linalg.norm(ways, axis=1)[:, None]
        found = directions(kind)
        assert found @ found.T == pytest.approx(ways @ ways.T, abs=2e-2)


def test_bodies_are_watertight_and_keep_their_volume_in_the_files(sockets):
    for kind in sockets.hub_types:
        solid = hub_solids(sockets, kind)[0]
        assert solid.mesh.is_watertight
        assert solid.mesh.volume == pytest.approx(solid.volume, rel=1e-6)
        read = trimesh.load(io.BytesIO(solid.stl()), file_type="stl")
        assert read.volume == pytest.approx(1e9 * solid.volume, rel=1e-3)


def test_volume_of_a_body_against_points_thrown_at_it(sockets):
    """Another route: the share of random points that lie in the walls, from distances alone."""
    kind = min(sockets.hub_types, key=lambda k: k.valence)
    solid = hub_solids(sockets, kind)[0]
    ways = directions(kind)
    hub = int(kind.hubs[0])
    struts = sockets.socket_struts[sockets.socket_start[hub] : sockets.socket_start[hub + 1]]
    end = (sockets.shell.struts[struts, 1] == hub).astype(int)
    start = sockets.allowances[struts, end]
    bore, depth = socket_sizes(sockets)
    bore, outer = bore / 2, bore / 2 + 0.004
    reach = float(start.max()) + depth
    points = np.random.default_rng(1).uniform(-reach, reach, (400_000, 3))
    along = points @ ways.T
    away = np.sqrt(np.maximum((points**2).sum(axis=1)[:, None] - along**2, 0))
    sleeve = ((along >= 0) & (along <= start + depth) & (away <= outer)).any(axis=1)
    ball = np.linalg.norm(points, axis=1) <= outer
    bored = ((along >= start) & (away <= bore)).any(axis=1)
    hole = sockets.connector.hole_diameter / 2
    pinned = np.zeros(len(points), dtype=bool)
    for way, first in zip(ways, start, strict=True):
        x = np.cross([0, 0, 1.0], way)
        x /= np.linalg.norm(x)
        axis = np.cross(way, x)
        from_pin = points - way * (first + sockets.connector.bolt_from_end)
        beside = np.linalg.norm(np.cross(from_pin, axis), axis=1)
        pinned |= (beside <= hole) & (np.abs(from_pin @ axis) <= 2 * outer)
    inside = (sleeve | ball) & ~bored & ~pinned
    estimate = inside.mean() * (2 * reach) ** 3
    assert solid.volume == pytest.approx(estimate, rel=0.03)


def test_the_same_body_gives_the_same_3mf(sockets):
    solid = hub_solids(sockets, sockets.hub_types[0])[0]
    data = solid.three_mf()
    assert data == solid.three_mf()
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        model = package.read("3D/3dmodel.model").decode()
    assert model.count("<vertex ") == len(solid.mesh.vertices)
    assert model.count("<triangle ") == len(solid.mesh.faces)
    assert 'unit="millimeter"' in model


def test_plates_have_two_holes_an_arm_and_the_first_where_the_bolt_goes():
    kit = kit_of("timber-45x70", "plate-bolt")
    kind = kit.hub_types[0]
    plate = hub_plates(kit, kind)[0]
    assert plate.holes == 2 * kind.valence
    holes = [mark for mark in plate.sheet.marks if mark.layer == "HOLES"]
    middle = plate.sheet.width / 2
    reach = sorted(np.hypot(h.centre[0] - middle, h.centre[1] - middle) for h in holes)
    kit_start = float(kit.allowances.mean())
    start = 1000 * (kit_start + kit.connector.bolt_from_end)
    # a fold cuts the corner: the flat piece is shorter than the way over the hub's centre
    assert start - 0.1 * kit_start * 1000 < reach[0] < start
    assert reach[-1] - reach[0] == pytest.approx(3 * 1000 * kit.connector.hole_diameter, rel=0.1)


def test_a_bolted_hub_has_a_template_of_its_spokes():
    kit = kit_of(connector="flattened-bolt")
    template = hub_plates(kit, kit.hub_types[0])[0]
    spokes = [mark for mark in template.sheet.marks if mark.layer == "SPOKES"]
    assert len(spokes) == kit.hub_types[0].valence


def test_holes_of_a_strut_lie_a_node_length_less_play_apart():
    """Flattened ends: hole to hole is hub centre to hub centre, since the bolt is the hub."""
    kit = kit_of(connector="flattened-bolt")
    for row, kind in zip(end_work(kit), kit.strut_types, strict=True):
        assert row.between == pytest.approx(kind.node_length, abs=1e-3)
        assert 0 < row.bend[0] <= row.bend[1] < np.pi / 2
        assert row.flattened > 2 * row.from_end


def test_files_of_all_hubs(sockets):
    names = set(hub_files(sockets))
    for kind in sockets.hub_types:
        assert {f"hubs/{kind.label}{end}" for end in (".dxf", ".stl", ".3mf")} <= names
