"""Where a number comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Source"]


@dataclass(frozen=True)
class Source:
    """Origin of a number.

    Parameters
    ----------
    title : str
        Document, book, page or "common practice, no source".
    year : int or None
        Edition.
    clause : str
        Clause, table, page or equation.
    how : str
        ``read`` in the source, ``recalled`` from memory of it, ``computed`` here, or ``tested``
        by the workshop, or ``judgement``.
    """

    title: str
    year: int | None = None
    clause: str = ""
    how: Literal["read", "recalled", "computed", "tested", "judgement"] = "recalled"

    @property
    def verified(self) -> bool:
        """Return True when the number was read, computed or tested, not recalled or judged."""
        return self.how in {"read", "computed", "tested"}

    def __str__(self) -> str:
        """Return the source as a report prints it."""
        edition = f" ({self.year})" if self.year else ""
        place = f", {self.clause}" if self.clause else ""
        return f"{self.title}{edition}{place}"
