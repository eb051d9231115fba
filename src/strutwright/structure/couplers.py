"""Couplers between the pieces of struts, as springs where they sit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from strutwright.catalogue import Source, modulus_at
from strutwright.frame import Couplers
from strutwright.parts import Kit, StrutType
from strutwright.sentences import sentence
from strutwright.structure.bars import Bars, Effect, MemberUse, Refused
from strutwright.structure.ends import End
from strutwright.structure.joints import REDUCTION
from strutwright.structure.standards import lattice
from strutwright.values import Floats

__all__ = ["UNTESTED", "coupler_shares", "coupler_uses", "couplers_of"]

SMALLEST: Final = 1e-9
"""What is left of 1 - N/N_cr before a strut counts as buckled."""
TESTED: Final = Source("the coupler's own strength in bending and pull, as tested", how="tested")

UNTESTED: Final = (2.0, 20.0)
"""Range of c L/(E I) that is run where a coupler was not tested.

Our choice: at the low end, a loose sleeve, a coupler at mid-length leaves 0.47 of the Euler load,
at the high end 0.91; the check ``coupler-stiffness`` says that it was not tested.
"""


def couplers_of(kit: Kit, modulus: float, end: End = "low") -> Couplers:
    """Return the couplers of the struts of `kit` as springs in bending, where they sit.

    Parameters
    ----------
    modulus : float, Pa
    end : str
        Of the range that is run where couplers were not tested.
    """
    rigidity = modulus * kit.stock.section.inertia_z
    members, shares = [np.empty(0, dtype=np.int64)], [np.empty(0)]
    springs = [np.empty(0)]
    for kind, share in _places(kit):
        members.append(kind.struts)
        shares.append(np.full(len(kind.struts), share))
        spring = _ratio(kit, kind, rigidity, end) * rigidity / kind.node_length
        springs.append(np.full(len(kind.struts), spring))
    bending = np.concatenate(springs)
    rigid = np.full(len(bending), np.inf)
    turning = np.column_stack([rigid, bending, bending])
    return Couplers(np.concatenate(members), np.concatenate(shares), turning, rigid)


def coupler_shares(kit: Kit, modulus: float) -> Floats:
    """Return the (S,) share of each strut's own Euler load that its couplers leave.

    Of one coupler exactly; of several by the sum of what each adds to the flexibility, which is
    never too much (Dunkerley). Couplers that were not tested count at their low end.
    """
    more = np.zeros(len(kit.shell.struts))
    rigidity = modulus * kit.stock.section.inertia_z
    for kind, share in _places(kit):
        ratio = _ratio(kit, kind, rigidity, "low")
        more[kind.struts] += 1.0 / lattice.coupler_factor(ratio, share) - 1.0
    shares: Floats = 1.0 / (1.0 + more)
    return shares


def coupler_uses(kit: Kit, bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    """Return the utilisation of every strut's couplers under one combination.

    The moment where the coupler sits, grown by the axial force as that of its strut, over what
    the coupler carries in bending, plus the pull over what it carries in pull; pieces that are
    pushed bear on each other. Nothing where no strut has a coupler.

    Raises
    ------
    Refused
        What couplers carry has to be tested first.
    """
    places = list(_places(kit))
    if not places:
        return ()
    connector = kit.connector
    if connector.coupler_moment is None or connector.coupler_pull is None:
        missing = "bend" if connector.coupler_moment is None else "pull"
        labels = ", ".join(dict.fromkeys(kind.label for kind, _ in places))
        why = sentence(f"refused.couplers-{missing}", types=labels)
        raise Refused(why)
    shape = (-1, len(kit.shell.struts))
    modulus = modulus_at(kit.stock.material, effect.duration, bars.temperature)
    critical = np.pi**2 * modulus * kit.stock.section.inertia_z / bars.lengths**2 * bars.couplers
    share_left = 1.0 - effect.compression / critical
    grown = np.where(share_left > SMALLEST, 1.0 / np.maximum(share_left, SMALLEST), np.inf)
    divisor = REDUCTION[effect.format]
    used = np.zeros_like(bars.lengths).reshape(shape)
    for kind, share in places:
        axial, side, deep = (
            _at(values, share)
            for values in (effect.forces.axial, effect.forces.moment_z, effect.forces.moment_y)
        )
        bent = np.hypot(deep, np.abs(side) + np.abs(axial) * bars.offset) * grown
        use = bent / connector.coupler_moment + np.maximum(axial, 0.0) / connector.coupler_pull
        rows = kind.struts
        used[:, rows] = np.maximum(used[:, rows], divisor * use.reshape(shape)[:, rows])
    flat = used.ravel()
    told = np.where(np.isinf(flat), effect.compression / critical, flat)
    source = connector.sources.get("coupler_moment", TESTED)
    return (MemberUse("coupler-strength", flat, source, told),)


def _at(values: Floats, share: float) -> Floats:
    """Return `values` (S, K) along struts at a share of their length.

    A parabola through both ends and the middle: exact for moments under an even line load.
    """
    first, middle, last = values[:, 0], values[:, values.shape[1] // 2], values[:, -1]
    sunk = 4.0 * share * (1.0 - share)
    along: Floats = first + share * (last - first) + sunk * (middle - 0.5 * (first + last))
    return along


def _places(kit: Kit) -> Iterator[tuple[StrutType, float]]:
    """Return each coupler of each strut type, and where it sits as a share of the node length."""
    for kind in kit.strut_types:
        for at in kind.coupler_at:
            yield kind, 0.5 + (at - 0.5 * kind.cut_length) / kind.node_length


def _ratio(kit: Kit, kind: StrutType, rigidity: float, end: End) -> float:
    """Return c L/(E I) of the couplers of a strut type."""
    stiffness = kit.connector.coupler_stiffness
    if stiffness is None:
        return UNTESTED[0 if end == "low" else 1]
    return stiffness * kind.node_length / rigidity
