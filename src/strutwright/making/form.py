"""The true form of a hub type: where its struts begin, holes, folds, stake hole and hanger.

Everything that draws or models a hub takes its measures from here, so that the card, the DXF for
the cutter and the solid agree.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np

from strutwright.making.directions import directions
from strutwright.making.ends import pressed_length
from strutwright.parts import HubType, Kit
from strutwright.shape.measure import hub_normals
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["CLEARANCE", "LEAST_DEPTH", "PLATE", "WALL", "Fixings", "HubForm", "Spoke", "Stake",
           "hub_form"]  # fmt: skip

WALL: Final = 0.004
"""m of wall round a bore or a hole; our choice, to be tested."""
LEAST_DEPTH: Final = 1.2
"""Depth of a socket, in diameters of the strut; our choice, to be tested."""
CLEARANCE: Final = 0.0003
"""m between strut and bore beside the connector's play, for a printed or drilled bore."""
PLATE: Final = 0.008
"""m, thickness of a hub plate: what the catalogue's 0.35 kg an end comes to; our choice."""
PITCH: Final = 3.0
"""Diameters between the two bolts of an arm. Source: EN 1993-1-8 Table 3.3, least 2.2 d0, read."""
EDGE: Final = 2.0
"""Diameters from the last bolt to the end of the arm. Source: the same, least 1.2 d0."""
HANGER: Final = 0.009
"""m, hole for an M8 eye bolt on the hub's axis; our choice."""
SHACKLE: Final = 0.013
"""m, hole for an M12 shackle where the anchor does not go through the hub; our choice."""
THROUGH: Final = 0.030
"""m, thickest stake that is driven through the hub itself; our choice."""
STAKE_PLAY: Final = 0.002
"""m, hole over stake; our choice."""
STEEPEST: Final = math.radians(60.0)
"""A strut that leaves the hub steeper than this is in the way of a hanger."""
LEVEL: Final = 0.1
"""Level part of a hub's normal below which the surface lies level: outwards is off the middle."""


@dataclass(frozen=True, eq=False)
class Fixings(ArrayValue):
    """What hubs carry besides struts.

    Parameters
    ----------
    stake : float or None, m
        Diameter of the stakes; None where anchors are no stakes or there are none.
    is_hung : bool
        A load may hang at any one hub.
    ground : (G,) int array
        Hubs that stand on the ground and are held down.
    """

    stake: float | None = None
    is_hung: bool = False
    ground: Indices = field(default_factory=lambda: np.zeros(0, dtype=np.int64))


@dataclass(frozen=True)
class Spoke:
    """The end of a strut at a hub; all along the strut's line from the hub's centre, m.

    Parameters
    ----------
    azimuth, dip : float, rad
    label : str
        Of the strut type.
    is_brace : bool
    start : float
        Where the strut begins; negative where it reaches past the centre.
    holes : tuple of float
        Middles of its holes.
    end : float
        How far hub, arm or pressed flat reach.
    """

    azimuth: float
    dip: float
    label: str
    is_brace: bool
    start: float
    holes: tuple[float, ...]
    end: float


@dataclass(frozen=True)
class Stake:
    """The upright hole for a stake or a shackle, beside the struts.

    Parameters
    ----------
    diameter : float, m
    count : int
        Hubs of the type that stand on the ground; the others have none.
    up, out : (float, float, float)
        Upright and the level way to the hole, unit vectors in the hub: z along its axis, x along
        its first spoke.
    reach : float, m
        From the hub's centre to the middle of the hole.
    """

    diameter: float
    count: int
    up: tuple[float, float, float]
    out: tuple[float, float, float]
    reach: float


@dataclass(frozen=True)
class HubForm:
    """The measures of a hub type, m and rad.

    Parameters
    ----------
    label : str
    kind : str
        As the connector's.
    spokes : tuple of Spoke
        In the order of the type's.
    width : float
        Of a strut, an arm or a pressed end along the shell's surface.
    thickness : float
        Of the plate, or of one pressed end.
    bore, outer : float
        Diameter of a bore; radius of the round body about each bore and about the centre.
    hole : float
        Diameter of a bolt or pin hole; 0 where there is none.
    hanger : float
        Diameter of the hole on the hub's axis; 0 where there is none.
    stake : Stake or None
    """

    label: str
    kind: Literal["flattened", "socket", "plate", "own"]
    spokes: tuple[Spoke, ...]
    width: float
    thickness: float
    bore: float
    outer: float
    hole: float
    hanger: float
    stake: Stake | None


def hub_form(kit: Kit, kind: HubType, fixings: Fixings | None = None) -> HubForm:
    """Return the form of hub type `kind`, by its first hub."""
    fixings = fixings or Fixings()
    connector, section = kit.connector, kit.stock.section
    hole = connector.hole_diameter or 0.0
    bore = section.depth + (connector.slip or 0.0) + CLEARANCE
    spokes = _spokes(kit, kind)
    width = section.width
    thickness = 0.0
    if connector.kind == "flattened":
        width, thickness = math.pi / 2 * section.depth, 2 * section.wall
    elif connector.kind == "plate":
        width, thickness = max(width, 2 * EDGE * hole), PLATE
    is_clear = all(abs(spoke.dip) < STEEPEST for spoke in spokes)
    return HubForm(
        kind.label, connector.kind, spokes, width, thickness, bore, bore / 2 + WALL, hole,
        HANGER if fixings.is_hung and is_clear else 0.0,
        _stake(kit, kind, fixings, bore / 2 + WALL),
    )  # fmt: skip


def _spokes(kit: Kit, kind: HubType) -> tuple[Spoke, ...]:
    connector, depth = kit.connector, kit.stock.section.depth
    hub = int(kind.hubs[0])
    struts = kit.sockets(hub)
    at_end = (kit.shell.struts[struts, 1] == hub).astype(int)
    starts = kit.allowances[struts, at_end]
    roles = kit.shell.role[struts]
    first, hole = connector.bolt_from_end, connector.hole_diameter
    found = []
    for (azimuth, dip), label, role, start in zip(
        kind.spokes.tolist(), kind.sockets, roles.tolist(), starts.tolist(), strict=True
    ):
        holes: tuple[float, ...] = ()
        end = start + LEAST_DEPTH * depth
        if first is not None and hole is not None:
            holes = (start + first,)
            end = max(end, start + 2 * first)
            if connector.kind == "plate":
                holes = (start + first, start + first + PITCH * hole)
                end = holes[1] + EDGE * hole
            elif connector.kind == "flattened":
                end = start + pressed_length(first, depth)
        found.append(Spoke(azimuth, dip, label, role == "brace", start, holes, end))
    return tuple(found)


def _stake(kit: Kit, kind: HubType, fixings: Fixings, outer: float) -> Stake | None:
    standing = kind.hubs[np.isin(kind.hubs, fixings.ground)]
    if not len(standing):
        return None
    through = fixings.stake is not None and fixings.stake <= THROUGH
    diameter = fixings.stake + STAKE_PLAY if through and fixings.stake else SHACKLE
    turn, away = _turn(kit, kind, int(standing[0]))
    up, out = turn.T @ np.array([0.0, 0.0, 1.0]), turn.T @ away
    ways, radius = directions(kind), diameter / 2 + kit.stock.section.depth / 2 + STAKE_PLAY
    least = outer + diameter / 2
    choices = [(out * side, least * more) for more in (1.0, 1.5, 2.0, 3.0) for side in (1, -1)]
    clear = [one for one in choices if _clearance(ways, up, one[0] * one[1]) >= radius]
    out, reach = (clear or choices)[0]
    return Stake(diameter, len(standing), _triple(up), _triple(out), reach)


def _clearance(ways: Floats, up: Floats, at: Floats) -> float:
    """Return how near the struts along `ways` come to the upright line through `at`, m."""
    side = ways - np.outer(ways @ up, up)  # seen from above, struts are rays from the centre
    length = np.maximum((side**2).sum(axis=1), 1e-12)
    along = np.maximum(side @ at / length, 0.0)
    return float(np.linalg.norm(along[:, None] * side - at, axis=1).min())


def _triple(vector: Floats) -> tuple[float, float, float]:
    x, y, z = (float(value) for value in vector)
    return x, y, z


def _turn(kit: Kit, kind: HubType, hub: int) -> tuple[Floats, Floats]:
    """Return the (3, 3) turn from the type's axes to the world's at `hub`, and outwards in plan.

    Kabsch 1976 (recalled), a reflection let in for a hub that is the mirror image of its type.
    """
    shell = kit.shell
    struts = kit.sockets(hub)
    other = shell.struts[struts].sum(axis=1) - hub
    along = shell.hubs[other] - shell.hubs[hub]
    world = along / np.linalg.norm(along, axis=1, keepdims=True)
    normal = hub_normals(shell)[hub]
    ours = np.vstack([directions(kind), [0.0, 0.0, 1.0]])
    u, _, v = np.linalg.svd(np.vstack([world, normal]).T @ ours)
    turn: Floats = u @ v
    out = normal * [1.0, 1.0, 0.0]
    if np.linalg.norm(out) < LEVEL:
        out = (shell.hubs[hub] - shell.hubs[shell.base].mean(axis=0)) * [1.0, 1.0, 0.0]
    length = float(np.linalg.norm(out))
    level: Floats = out / length if length > LEVEL / 1e6 else np.array([1.0, 0.0, 0.0])
    return turn, level
