"""Couplers between the pieces of struts, as springs where they sit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from strutwright.frame import Couplers
from strutwright.parts import Kit, StrutType
from strutwright.structure.ends import End
from strutwright.structure.standards import lattice
from strutwright.values import Floats

__all__ = ["UNTESTED", "coupler_shares", "couplers_of"]

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
