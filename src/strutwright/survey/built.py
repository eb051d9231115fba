"""`survey_shell`: readings in, shape as built and what is wrong with it out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import scipy.linalg

from strutwright.adjust import DETECTABLE, Adjustment, Network, ellipse, residual_jacobian
from strutwright.brief import Readings, Survey
from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.shape.measure import node_lengths
from strutwright.shape.rigidity import NO_STIFFNESS
from strutwright.survey.adjusted import adjust_shell, shell_network
from strutwright.survey.correct import corrections, pulls_wait
from strutwright.survey.diagnose import Diagnosis, diagnose
from strutwright.survey.elastic import make_elastic
from strutwright.survey.limits import cannot_know, open_questions
from strutwright.survey.observe import Measure, reduce_readings
from strutwright.survey.settings import Spread, spreads
from strutwright.survey.sight import sight_of
from strutwright.survey.suspects import next_reading, suspects_of
from strutwright.survey.values import Checked, SurveyResult
from strutwright.values import Floats, HubPoints

__all__ = ["base_spread", "survey_shell"]


NO_WEIGHT: Final = 1e3
"""m, standard deviation of a reading that is taken for misread: it moves nothing."""
ELLIPSE_95: Final = 2.4477
"""Semi-axis of a 95 % ellipse over its standard deviation: sqrt(5.9915)."""


def survey_shell(
    kit: Kit, readings: Readings, survey: Survey, *, reach: float = 2.2, system: str = "metric"
) -> SurveyResult:
    """Return what `readings` say of the built shell of `kit`.

    Parameters
    ----------
    reach : float, m
        How high the next reading may go.
    system : str
        How lengths are shown in what to look at.

    Raises
    ------
    InputError
        ``readings-at-unknown``.
    """
    spread = spreads(survey)
    measured = reduce_readings(readings.readings, kit, spread)
    elastic = make_elastic(kit)
    diagnosis = diagnose(kit, elastic, measured.used, spread)
    network = _network(kit, measured.used, spread, diagnosis)
    adjusted = adjust_shell(network)
    checked = _checked(network, adjusted, measured.used)
    ellipses, sigma_z = _uncertainty(adjusted, len(kit.shell.hubs))
    rows = [k for k, one in enumerate(network.observations) if one.name.startswith("strut ")]
    best = diagnosis.best
    shape = best.explained.shape if best.hypothesis.pushes else adjusted.points
    ground = float(kit.shell.hubs[kit.shell.base, 2].mean())
    taken = sight_of(measured.used, ground), reach
    sigma = ellipses[:, 0] / ELLIPSE_95
    held_back = pulls_wait(diagnosis)
    pulls = () if held_back else corrections(kit, elastic, shape, sigma, sigma_z)
    unknown = cannot_know(measured, checked, ellipses, (adjusted, rows), system)
    return SurveyResult(
        design=kit.shell.hubs,
        shape=shape,
        ellipses=ellipses,
        sigma_z=sigma_z,
        checked=checked,
        redundancy=_redundancy(network, adjusted),
        spread=base_spread(kit.shell, shape),
        chance=diagnosis.chance,
        suspects=suspects_of(diagnosis, kit, measured.used, system),
        corrections=pulls,
        next_reading=next_reading(diagnosis, kit, elastic, spread, taken, system=system),
        cannot_know=(*unknown, *open_questions(diagnosis), *held_back),
        notes=(*readings.notes, *measured.notes),
    )


def _network(
    kit: Kit, measures: Sequence[Measure], spread: Spread, diagnosis: Diagnosis
) -> Network:
    """Return the network in which struts and readings are as the best finding supposes them."""
    if not diagnosis.alarm:
        return shell_network(kit, measures, spread)
    best = diagnosis.best
    wrong = best.hypothesis.misread
    measures = [
        replace(one, sigma=NO_WEIGHT) if row == wrong else one for row, one in enumerate(measures)
    ]
    lengths = node_lengths(kit.shell)
    for strut, made in best.hypothesis.changed:
        lengths[strut] = made
    for strut, _ in best.hypothesis.free:
        lengths[strut] += best.explained.size
    return shell_network(kit, measures, spread, lengths=lengths, start=best.explained.shape)


def base_spread(shell: Shell, shape: HubPoints) -> float:
    """Return the mean outward movement of the base, m; of a long shell that at mid-length.

    On a shell longer than 1.2 times its width, outward is across the length, and the base hubs
    in the middle third count; on a round one it is along the radius, and all count.
    """
    at = shell.hubs[shell.base, :2]
    moved = (shape - shell.hubs)[shell.base, :2]
    length, width = np.ptp(at, axis=0)
    if length > 1.2 * width:
        middle = np.abs(at[:, 0]) <= length / 6
        outward = moved[:, 1] * np.sign(at[:, 1])
        return float(outward[middle].mean())
    radius = np.linalg.norm(at, axis=1)
    return float(((moved * at).sum(axis=1) / radius).mean())


def _checked(
    network: Network, adjusted: Adjustment, measures: Sequence[Measure]
) -> tuple[Checked, ...]:
    names = [one.name for one in network.observations]
    first = next(k for k, name in enumerate(names) if name.startswith("hub ")) - len(measures)
    found = []
    for row, measure in enumerate(measures, start=first):
        residual, redundancy = float(adjusted.residuals[row]), float(adjusted.redundancy[row])
        sigma = measure.sigma * float(np.sqrt(redundancy))
        found.append(
            Checked(
                measure,
                residual,
                redundancy,
                residual / sigma if sigma else None,
                DETECTABLE * measure.sigma**2 / sigma if sigma else None,
            )
        )
    return tuple(found)


def _redundancy(network: Network, adjusted: Adjustment) -> int:
    """Return the redundancy of struts, levels and readings, without what the hubs hold."""
    real = [one for one in network.observations if not one.name.startswith("hub ")]
    jacobian = residual_jacobian(adjusted.points, real).toarray()
    sizes = scipy.linalg.svdvals(jacobian)
    return len(real) - int((sizes > NO_STIFFNESS * sizes[0]).sum())


def _uncertainty(adjusted: Adjustment, n_hubs: int) -> tuple[Floats, Floats]:
    blocks = [adjusted.cofactor[3 * h : 3 * h + 3, 3 * h : 3 * h + 3] for h in range(n_hubs)]
    ellipses = np.array([ellipse(block[:2, :2], kind="95") for block in blocks])
    return ellipses, np.sqrt(np.array([block[2, 2] for block in blocks]))
