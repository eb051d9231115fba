"""Couplers between the pieces of struts, as springs where they sit."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.frame import Couplers, Division, FrameModel, insert_couplers, subdivide
from strutwright.parts import Kit
from strutwright.structure.standards import lattice
from strutwright.values import Floats

__all__ = ["coupler_shares", "couplers_of", "cut_at_couplers"]

SAME: Final = 1e-6
"""Share of a strut within which a cut and a coupler are at one place."""


def couplers_of(kit: Kit) -> Couplers | None:
    """Return the couplers of the struts of `kit`, bending springs; None without any.

    Where their stiffness was not tested they count as rigid, and a check says that it is missing.
    """
    stiffness = kit.connector.coupler_stiffness
    members, shares = [], []
    for kind in kit.strut_types:
        for at in kind.coupler_at:
            members.append(kind.struts)
            share = 0.5 + (at - 0.5 * kind.cut_length) / kind.node_length
            shares.append(np.full(len(kind.struts), share))
    if not members or stiffness is None:
        return None
    rows = np.concatenate(members)
    turning = np.tile([np.inf, stiffness, stiffness], (len(rows), 1))
    return Couplers(rows, np.concatenate(shares), turning, np.full(len(rows), np.inf))


def coupler_shares(kit: Kit, modulus: float) -> Floats:
    """Return the (S,) share of each strut's own Euler load that its couplers leave.

    Of one coupler exactly; of several by the sum of what each adds to the flexibility, which is
    never too much (Dunkerley).
    """
    more = np.zeros(len(kit.shell.struts))
    stiffness = kit.connector.coupler_stiffness
    rigidity = modulus * kit.stock.section.inertia_z
    for kind in kit.strut_types if stiffness is not None else ():
        ratio = (stiffness or 0.0) * kind.node_length / rigidity
        for at in kind.coupler_at:
            more[kind.struts] += 1.0 / lattice.coupler_factor(ratio, at / kind.cut_length) - 1.0
    shares: Floats = 1.0 / (1.0 + more)
    return shares


def cut_at_couplers(model: FrameModel, couplers: Couplers | None, pieces: int) -> Division:
    """Return `model` cut into `pieces` a member, and at its couplers, each with its springs.

    Bars and ties stay whole: what couplers leave of them is told by `coupler_shares`.
    """
    whole = model.truss | model.tension_only
    if couplers is None or pieces <= 1 or whole[couplers.members].all():
        return subdivide(model, pieces)
    kept = ~whole[couplers.members]
    rows, at = couplers.members[kept], couplers.shares[kept]
    turning, sliding = couplers.rotation[kept], couplers.axial[kept]
    cuts = np.arange(1, pieces) / pieces
    plain = np.repeat(np.flatnonzero(~whole), len(cuts))
    where = np.tile(cuts, int((~whole).sum()))
    near = np.zeros(len(plain), dtype=bool)
    for row, share in zip(rows, at, strict=True):
        near |= (plain == row) & (np.abs(where - share) < SAME)
    plain, where = plain[~near], where[~near]
    rigid = np.full((len(plain), 3), np.inf)
    return insert_couplers(
        model,
        Couplers(
            np.concatenate([rows, plain]),
            np.concatenate([at, where]),
            np.vstack([turning, rigid]),
            np.concatenate([sliding, rigid[:, 0]]),
        ),
    )
