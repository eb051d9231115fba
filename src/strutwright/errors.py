"""The two errors a user meets: wrong input, and work that could not be finished."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["InputError", "Problem", "ResultError"]


@dataclass(frozen=True)
class Problem:
    """One fault, as it is told to the user.

    Parameters
    ----------
    code : str
        Stable name, such as ``length-unit``; `strutwright explain CODE` prints its page.
    what : str
        The value received and the bound it broke, with units.
    where : str
        Key, line, hub, strut or step.
    mend : str
        What to try.
    """

    code: str
    what: str
    where: str = ""
    mend: str = ""

    def __str__(self) -> str:
        """Return the fault on one line: code, what, where, mend."""
        return " - ".join(part for part in (self.code, self.what, self.where, self.mend) if part)


class _ProblemError(Exception):
    """An error that carries one or more problems; the first gives the fields."""

    def __init__(self, code: str, what: str, where: str = "", mend: str = "") -> None:
        self.problems: tuple[Problem, ...] = (Problem(code, what, where, mend),)
        super().__init__(str(self.problems[0]))

    @property
    def code(self) -> str:
        """Code of the first problem."""
        return self.problems[0].code

    @property
    def what(self) -> str:
        """Value received and bound broken, of the first problem."""
        return self.problems[0].what

    @property
    def where(self) -> str:
        """Place of the first problem."""
        return self.problems[0].where

    @property
    def mend(self) -> str:
        """What to try for the first problem."""
        return self.problems[0].mend

    def __str__(self) -> str:
        """Return all problems, one a line."""
        return "\n".join(str(problem) for problem in self.problems)


class InputError(_ProblemError):
    """The user can mend it: a brief, a readings file, an argument. Exit code 2."""

    @classmethod
    def of(cls, problems: Iterable[Problem]) -> InputError:
        """Return one error that reports all `problems` (at least one) at once."""
        found = tuple(problems)
        if not found:
            msg = "InputError.of needs at least one problem"
            raise ValueError(msg)
        error = cls(found[0].code, found[0].what, found[0].where, found[0].mend)
        error.problems = found
        return error


class ResultError(_ProblemError):
    """The work was asked for rightly but could not be finished. Exit code 3."""
