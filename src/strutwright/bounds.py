"""Bounds of numbers and words that come in: one way to refuse a value, with its bound."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from strutwright.errors import InputError

__all__ = ["one_of", "within"]


def within(
    name: str, value: ArrayLike, low: float = -np.inf, high: float = np.inf, unit: str = ""
) -> NDArray[np.float64]:
    """Return `value` as floats, all of them finite and in `low` ... `high`, both included.

    Raises
    ------
    InputError
        ``value-out-of-range``: the first number that breaks a bound, with the bound.

    Examples
    --------
    >>> float(within("span", 3.0, 0, 60, "m"))
    3.0
    """
    array = np.asarray(value, dtype=np.float64)
    bad = ~(np.isfinite(array) & (array >= low) & (array <= high))
    if bad.any():
        first = float(array[bad].flat[0]) if array.ndim else float(array)
        raise InputError(
            "value-out-of-range",
            f"{name} = {first:.6g} {unit}".rstrip() + f", not in {low:.6g} to {high:.6g} {unit}",
            where=name,
            mend="check the number and its unit",
        )
    return array


def one_of(name: str, value: str, choices: Iterable[str]) -> str:
    """Return `value` when it is one of `choices`.

    Raises
    ------
    InputError
        ``value-unknown``: with the choices there are.
    """
    known = tuple(choices)
    if value not in known:
        raise InputError(
            "value-unknown",
            f"{name} = {value!r}",
            where=name,
            mend="take one of " + ", ".join(map(str, known)),
        )
    return value
