"""Combinations for the time after an accident, such as the loss of a strut."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from strutwright.catalogue import Source
from strutwright.loads.case import Combination, Format, LoadCase
from strutwright.loads.standards import en1990

__all__ = ["accidents"]

_EN: Final = Source("EN 1990", 2002, "6.4.3.3 eq. 6.11b, Table A1.1", "recalled")
_ASCE: Final = Source("ASCE 7", 2016, "2.5.2.2, residual capacity", "recalled")
_ASCE_FACTORS: Final = {"dead": 1.2, "crop": 0.5, "snow": 0.2}


def accidents(
    cases: Sequence[LoadCase], standard: str, format: Format, *, altitude: float = 0.0
) -> tuple[Combination, ...]:
    """Return the reduced combinations of `cases` that hold after an accident.

    EN: weight in full, one variable action with psi_1, what is stored with psi_2. ASCE 7: 1.2 of
    the weight, 0.5 of what is hung, 0.2 of the snow; it asks for no wind.
    """
    is_en = standard == "en"
    of = {a: [c for c in cases if c.action == a] for a in ("dead", "cover", "crop", "snow", "wind")}
    heavy = 1.0 if is_en else _ASCE_FACTORS["dead"]
    stored = en1990.psi_2("crop", altitude) if is_en else _ASCE_FACTORS["crop"]
    base = [(case.name, heavy) for case in of["dead"] + of["cover"]]
    base += [(case.name, stored) for case in of["crop"]]
    found = [tuple(base)]
    for action in ("snow", "wind") if is_en else ("snow",):
        share = en1990.psi_1(action, altitude) if is_en else _ASCE_FACTORS["snow"]
        found += [(*base, (case.name, share)) for case in of[action]]
    source = _EN if is_en else _ASCE
    return tuple(
        Combination(_name(terms, heavy), format, "accident", terms, source) for terms in found
    )


def _name(terms: tuple[tuple[str, float], ...], heavy: float) -> str:
    others = [f"{factor:.4g} {name}" for name, factor in terms if not name.startswith("weight of")]
    return "accident: " + " + ".join([f"{heavy:.4g} weight", *others])
