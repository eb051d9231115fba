"""First-fit decreasing: the plain plan that everything else is measured against."""

from __future__ import annotations

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
    for index, (width, n) in enumerate(zip(job.widths.tolist(), job.demand.tolist(), strict=True)):
        start = 0
        for _ in range(n):
            place = next((k for k in range(start, len(room)) if room[k] >= width), len(room))
            if place == len(room):
                fits = [b for b, c in enumerate(job.capacities.tolist()) if c >= width and left[b]]
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
    for place, kind in enumerate(kinds):
        used = int(job.capacities[kind]) - room[place]
        fits = [b for b, c in enumerate(job.capacities.tolist()) if c >= used and left[b]]
        better = min([kind, *fits], key=lambda b: job.costs[b])
        left[kind] += 1
        left[better] -= 1
        kinds[place] = better
    return [Pattern(kind, tuple(some)) for kind, some in zip(kinds, counts, strict=True)]
