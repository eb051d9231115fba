"""The base of an old kit: the lowest ring without what rises from it, doors and lost struts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.sentences import note
from strutwright.values import HubPoints, Indices, Note

__all__ = ["Foot", "base_of"]

RISES: Final = 0.3
"""A hub of the lowest ring that stands higher above the others' plane than this share of a usual
strut of the ring is no base hub: our choice, uneven ground and tilted drawings stay below it."""
ROUNDS: Final = 20


@dataclass(frozen=True)
class Foot:
    """What an old kit stands on.

    Parameters
    ----------
    base : tuple of int
        Base hubs in the order of the ring.
    ties : frozenset of (int, int)
        Struts that bound no face and close the base under what rises from it.
    notes : tuple of Note
    """

    base: tuple[int, ...]
    ties: frozenset[tuple[int, int]]
    notes: tuple[Note, ...]


def base_of(hubs: HubPoints, ring: Indices, free: set[tuple[int, int]]) -> Foot:
    """Return the base that the lowest `ring` (R,) of faces stands on.

    Over a door, or where a strut of the base is missing, the ring of faces climbs: the hubs up
    there are not held by the ground.

    free : struts that bound no face
    """
    low = _low(hubs[ring])
    if low.all() or low.sum() < 3:
        return Foot(tuple(ring.tolist()), frozenset(), ())
    start = int(np.flatnonzero(low)[0])
    turned, is_low = np.roll(ring, -start).tolist(), np.roll(low, -start)
    base = [hub for hub, stays in zip(turned, is_low, strict=True) if stays]
    ties, notes = set(), []
    gaps = np.flatnonzero(is_low & ~np.roll(is_low, -1)).tolist()
    for k in gaps:
        first = turned[k]
        last = base[(base.index(first) + 1) % len(base)]
        over = (turned.index(last) - k) % len(turned) - 1
        pair = (min(first, last), max(first, last))
        wide = float(np.linalg.norm(hubs[first] - hubs[last]))
        key = "import-gap.tied" if pair in free else "import-gap.open"
        if pair in free:
            ties.add(pair)
        at, to = (tuple(float(v) for v in hubs[hub, :2]) for hub in (first, last))
        notes.append(note(key, hubs=over, width=wide, x=at[0], y=at[1], x_to=to[0], y_to=to[1]))
    return Foot(tuple(base), frozenset(ties), tuple(notes))


def _low(points: HubPoints) -> np.ndarray:
    """Return (R,) which hubs of the ring lie on the plane on which most of them lie."""
    usual = float(np.median(np.linalg.norm(points - np.roll(points, -1, axis=0), axis=1)))
    low = points[:, 2] <= np.median(points[:, 2]) + RISES * usual
    for _ in range(ROUNDS):
        rows = np.column_stack([points[:, :2], np.ones(len(points))])
        plane, *_ = np.linalg.lstsq(rows[low], points[low, 2], rcond=None)
        now = points[:, 2] - rows @ plane <= RISES * usual
        if (now == low).all() or now.sum() < 3:
            break
        low = now
    return np.asarray(low)
