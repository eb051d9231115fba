"""A Check: one comparison of demand with capacity, and the one rule for which governs."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from strutwright.catalogue import Source

__all__ = ["Check", "Subject", "Verdict", "governing", "verdict"]

Status = Literal["pass", "fail", "not_checked"]
Verdict = Literal["passes", "fails", "not checked"]


@dataclass(frozen=True)
class Subject:
    """What a check is about: ``strut``, ``hub``, ``base hub``, ``shell``, and its number."""

    kind: str
    index: int | None = None

    def __str__(self) -> str:
        """Return the subject as a reader sees it."""
        return self.kind if self.index is None else f"{self.kind} {self.index}"


@dataclass(frozen=True)
class Check:
    """Demand against capacity, with everything needed to trace it.

    Parameters
    ----------
    code : str
        Stable name; `strutwright explain CODE` tells what it means.
    subject : Subject
        The part of the shell it is about.
    demand, capacity : float or None
        In `unit`, SI; None when not checked.
    unit : str
        ``N``, ``Nm``, ``m``, ``-`` (an interaction sum against 1).
    combination : str
        Name of the governing combination, or empty.
    format : str
        ``factored``, ``allowable`` or ``-``: how demand and capacity are to be read.
    source : Source
        Clause or rule.
    required : bool
        Whether the kit's verdict depends on it.
    status : str
        ``pass``, ``fail`` or ``not_checked``.
    note : str
        Why it was not checked, or what the reader should know.
    is_bound : bool
        The capacity is at least so much, for the search stopped there with nothing given way:
        the utilisation is at most what is told.

    Raises
    ------
    ValueError
        Status and numbers do not fit: a check that was made has finite numbers and the status
        that they give; one that was not made says why.
    """

    code: str
    subject: Subject
    demand: float | None
    capacity: float | None
    unit: str
    combination: str
    format: Literal["factored", "allowable", "-"]
    source: Source
    required: bool
    status: Status
    note: str = ""
    is_bound: bool = False

    def __post_init__(self) -> None:
        """Refuse a check whose status does not follow from its numbers."""
        if self.status == "not_checked":
            if not self.note:
                msg = f"{self.code}: a check that was not made says why"
                raise ValueError(msg)
            return
        u = self.utilisation
        if u is None or math.isnan(u) or (u <= 1) != (self.status == "pass"):
            msg = f"{self.code}: status {self.status} does not follow from utilisation {u}"
            raise ValueError(msg)

    @property
    def utilisation(self) -> float | None:
        """Demand / capacity; infinite for a capacity of nothing; None when not checked."""
        return utilisation(self.demand, self.capacity)

    @property
    def use(self) -> str:
        """Return the utilisation as a reader sees it."""
        u = self.utilisation
        if u is None:
            return "not known"
        if math.isinf(u):
            return "without any capacity"
        return f"{'at most ' if self.is_bound else ''}{u:.2f}"

    @classmethod
    def made(  # noqa: PLR0913 - the fields of a check, all but three by name
        cls,
        code: str,
        subject: Subject,
        demand: float,
        capacity: float,
        *,
        unit: str,
        source: Source,
        combination: str = "",
        format: Literal["factored", "allowable", "-"] = "-",
        required: bool = True,
        note: str = "",
        is_bound: bool = False,
    ) -> Check:
        """Return a check that was made, its status worked out from its numbers."""
        u = utilisation(demand, capacity)
        status: Status = "pass" if u is not None and u <= 1 else "fail"
        return cls(
            code, subject, demand, capacity, unit, combination, format, source, required,
            status, note, is_bound,
        )  # fmt: skip

    @classmethod
    def not_made(
        cls, code: str, subject: Subject, why: str, source: Source, *, required: bool = True
    ) -> Check:
        """Return a check that could not be made, with the reason."""
        return cls(
            code, subject, None, None, "-", "", "-", source, required, "not_checked", why
        )  # fmt: skip


def utilisation(demand: float | None, capacity: float | None) -> float | None:
    """Return demand / capacity; infinite when there is no capacity and some demand."""
    if demand is None or capacity is None:
        return None
    if capacity > 0:
        return demand / capacity
    return math.inf if demand > 0 else 0.0


def governing(checks: Sequence[Check]) -> Check | None:
    """Return the required check that decides: the worst utilisation among those made.

    One whose capacity is only known to be larger decides where there is no other. Where none was
    made, the first required one that could not be; None without any.
    """
    required = [check for check in checks if check.required]
    made = [check for check in required if check.utilisation is not None]
    if made:
        return max(made, key=lambda check: (not check.is_bound, check.utilisation or 0.0))
    return required[0] if required else None


def verdict(checks: Sequence[Check]) -> Verdict:
    """Return the verdict of `checks`: fails if one fails, not checked if one could not be made.

    No checks at all is "not checked", never a pass.
    """
    required = [check for check in checks if check.required]
    if any(check.status == "fail" for check in required):
        return "fails"
    if not required or any(check.status == "not_checked" for check in required):
        return "not checked"
    return "passes"
