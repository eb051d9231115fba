"""What the search for lifted, sliding and slack parts works on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.frame.model import Flags
from strutwright.values import Floats, Indices

__all__ = ["OPEN", "PRESSED", "SLIDING", "Pushes", "Trial", "unit_rows"]

PRESSED, OPEN, SLIDING = 0, 1, 2
"""States of a contact; `PRESSED` sticks where it has friction."""


@dataclass(frozen=True, eq=False)
class Pushes:
    """Forces at contacts and ties, q = start + change @ y, y the lifts, slides and shortenings.

    Three unknowns a contact (push or lift, then both across), then one a tie.

    Parameters
    ----------
    start : (3 C + T,) array, N
        With nothing lifted or slack.
    change : (3 C + T, 3 C + T) array, N/m
        Symmetric, not negative.
    movable : (3 C + T,) bool array
    friction : (C,) array
    """

    start: Floats
    change: Floats
    movable: Flags
    friction: Floats


@dataclass(frozen=True, eq=False)
class Trial:
    """One trial set: states of contacts (C,), slack ties (T,), directions of slides (C, 2)."""

    contact: Indices
    slack: Flags
    slide: Floats

    def key(self) -> bytes:
        """Return what tells trial sets apart."""
        return self.contact.tobytes() + self.slack.tobytes()


def unit_rows(rows: Floats) -> Floats:
    """Return rows of length 1; zero rows stay zero."""
    size = np.linalg.norm(rows, axis=1)[:, None]
    return np.asarray(np.divide(rows, size, out=np.zeros_like(rows), where=size > 0.0))
