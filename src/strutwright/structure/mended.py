"""A row of the mend table."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.structure.check import Verdict

__all__ = ["Mend"]


@dataclass(frozen=True)
class Mend:
    """A change that was tried on a kit that fails.

    Parameters
    ----------
    change : str
        In words.
    verdict : str
        ``passes``: no required check of struts, ends and base fails with it, and what decides is
        known; ``fails``: one fails, or it cannot be built; ``not checked``: what decides
        could not be.
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
    verdict: Verdict
    mass: float | None
    price: float | None
    governs: str
    price_says: str = ""

    @property
    def passes(self) -> bool:
        """Return whether the kit stands with it."""
        return self.verdict == "passes"
