"""Bodies of hubs as watertight solids: balls with sleeves, folded plates, stacked ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, cast

import numpy as np

from strutwright.making.arms import Arm, Plate, plates_of
from strutwright.making.directions import directions
from strutwright.making.form import WALL, Fixings, HubForm, Stake, hub_form
from strutwright.making.plate import lug
from strutwright.making.three_mf import three_mf
from strutwright.parts import HubType, Kit
from strutwright.values import Floats

if TYPE_CHECKING:
    import trimesh

__all__ = ["HubSolid", "hub_solids", "socket_sizes"]

FACETS: Final = 32
"""Sides of a round."""
ROUND: Final = 1 / math.cos(math.pi / FACETS)
"""Corner radius of a bore in radii of its round: its flat sides touch the round from outside."""


@dataclass(frozen=True)
class HubSolid:
    """The body of a hub type, or one of its plates.

    Parameters
    ----------
    label : str
    mesh : trimesh.Trimesh
        m, centre of the hub at the origin, z outwards.
    volume : float, m3
    """

    label: str
    mesh: trimesh.Trimesh
    volume: float

    def stl(self) -> bytes:
        """Return the body as binary STL in mm."""
        return bytes(cast("bytes", self._in_mm().export(file_type="stl")))

    def three_mf(self) -> bytes:
        """Return the body as 3MF in mm; the same body gives the same bytes."""
        mesh = self._in_mm()
        return three_mf(mesh.vertices, mesh.faces)

    def _in_mm(self) -> trimesh.Trimesh:
        import trimesh

        return trimesh.Trimesh(1000.0 * self.mesh.vertices, self.mesh.faces, process=False)


def hub_solids(kit: Kit, kind: HubType, fixings: Fixings | None = None) -> tuple[HubSolid, ...]:
    """Return the bodies of hub type `kind`; empty where nothing is known of its connector's.

    Sockets: a sleeve reaches from the hub's centre over the socket; its bore starts where the
    strut ends, and is as wide as the strut and its play. A pin goes through both where the
    connector has one. Plates: folded, with their holes. Flattened ends: their stack on the bolt.
    """
    form = hub_form(kit, kind, fixings)
    if form.kind == "socket":
        return (_solid(form.label, _body(form, directions(kind))),)
    plates = plates_of(form)
    return tuple(_solid(one.label, _folded(form, one, n == 0)) for n, one in enumerate(plates))


def socket_sizes(kit: Kit) -> tuple[float, float] | None:
    """Return bore and depth of the sockets of `kit`, m; None where its hubs have none."""
    if kit.connector.kind != "socket":
        return None
    form = hub_form(kit, kit.hub_types[0])
    return form.bore, form.spokes[0].end - form.spokes[0].start


def _solid(label: str, body: Any) -> HubSolid:  # noqa: ANN401 - the library has no types
    import trimesh

    found = body.to_mesh64()
    mesh = trimesh.Trimesh(found.vert_properties[:, :3], found.tri_verts, process=False)
    return HubSolid(label, mesh, float(body.volume()))


def _body(form: HubForm, ways: Floats) -> Any:  # noqa: ANN401 - the library has no types
    from manifold3d import Manifold, OpType  # heavy, and needed here alone

    outer, bore = form.outer, form.bore / 2 * ROUND
    sleeves = [Manifold.sphere(outer, FACETS)]
    drilled = []
    for way, spoke in zip(ways, form.spokes, strict=True):
        start, depth = spoke.start, spoke.end - spoke.start
        sleeves.append(_along(Manifold.cylinder(spoke.end, outer, outer, FACETS), way))
        bored = Manifold.cylinder(depth + 2 * outer, bore, bore, FACETS)
        drilled.append(_along(bored.translate((0, 0, start)), way))
        for at in spoke.holes:
            through = _cylinder(form.hole, 4 * outer).rotate((90, 0, 0))
            drilled.append(_along(through.translate((0, 0, at)), way))
    if form.hanger:
        drilled.append(_cylinder(form.hanger, 4 * outer))
    if form.stake:
        sleeve, hole = _staked(form.stake, outer)
        sleeves.append(sleeve)
        drilled.append(hole)
    whole = Manifold.batch_boolean(sleeves, OpType.Add)
    return Manifold.batch_boolean([whole, *drilled], OpType.Subtract)


def _staked(stake: Stake, outer: float) -> tuple[Any, Any]:
    """Return the upright sleeve of a stake with the web that holds it, and its hole."""
    from manifold3d import Manifold

    up, at = np.array(stake.up), stake.reach * np.array(stake.out)
    around = _along(_cylinder(stake.diameter + 2 * WALL, 2 * outer), up)
    web = _along(_cylinder(2 * WALL, 2 * outer), up)
    sleeve = Manifold.batch_hull([around.translate(at), web])
    return sleeve, _along(_cylinder(stake.diameter, 6 * outer), up).translate(at)


def _folded(form: HubForm, plate: Plate, is_first: bool) -> Any:  # noqa: ANN401 - as above
    """Return a folded plate, or the stack of pressed ends, the middle of its flat at its depth."""
    from manifold3d import Manifold, OpType

    thick, fold, is_stack = form.thickness, plate.arms[0].fold, form.kind == "flattened"
    solid = [] if is_stack else [Manifold.cylinder(thick, fold, fold, 96, center=True)]
    drilled = []
    for arm in plate.arms:
        body, holes = _arm(form, arm)
        solid.append(body)
        drilled += holes
    high = 2 * thick * (len(plate.arms) + 2)
    if is_first and form.stake and not is_stack:
        azimuth, at, end, width = lug(form.stake, fold)
        flat = Manifold.cube((end, width, thick)).translate((0, -width / 2, -thick / 2))
        solid.append(flat.rotate((0, 0, math.degrees(azimuth))))
        hole = _cylinder(form.stake.diameter, high).translate((at, 0, 0))
        drilled.append(hole.rotate((0, 0, math.degrees(azimuth))))
    has_centre = form.hanger or not is_first or any(spoke.is_brace for spoke in form.spokes)
    if has_centre and not is_stack:
        drilled.append(_cylinder(form.hanger or form.hole, high))
    whole = Manifold.batch_boolean(solid, OpType.Add)
    done = Manifold.batch_boolean([whole, *drilled], OpType.Subtract)
    return done.translate((0, 0, -plate.depth))


def _arm(form: HubForm, arm: Arm) -> tuple[Any, list[Any]]:
    """Return an arm, flat to its fold and then along its strut, and its holes.

    The side of the arm is a band of the plate's thickness about its middle line, mitred at the
    fold: its volume is that of the flat piece.
    """
    from manifold3d import CrossSection, Manifold

    half, dip = form.thickness / 2, arm.spoke.dip
    sine, cosine, mitre = math.sin(dip), math.cos(dip), math.tan(dip / 2)
    beyond = arm.end - arm.fold
    tip = (arm.fold + beyond * cosine, -beyond * sine)
    corners = [
        (arm.start, half), (arm.start, -half), (arm.fold - half * mitre, -half),
        (tip[0] - half * sine, tip[1] - half * cosine),
        (tip[0] + half * sine, tip[1] + half * cosine), (arm.fold + half * mitre, half),
    ]  # fmt: skip
    side = CrossSection([corners])
    body = Manifold.extrude(side, form.width).translate((0, 0, -form.width / 2)).rotate((90, 0, 0))
    drilled = []
    for at in arm.holes:
        hole = _cylinder(form.hole, 6 * form.thickness)
        if at > arm.fold:
            hole = hole.translate((at - arm.fold, 0, 0)).rotate((0, math.degrees(dip), 0))
            hole = hole.translate((arm.fold, 0, 0))
        else:
            hole = hole.translate((at, 0, 0))
        drilled.append(_placed(hole, arm))
    return _placed(body, arm), drilled


def _placed(solid: Any, arm: Arm) -> Any:  # noqa: ANN401 - the library has no types
    return solid.rotate((0, 0, math.degrees(arm.spoke.azimuth))).translate((0, 0, arm.level))


def _cylinder(diameter: float, height: float) -> Any:  # noqa: ANN401 - the library has no types
    """Return an upright cylinder about the origin."""
    from manifold3d import Manifold

    return Manifold.cylinder(height, diameter / 2, diameter / 2, FACETS // 2, center=True)


def _along(solid: Any, way: Sequence[float] | Floats) -> Any:  # noqa: ANN401 - as above
    """Return `solid`, made along +z, turned so that +z points along `way`."""
    z = np.asarray(way, dtype=np.float64)
    side = np.cross([0.0, 0.0, 1.0], z)
    length = float(np.linalg.norm(side))
    x = side / length if length > 1e-12 else np.array([1.0, 0.0, 0.0])
    y = np.cross(z, x)
    return solid.transform(np.column_stack([x, y, z, np.zeros(3)]))
