"""Templates that are wrapped round the end of a tube: where to saw it so that it meets another.

Both curves are exact: a plane, and a round body, cut by the lines along the tube's surface.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.values import Floats

__all__ = ["STEEPEST", "end_curve"]

STEEPEST: Final = np.radians(75.0)
"""A saw that leans further from square slides off: our choice."""


def end_curve(diameter: float, tilt: float, onto: float | None = None, n: int = 180) -> Floats:
    """Return (n + 1, 2): way round the tube and distance of the cut from its shortest side, m.

    The way round begins at the tube's left, seen from its end with the tilt leaning upwards: at a
    quarter of it the tube is longest or, on a body, steepest.

    Parameters
    ----------
    diameter : float, m
        Outside, of the tube.
    tilt : float, rad
        Of the tube's axis against the normal of the plane, or of the body's axis.
    onto : float or None, m
        Outside diameter of a round body that the tube is fitted to, axis through axis; None for a
        plane.
    n : int
        Parts of the way round.

    Raises
    ------
    InputError
        ``template-value``: a diameter is not positive, the tilt is too steep, or the body is
        thinner than the tube.
    """
    _check(diameter, tilt, onto)
    turn = np.linspace(0.0, 2 * np.pi, n + 1)
    r = diameter / 2
    x, y = r * np.cos(turn), r * np.sin(turn)
    if onto is None:
        along = y * np.tan(tilt)
    else:
        reach = np.sqrt(np.maximum((onto / 2) ** 2 - x**2, 0.0))
        along = (reach + y * np.sin(tilt)) / np.cos(tilt)
    return np.column_stack([r * turn, along - along.min()])


def _check(diameter: float, tilt: float, onto: float | None) -> None:
    def refuse(what: str, mend: str) -> None:
        raise InputError("template-value", what, "template", mend)

    if not 0 < diameter < np.inf:
        refuse(f"the tube is {diameter * 1000:g} mm wide", "give a diameter above zero")
    if not abs(tilt) <= STEEPEST:
        refuse(
            f"the tube leans by {np.degrees(tilt):g}°, more than {np.degrees(STEEPEST):g}°",
            "give the angle from square, not from the surface",
        )
    if onto is not None and not diameter <= onto < np.inf:
        refuse(
            f"a tube of {diameter * 1000:g} mm is wider than the body of {onto * 1000:g} mm",
            "fit the thinner tube to the thicker one",
        )
