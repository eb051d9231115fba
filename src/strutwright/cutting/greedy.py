"""First-fit decreasing: the plain plan that everything else is measured against."""

from __future__ import annotations

import numpy as np

from strutwright.cutting.job import Job, Pattern

__all__ = ["first_fit"]


def first_fit(job: Job) -> list[Pattern] | None:
    """Return a plan by first-fit decreasing, or None where the bars run out.

    Each piece, the widest first, goes into the first open bar with room; a new bar is the one
    that costs least for the pieces it could hold of this width. At the end each bar is exchanged
    for the cheapest one that still holds its pieces.
    """
    room: list[int] = []
    kinds: list[int] = []
    counts: list[list[int]] = []
    left = job.quantities.tolist()
    plain = np.flatnonzero(job.rates == 0).tolist()  # a bar of each kind, nothing kept
    for index, (width, n) in enumerate(zip(job.widths.tolist(), job.demand.tolist(), strict=True)):
        start = 0
        for _ in range(n):
            place = next((k for k in range(start, len(room)) if room[k] >= width), len(room))
            if place == len(room):
                fits = [b for b in plain if job.capacities[b] >= width and left[b]]
                if not fits:
                    return None
                kind = min(fits, key=lambda b: job.costs[b] / (job.capacities[b] // width))
                left[kind] -= 1
                room.append(int(job.capacities[kind]))
                kinds.append(kind)
                counts.append([0] * len(job.widths))
            start = place
            room[place] -= width
            counts[place][index] += 1
    return [
        Pattern(_cheapest(job, kind, tuple(some), left), tuple(some))
        for kind, some in zip(kinds, counts, strict=True)
    ]


def _cheapest(job: Job, kind: int, counts: tuple[int, ...], left: list[int]) -> int:
    """Return the kind of bar that is cheapest for `counts`, `kind` or what is `left`; book it."""
    used = int(np.dot(counts, job.widths))
    left[job.source[kind]] += 1
    fits = [b for b, c in enumerate(job.capacities.tolist()) if c >= used and left[job.source[b]]]
    better = min([kind, *fits], key=lambda b: job.cost(Pattern(b, counts)))
    left[job.source[better]] -= 1
    return better
