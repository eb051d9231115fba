"""Lengths that a customer cut and sent back: which fit, which are cut again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from strutwright.brief import Brief
from strutwright.parts import Kit

__all__ = ["Returned", "judge_lengths"]


@dataclass(frozen=True)
class Returned:
    """What is said of one length.

    Parameters
    ----------
    label : str
    length : float, m
        As sent back; 0 where the piece was not named.
    wanted : float, m
    verdict : str
        ``fits``; ``cut again`` to the wanted length, since it is too long; ``replace`` since it
        is too short; ``missing``; ``unknown`` where no piece has that label or all are there.
    """

    label: str
    length: float
    wanted: float
    verdict: Literal["fits", "cut again", "replace", "missing", "unknown"]


def judge_lengths(kit: Kit, brief: Brief, lengths: Sequence[tuple[str, float]]) -> list[Returned]:
    """Return what is said of each of `lengths` (label, m), then the pieces that are missing.

    A piece fits when it is off by no more than half the workshop's step, twice the deviation of
    sawing and the play of its end: what the joint takes up anyway.
    """
    survey = brief.survey
    limit = brief.struts.step / 2 + 2 * survey.cut + survey.play
    wanted = {p.label: p for kind in kit.strut_types for p in kind.pieces}
    seen: Counter[str] = Counter()
    found: list[Returned] = []
    for label, length in lengths:
        piece = wanted.get(label)
        if piece is None or seen[label] >= piece.quantity:
            found.append(Returned(label, length, 0.0, "unknown"))
            continue
        seen[label] += 1
        apart = length - piece.length
        verdict: Literal["fits", "cut again", "replace"] = "fits"
        if abs(apart) > limit + 1e-9:
            verdict = "cut again" if apart > 0 else "replace"
        found.append(Returned(label, length, piece.length, verdict))
    for label, piece in wanted.items():
        found += [Returned(label, 0.0, piece.length, "missing")] * (piece.quantity - seen[label])
    return found
