"""Struts longer than a bar or a parcel: pieces and couplers."""

from __future__ import annotations

from math import ceil
from typing import Final

from strutwright.parts.values import PieceCount

__all__ = ["BRACE_PIECES", "n_pieces", "split"]

BRACE_PIECES: Final = 2
"""An inner brace is carried in and joined inside the shell: it has two pieces at least."""
FITS: Final = 1e-9
"""A strut longer than the limit by no more than this share fits it: rounding."""


def n_pieces(cut_length: float, role: str, longest_piece: float | None) -> int:
    """Return how many pieces a strut of `cut_length` (m) and `role` is made of."""
    least = BRACE_PIECES if role == "brace" else 1
    if longest_piece is None:
        return least
    return max(least, ceil(cut_length / longest_piece * (1 - FITS)))


def split(
    label: str, cut_length: float, quantity: int, n: int
) -> tuple[tuple[PieceCount, ...], tuple[float, ...]]:
    """Return the pieces of a strut type and where its couplers sit, m from one end.

    Pieces of a strut are alike: one piece type more for each strut type, not several.
    """
    if n == 1:
        return (PieceCount(label, cut_length, quantity),), ()
    piece = PieceCount(f"{label}1", cut_length / n, quantity * n)
    return (piece,), tuple(cut_length * k / n for k in range(1, n))
