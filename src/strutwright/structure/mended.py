"""A row of the mend table."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Mend"]


@dataclass(frozen=True)
class Mend:
    """A change that was tried on a kit that fails.

    Parameters
    ----------
    change : str
        In words.
    passes : bool
        No required check of struts, ends and base fails with it, and what decides is known.
    mass : float or None, kg
        Of the kit then; None where it cannot be built.
    price : float or None
        Of the kit then; None where it cannot be built, or prices are not known.
    governs : str
        What is used most then, or why it cannot be built.
    price_says : str
        What the price rests on where it is an estimate, or why there is none; empty else.
    """

    change: str
    passes: bool
    mass: float | None
    price: float | None
    governs: str
    price_says: str = ""
