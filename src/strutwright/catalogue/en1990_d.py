"""EN 1990:2002 Annex D: a characteristic value from the workshop's own tests."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from scipy.special import stdtrit

from strutwright.bounds import within
from strutwright.catalogue.source import Source
from strutwright.errors import InputError
from strutwright.values import Floats

__all__ = [
    "LEAST_SAMPLES",
    "SOURCES",
    "characteristic",
    "characteristic_high",
    "k_n",
]

LEAST_SAMPLES: Final = 3
"""Fewest tests that a characteristic value is drawn from."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "LEAST_SAMPLES": Source("EN 1990", 2002, "Table D1, V_x unknown", "recalled"),
        "characteristic": Source("EN 1990", 2002, "D7.2", "recalled"),
        "k_n": Source("EN 1990", 2002, "Table D1, as t_0.05 sqrt(1 + 1/n)", "computed"),
    }
)


def k_n(n: int) -> float:
    """Return the fractile factor for 5 per cent, variation unknown: t_0.05(n - 1) sqrt(1 + 1/n)."""
    if n < LEAST_SAMPLES:
        raise InputError(
            "samples-too-few", f"{n} tests", "", f"test {LEAST_SAMPLES} samples or more"
        )
    return float(stdtrit(n - 1, 0.95) * np.sqrt(1 + 1 / n))


def characteristic(values: Floats | list[float]) -> float:
    """Return the 5 per cent characteristic value of test results, lognormal, D7.2.

    Parameters
    ----------
    values : (n,) array
        Results, all above 0, in any unit; at least three.
    """
    return float(np.exp(_fractile(values, -1.0)))


def characteristic_high(values: Floats | list[float]) -> float:
    """Return the 95 per cent characteristic value of test results, lognormal, D7.2.

    For what harms when it is large, such as slip, or the upper end of a stiffness.

    Parameters
    ----------
    values : (n,) array
        Results, all above 0, in any unit; at least three.
    """
    return float(np.exp(_fractile(values, 1.0)))


def _fractile(values: Floats | list[float], side: float) -> float:
    results = np.log(within("test result", values, 1e-12))
    factor = k_n(int(results.size))  # first: fewer than two results have no deviation
    return float(results.mean() + side * factor * results.std(ddof=1))
