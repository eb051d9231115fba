"""The values of a survey: the shape as built, suspects, corrections, and what is not known."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.survey.observe import Measure
from strutwright.values import ArrayValue, Floats, HubPoints, Note

__all__ = ["Checked", "Correction", "NextReading", "SurveyResult", "Suspect"]


@dataclass(frozen=True)
class Checked:
    """A reading against the adjusted shape.

    Parameters
    ----------
    measure : Measure
    residual : float, m
        Adjusted minus measured.
    redundancy : float
        Share of an error in it that shows in its residual.
    standardised : float or None
        Residual over its standard deviation; None where nothing checks the reading.
    detectable : float or None, m
        Smallest misreading that would be found; None where none would.
    """

    measure: Measure
    residual: float
    redundancy: float
    standardised: float | None
    detectable: float | None


@dataclass(frozen=True)
class Suspect:
    """Something that would explain the readings.

    Parameters
    ----------
    hypothesis : str
        ``swapped``, ``wrong-type``, ``bent``, ``turned-hub``, ``off-peg``, ``base-spread``,
        ``brace-missing`` or ``misread``.
    struts, hubs : tuple of int
        What it speaks of.
    probability : float
        Among all that was thought of, after the readings.
    look : str
        What to look at first.
    size : float or None, m
        How much: the difference of two lengths, a shift, a misreading.
    force : float or None, N
        Largest force on a strut end that closing the shell so would take.
    line : int or None
        Line of the reading that would be misread.
    """

    hypothesis: str
    struts: tuple[int, ...]
    hubs: tuple[int, ...]
    probability: float
    look: str
    size: float | None = None
    force: float | None = None
    line: int | None = None


@dataclass(frozen=True)
class Correction:
    """Where a base hub is to be pulled.

    Parameters
    ----------
    hub : int
    dx, dy, dz : float, m
        From where it stands to where it belongs.
    sigma : float, m
        Standard deviation of its place on the plan.
    order : int
        1 first.
    force : float or None, N
        At the hub, to pull it there alone.
    """

    hub: int
    dx: float
    dy: float
    dz: float
    sigma: float
    order: int
    force: float | None = None


@dataclass(frozen=True)
class NextReading:
    """The reading that would decide best: what to tape, what it should read, and why."""

    kind: str
    hubs: tuple[int, ...]
    expected: float
    why: str


@dataclass(frozen=True, eq=False)
class SurveyResult(ArrayValue):
    """What the readings say of a built shell.

    Parameters
    ----------
    design, shape : (H, 3) array, m
        Hubs as designed and as built. As built, the base ring's mean place and turn on the plan
        are those of the design.
    ellipses : (H, 3) array, m m rad
        Semi-axes and direction of the 95 % ellipse of each hub on the plan.
    sigma_z : (H,) array, m
    checked : tuple of Checked
        The readings used.
    redundancy : int
        What the readings check among themselves and the struts; 0 without a reading on a shell
        without braces.
    spread : float, m
        Mean outward movement of the base, at mid-length on a long shell.
    chance : float
        Probability that a true shell gives readings as far off as these.
    suspects : tuple of Suspect
        Most probable first; empty when nothing is wrong beyond the standard deviations.
    corrections : tuple of Correction
    next_reading : NextReading or None
    cannot_know : tuple of str
    notes : tuple of Note
    """

    design: HubPoints
    shape: HubPoints
    ellipses: Floats
    sigma_z: Floats
    checked: tuple[Checked, ...]
    redundancy: int
    spread: float
    chance: float
    suspects: tuple[Suspect, ...]
    corrections: tuple[Correction, ...]
    next_reading: NextReading | None
    cannot_know: tuple[str, ...]
    notes: tuple[Note, ...]
