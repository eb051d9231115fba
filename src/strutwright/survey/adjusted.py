"""The built shell as a network: struts, levelled base and readings, adjusted together."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from strutwright.adjust import Adjustment, Network, Observation, adjust
from strutwright.parts import Kit
from strutwright.shape.measure import node_lengths
from strutwright.survey.bending import bend_rows
from strutwright.survey.observe import Measure
from strutwright.survey.settings import Spread
from strutwright.values import Floats, HubPoints

__all__ = ["adjust_shell", "shell_network"]

DATUM: Final = 1e-3
"""m. The mean shift and turn of the base on the plan is set to nothing with this sigma; nothing
else sees it, so that its size does not matter."""


def shell_network(
    kit: Kit,
    measures: Sequence[Measure],
    spread: Spread,
    *,
    lengths: Floats | None = None,
    start: HubPoints | None = None,
) -> Network:
    """Return the network of `kit`: struts, base heights, readings, hub angles, datum, in order.

    Legs are left out: the base hubs on them are levelled, and what stands on them is surveyed.

    Parameters
    ----------
    lengths : (S,) array, m, optional
        Distances of hub centres that the struts are made for; the design's when left out. nan
        leaves a strut out.
    start : (H, 3) array, m, optional
        Shape to start from; hub angles are expected as in it. The design when left out.
    """
    shell = kit.shell
    points = shell.hubs if start is None else start
    made = node_lengths(shell) if lengths is None else lengths
    above = shell.course[shell.struts].min(axis=1) >= 0
    rows = [
        Observation("distance", (int(i), int(j)), float(length), spread.strut, name=f"strut {s}")
        for s, ((i, j), length) in enumerate(zip(shell.struts, made, strict=True))
        if above[s] and np.isfinite(length)
    ]
    rows += [
        Observation("coordinate", (int(hub),), float(shell.hubs[hub, 2]), spread.level,
                    name=f"level {hub}")
        for hub in shell.base
    ]  # fmt: skip
    rows += [
        Observation("coordinate", (int(hub),), float(points[hub, axis]), spread.level, axis,
                    name=f"foot {hub}")
        for hub in np.flatnonzero(shell.course < 0) for axis in range(3)
    ]  # fmt: skip
    rows += [_reading(one, shell.hubs[shell.base, 2].mean()) for one in measures]
    for bend in bend_rows(shell):
        factors = tuple(tuple(row) for row in bend.factors.tolist())
        value = float((bend.factors * (points[bend.hubs])).sum())
        rows.append(
            Observation("combination", tuple(bend.hubs.tolist()), value, spread.angle,
                        name=f"hub {bend.hub}", factors=factors)
        )  # fmt: skip
    rows += _datum(kit)
    return Network(points, np.zeros(points.shape, dtype=bool), tuple(rows))


def adjust_shell(network: Network) -> Adjustment:
    """Return the least-squares shape of `network`."""
    return adjust(network)


def _reading(measure: Measure, ground: float) -> Observation:
    if measure.kind == "height":
        value = measure.value + float(ground)
        return Observation("coordinate", measure.hubs, value, measure.sigma, name=measure.name)
    return Observation("distance", measure.hubs, measure.value, measure.sigma, name=measure.name)


def _datum(kit: Kit) -> list[Observation]:
    base = kit.shell.base
    at = kit.shell.hubs[base]
    n = len(base)
    centred = at[:, :2] - at[:, :2].mean(axis=0)
    reach = float(np.sqrt((centred**2).sum(axis=1).mean()))
    zero = np.zeros(n)
    turn = np.column_stack([-centred[:, 1], centred[:, 0], zero]) / (n * reach)
    shifts = [np.tile(row, (n, 1)) / n for row in ([1.0, 0, 0], [0, 1.0, 0])]
    return [
        Observation(
            "combination",
            tuple(base.tolist()),
            float((factors * at).sum()),
            DATUM,
            name=name,
            factors=tuple(tuple(row) for row in factors.tolist()),
        )
        for name, factors in (("shift x", shifts[0]), ("shift y", shifts[1]), ("turn", turn))
    ]
