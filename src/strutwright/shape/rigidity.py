"""How a shell of pin-ended struts holds its shape: length derivatives, mechanisms, self-stress.

Maxwell's count with Calladine's correction: for J, the derivative of the strut lengths by the
free movements of the hubs, with rank r, there are (free movements - r) mechanisms and
(struts - r) states of self-stress. Source: Calladine, Buckminster Fuller's tensegrity structures
and Clerk Maxwell's rules (1978), recalled.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array, csr_array

from strutwright.values import HubPoints, StrutEnds

__all__ = ["NO_STIFFNESS", "RigidityCount", "count_mechanisms", "length_jacobian"]

NO_STIFFNESS: Final = 1e-9
"""A singular value below this share of the largest counts as none. J holds unit vectors, so it
has no scale; hubs off by a thousandth of a strut already give values far above this."""


@dataclass(frozen=True)
class RigidityCount:
    """Counts of a framework of pin-ended struts.

    Parameters
    ----------
    struts, freedoms, rank : int
        Struts with a free end, free movements of hubs, rank of the length derivative.
    mechanisms : int
        Independent movements that change no strut's length to first order.
    self_stress : int
        Independent sets of strut forces that balance without load.
    softest : float
        Smallest singular value above nothing, as a share of the largest: near-mechanisms show.
    """

    struts: int
    freedoms: int
    rank: int
    mechanisms: int
    self_stress: int
    softest: float


def length_jacobian(hubs: HubPoints, struts: StrutEnds) -> csr_array[np.float64]:
    """Return the (S, 3H) change of each strut's length for a unit movement of each hub.

    Column 3 h + a is the movement of hub h along axis a. Its transpose times strut tensions
    gives the forces on the hubs with the sign turned.
    """
    n = len(struts)
    along = hubs[struts[:, 1]] - hubs[struts[:, 0]]
    along = along / np.linalg.norm(along, axis=1, keepdims=True)
    rows = np.repeat(np.arange(n), 3)
    columns = 3 * struts[:, :, None] + np.arange(3)
    values = np.concatenate([-along.ravel(), along.ravel()])
    where = np.concatenate([rows, rows]), columns.transpose(1, 0, 2).ravel()
    return csr_array(coo_array((values, where), shape=(n, 3 * len(hubs))))


def count_mechanisms(hubs: HubPoints, struts: StrutEnds, fixed: NDArray[np.bool_]) -> RigidityCount:
    """Return the counts of the pin-ended framework `hubs`, `struts`.

    Parameters
    ----------
    hubs : (H, 3) array, m
    struts : (S, 2) int array
    fixed : (H, 3) bool array
        Movements held by supports. Struts both of whose hubs are held wholly are left out.
    """
    held = np.asarray(fixed, dtype=bool)
    stuck = np.asarray(held.all(axis=1))
    loose = ~stuck[struts].all(axis=1)
    jacobian = length_jacobian(hubs, struts[loose]).tocsc()[:, np.flatnonzero(~held.ravel())]
    n_struts, n_free = jacobian.shape
    if not n_struts or not n_free:
        return RigidityCount(n_struts, n_free, 0, n_free, n_struts, 0.0)
    sizes = np.linalg.svd(jacobian.toarray(), compute_uv=False)
    rank = int((sizes > NO_STIFFNESS * sizes[0]).sum())
    softest = float(sizes[rank - 1] / sizes[0])
    return RigidityCount(n_struts, n_free, rank, n_free - rank, n_struts - rank, softest)
