"""What the parts are made from and how finely they are told apart."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from strutwright.catalogue import Connector, Stock

__all__ = ["ANGLE_TOLERANCE", "LENGTH_TOLERANCE", "PartChoices"]

LENGTH_TOLERANCE: Final = 0.5e-3
"""Cut lengths that differ by no more (m) are one strut type, where the workshop names no step:
a saw stop is set no finer. Our choice."""
ANGLE_TOLERANCE: Final = 0.25 * 3.141592653589793 / 180
"""Spoke angles and bevels that differ by no more (rad) are one: a quarter of a degree, which a
hub jig or a mitre stop holds. Our choice."""


@dataclass(frozen=True)
class PartChoices:
    """Stock, connector and limits, SI.

    Parameters
    ----------
    stock : Stock
    connector : Connector
    length_tolerance : float, m
        Half the workshop's saw step, or `LENGTH_TOLERANCE`.
    measured_span : float, m
        Of an old kit that was measured: lengths that follow one another within the length
        tolerance are one type while they span no more than this. 0: of a kit that was drawn.
    angle_tolerance : float, rad
    longest_piece : float or None, m
        Nothing longer can be sawn or sent; None without limit.
    limited_by : str
        What sets `longest_piece`, as the reader knows it.
    """

    stock: Stock
    connector: Connector
    length_tolerance: float = LENGTH_TOLERANCE
    angle_tolerance: float = ANGLE_TOLERANCE
    longest_piece: float | None = None
    limited_by: str = ""
    measured_span: float = 0.0
