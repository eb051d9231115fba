"""The body of a socket hub as a watertight solid: a ball with a bored sleeve for every spoke."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, cast

import numpy as np

from strutwright.making.directions import directions
from strutwright.making.three_mf import three_mf
from strutwright.parts import HubType, Kit
from strutwright.values import Floats

if TYPE_CHECKING:
    import trimesh

__all__ = ["HubSolid", "hub_solid", "socket_sizes"]

WALL: Final = 0.004
"""m of wall round a bore; our choice, to be tested."""
LEAST_DEPTH: Final = 1.2
"""Depth of a socket, in diameters of the strut; our choice, to be tested."""
CLEARANCE: Final = 0.0003
"""m between strut and bore beside the connector's play, for a printed or drilled bore."""
FACETS: Final = 32
"""Sides of a round."""
ROUND: Final = 1 / math.cos(math.pi / FACETS)
"""Corner radius of a bore in radii of its round: its flat sides touch the round from outside."""


@dataclass(frozen=True)
class HubSolid:
    """The body of a hub type.

    Parameters
    ----------
    label : str
    mesh : trimesh.Trimesh
        m, centre of the hub at the origin, z outwards.
    volume : float, m3
    bore, depth : float, m
        Diameter and depth of a socket.
    """

    label: str
    mesh: trimesh.Trimesh
    volume: float
    bore: float
    depth: float

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


def hub_solid(kit: Kit, kind: HubType) -> HubSolid | None:
    """Return the body of hub type `kind`; None where hubs of the connector have none.

    A sleeve reaches from the hub's centre over the socket; its bore starts where the strut ends,
    and is as wide as the strut and its play. A pin goes through both where the connector has one.
    """
    connector = kit.connector
    sizes = socket_sizes(kit)
    if sizes is None:
        return None
    bore, reach = sizes
    outer = bore / 2 + WALL
    starts = _starts(kit, kind)
    ways = directions(kind)
    pin = (connector.hole_diameter, connector.bolt_from_end)
    solid = _body(ways, starts, (outer, bore / 2, reach), pin)
    return HubSolid(kind.label, _mesh(solid), float(solid.volume()), bore, reach)


def socket_sizes(kit: Kit) -> tuple[float, float] | None:
    """Return bore and depth of the sockets of `kit`, m; None where its hubs have none."""
    connector, depth = kit.connector, kit.stock.section.depth
    if connector.kind != "socket":
        return None
    bore = depth + (connector.slip or 0.0) + CLEARANCE
    reach = LEAST_DEPTH * depth
    if connector.bolt_from_end is not None:
        reach = max(reach, 2 * connector.bolt_from_end)
    return bore, reach


def _starts(kit: Kit, kind: HubType) -> Floats:
    """Return how far from the centre the struts of the type's first hub begin, (V,) m."""
    hub = int(kind.hubs[0])
    struts = kit.socket_struts[kit.socket_start[hub] : kit.socket_start[hub + 1]]
    end = (kit.shell.struts[struts, 1] == hub).astype(int)
    return np.asarray(kit.allowances[struts, end])


def _body(
    ways: Floats,
    starts: Floats,
    sizes: tuple[float, float, float],
    pin: tuple[float | None, float | None],
) -> Any:  # noqa: ANN401 - the library has no types
    from manifold3d import Manifold, OpType  # heavy, and needed here alone

    outer, bore, reach = sizes
    hole, at = pin
    sleeves = [Manifold.sphere(outer, FACETS)]
    drilled = []
    for way, start in zip(ways, starts.tolist(), strict=True):
        sleeves.append(_along(Manifold.cylinder(start + reach, outer, outer, FACETS), way))
        bored = Manifold.cylinder(reach + 2 * outer, bore * ROUND, bore * ROUND, FACETS)
        drilled.append(_along(bored.translate((0, 0, start)), way))
        if hole is not None and at is not None:
            through = Manifold.cylinder(4 * outer, hole / 2, hole / 2, FACETS // 2, center=True)
            drilled.append(_along(through.rotate((90, 0, 0)).translate((0, 0, start + at)), way))
    whole = Manifold.batch_boolean(sleeves, OpType.Add)
    return Manifold.batch_boolean([whole, *drilled], OpType.Subtract)


def _along(solid: Any, way: Floats) -> Any:  # noqa: ANN401 - the library has no types
    """Return `solid`, made along +z, turned so that +z points along `way`."""
    up = np.array([0.0, 0.0, 1.0])
    side = np.cross(up, way)
    length = float(np.linalg.norm(side))
    x = side / length if length > 1e-12 else np.array([1.0, 0.0, 0.0])
    y = np.cross(way, x)
    return solid.transform(np.column_stack([x, y, way, np.zeros(3)]))


def _mesh(solid: Any) -> trimesh.Trimesh:  # noqa: ANN401 - the library has no types
    import trimesh

    found = solid.to_mesh64()
    return trimesh.Trimesh(found.vert_properties[:, :3], found.tri_verts, process=False)
