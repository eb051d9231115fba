"""Where to pull which base hub, in which order, and how hard."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.parts import Kit
from strutwright.survey.diagnose import Diagnosis
from strutwright.survey.elastic import Elastic, settle
from strutwright.survey.values import Correction
from strutwright.values import Floats, HubPoints, Indices

__all__ = ["corrections", "pulls_wait"]

LEAST_PULL: Final = 0.005
"""m. What is off by less is left: a peg is not set more exactly. Our choice."""
SURE: Final = 2.0
"""A hub is pulled when it is off by more than so many of its own standard deviations."""
STRUT_FAULTS: Final = ("swapped", "wrong-type", "turned-hub", "bent", "brace-missing")
LIKELY: Final = 0.5
"""With a larger share for wrong struts and readings nothing is pulled yet. Our choice."""


def pulls_wait(diagnosis: Diagnosis) -> tuple[str, ...]:
    """Return why nothing is to be pulled yet; empty where it may be."""
    if not diagnosis.alarm:
        return ()
    by_kind: dict[str, float] = {}
    for one in diagnosis.findings:
        kind = one.hypothesis.kind
        by_kind[kind] = by_kind.get(kind, 0.0) + one.probability
    strut = sum(by_kind.get(kind, 0.0) for kind in STRUT_FAULTS)
    tape = by_kind.get("misread", 0.0)
    if strut + tape <= LIKELY:
        return ()
    first = "put the struts right" if strut > tape else "take the suspected reading again"
    return (f"Where the base is to be pulled is not said yet: {first} first, then measure again.",)


def corrections(
    kit: Kit, elastic: Elastic, shape: HubPoints, sigma: Floats, sigma_z: Floats
) -> tuple[Correction, ...]:
    """Return the pulls that bring the base hubs of `shape` to where they belong.

    On a long shell the order is from the middle outwards, both sides of a bay together, ends
    last; on a round one the hub that is furthest off first. The force at a hub is what it takes
    once all are in place and all others are staked: the movements times the base's stiffness.

    Parameters
    ----------
    shape : (H, 3) array, m
        As built.
    sigma, sigma_z : (H,) array, m
        Of each hub's place on the plan, and of its height.
    """
    base = elastic.base
    off = (elastic.hubs - shape)[base]
    flat = np.linalg.norm(off[:, :2], axis=1)
    pulled = (flat > LEAST_PULL) & (flat > SURE * sigma[base])
    lifted = (np.abs(off[:, 2]) > LEAST_PULL) & (np.abs(off[:, 2]) > SURE * sigma_z[base])
    moves = np.where(pulled[:, None], off[:, :2], 0.0)
    force = _forces(elastic, moves)
    found = [
        Correction(
            hub=int(base[k]),
            dx=float(moves[k, 0]),
            dy=float(moves[k, 1]),
            dz=float(off[k, 2]) if lifted[k] else 0.0,
            sigma=float(sigma[base[k]]),
            order=place,
            force=float(force[k]) if pulled[k] else None,
        )
        for place, k in enumerate(_order(kit, base, flat, pulled | lifted), start=1)
    ]
    return tuple(found)


def _order(kit: Kit, base: Indices, flat: Floats, moved: Indices) -> list[int]:
    at = kit.shell.hubs[base, :2]
    length, width = np.ptp(at, axis=0)
    if length > 1.2 * width:
        bay = np.round(np.abs(at[:, 0]), 3)
        order = np.lexsort((at[:, 1], at[:, 0], bay))
    else:
        order = np.argsort(-flat, kind="stable")
    return [int(k) for k in order if moved[k]]


def _forces(elastic: Elastic, moves: Floats) -> Floats:
    """Return the force (B,) at each base hub that brings about `moves` (B, 2), N."""
    rest = settle(elastic, elastic.lengths)
    places = np.concatenate([3 * elastic.base, 3 * elastic.base + 1])
    pushes = np.zeros((elastic.hubs.size, len(places)))
    pushes[places, np.arange(len(places))] = 1.0
    gives = rest.solve(pushes)[places]
    forces = np.linalg.solve(gives, moves.T.ravel())
    size: Floats = np.hypot(*forces.reshape(2, -1))
    return size
