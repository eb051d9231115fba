"""How far hubs sink under a hung load, by how stiff the joints are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from scipy.interpolate import RegularGridInterpolator

from strutwright.frame import solve
from strutwright.loads import hung_case
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.structure.model import make_model
from strutwright.structure.respond import case_loads
from strutwright.survey.settings import CLOSING_FORCE
from strutwright.values import ArrayValue, Floats, Indices

__all__ = [
    "JointRange",
    "JointSinks",
    "Joints",
    "joint_range",
    "sink_table",
    "sinks",
    "with_joints",
]

LEAST_FIXITY: Final = 0.01
"""kL/EI that a hinge counts as, so that what only joints hold does not fall: our choice."""
SEATED: Final = 0.1
"""Share of its slip by which an end whose play is closed still gives under `CLOSING_FORCE`, where
its stiffness was not tested: our choice, some 3 kN/mm for a slip of 1 mm."""
LEAST_SLIP: Final = 0.0005
"""m, slip of an end whose connector says none: our choice."""
BEYOND: Final = (0.0, 0.1, 0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0)
"""How much an end may give, as multiples of the softest that is supposed."""
TURNS: Final = 5
"""Stiffnesses against turning that are tried, evenly in 1 / (1 + 3 EI / kL) (Monforton and Wu,
end-fixity factor, 1963, recalled)."""
DURATION: Final = "week"
"""Load duration whose modulus holds while a proof load hangs."""


@dataclass(frozen=True)
class Joints:
    """Joints all alike.

    Parameters
    ----------
    fixity : float
        kL/EI against turning, of the middle strut.
    give : float, m/N
        Of one end along its strut; 0 for none.
    """

    fixity: float
    give: float


@dataclass(frozen=True)
class JointRange:
    """The softest and the stiffest joints that are supposed."""

    soft: Joints
    stiff: Joints


@dataclass(frozen=True, eq=False)
class JointSinks(ArrayValue):
    """Sink of hubs for one newton hung at hubs, over a grid of joints.

    Parameters
    ----------
    shares : (T,) array
        Of stiffness against turning, 1 / (1 + 3 / fixity).
    gives : (G,) array, m/N
    loaded : (L,) int array
        Hubs at which the load hangs.
    sinks : (T, G, L, H) array, m/N
        Downward movement of every hub.
    """

    shares: Floats
    gives: Floats
    loaded: Indices
    sinks: Floats

    def fine(self, loaded: int, hub: int, shares: Floats, gives: Floats) -> Floats:
        """Return the sink of `hub` under a newton at `loaded`, (shares, gives), m/N."""
        row = int(np.flatnonzero(self.loaded == loaded)[0])
        values = self.sinks[:, :, row, hub]
        if len(self.shares) == 1:
            row_of = np.interp(gives, self.gives, values[0])
            return np.broadcast_to(row_of, (len(shares), len(gives)))
        grid = RegularGridInterpolator((self.shares, self.gives), values)
        return np.asarray(grid(tuple(np.meshgrid(shares, gives, indexing="ij"))))


def joint_range(kit: Kit) -> JointRange:
    """Return the joints of `kit` as softest and stiffest, play closed.

    What its connector was tested for; where its give along the strut was not, from none to
    `SEATED` of its slip under `CLOSING_FORCE`.
    """
    connector = kit.connector
    if connector.rotational_stiffness is not None:
        low, high = (one / _rigidity(kit) for one in connector.rotational_stiffness)
    else:
        low, high = connector.fixity or (0.0, 0.0)
    if connector.axial_stiffness is not None:
        most, least = (1 / one for one in connector.axial_stiffness)
    else:
        most, least = SEATED * max(connector.slip or 0.0, LEAST_SLIP) / CLOSING_FORCE, 0.0
    return JointRange(Joints(max(low, LEAST_FIXITY), most), Joints(max(high, LEAST_FIXITY), least))


def with_joints(kit: Kit, soft: Joints, stiff: Joints) -> Kit:
    """Return `kit` with joints from `soft` to `stiff`."""
    connector = kit.connector
    turning = (soft.fixity, stiff.fixity)
    if connector.rotational_stiffness is not None:
        each = _rigidity(kit)
        changed = replace(connector, rotational_stiffness=(turning[0] * each, turning[1] * each))
    else:
        changed = replace(connector, fixity=turning)
    axial = (_per_give(soft.give), _per_give(stiff.give)) if soft.give else None
    return replace(kit, connector=replace(changed, axial_stiffness=axial))


def _per_give(give: float) -> float:
    return 1 / give if give else float("inf")


def _rigidity(kit: Kit) -> float:
    """Return EI / L of the middle strut, Nm."""
    section = kit.stock.section
    middle = float(np.median(node_lengths(kit.shell)))
    return kit.stock.material.modulus * section.inertia_z / middle


def sinks(kit: Kit, joints: Joints, loaded: Sequence[int], temperature: float) -> Floats:
    """Return how far every hub sinks for a newton at each hub of `loaded` (L, H), the base held.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance.
    """
    cases = [hung_case(kit.shell, int(hub), 1.0) for hub in loaded]
    loads = [case_loads(case.hub_forces, case.line_loads) for case in cases]
    made = with_joints(kit, joints, joints)
    model = make_model(made, "staked", duration=DURATION, temperature=temperature)
    return np.array([-answer.displacements[:, 2] for answer in solve(model.frame, loads)])


def sink_table(kit: Kit, loaded: Sequence[int], temperature: float) -> JointSinks:
    """Return the sinks over all joints that are tried.

    Against turning as supposed; along the strut from no give to far more than supposed.

    Raises
    ------
    ResultError
        ``mechanism``: the kit can move without resistance.
    """
    supposed = joint_range(kit)
    least, most = (1 / (1 + 3 / one.fixity) for one in (supposed.soft, supposed.stiff))
    shares = np.unique(np.linspace(least, most, TURNS))
    gives = np.array(BEYOND) * supposed.soft.give
    found = [
        [sinks(kit, Joints(float(3 * share / (1 - share)), float(give)), loaded, temperature)
         for give in gives]
        for share in shares
    ]  # fmt: skip
    return JointSinks(shares, gives, np.asarray(loaded, dtype=np.int64), np.array(found))
