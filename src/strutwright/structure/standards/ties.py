"""Cable ties as hub fasteners: shares of the rated loop strength that may be used.

Ties are never the only path of compression nor the sole restraint of a hub; nylon is renewed
every three years.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from strutwright.bounds import one_of, within
from strutwright.catalogue import Source
from strutwright.errors import InputError

__all__ = [
    "CLASSES",
    "HOTTEST",
    "KEPT",
    "RENEW_YEARS",
    "SHARE",
    "SOURCES",
    "STEEL",
    "capacity_nylon",
    "capacity_steel",
    "n_eff",
]

SHARE: Final[Mapping[str, float]] = MappingProxyType(
    {"permanent": 0.15, "long": 0.15, "season": 0.25, "week": 0.25, "gust": 0.40}
)
"""Share of the rating of a UV-black Type 2 nylon tie by the longest duration."""
KEPT: Final[Mapping[str, float]] = MappingProxyType({"1": 0.5, "2": 1.0, "11": 0.5, "21": 1.0})
"""Share of loop strength kept after conditioning, by type of UL/IEC 62275."""
CLASSES: Final = (80.1, 133.4, 177.9, 222.4, 533.8, 778.4, 1112.1)
"""Rated loop strengths, N (18, 30, 40, 50, 120, 175, 250 lbf)."""
HOTTEST: Final = 85.0
"""Continuous temperature of PA66, C."""
RENEW_YEARS: Final = 3
"""Years until nylon ties are renewed."""
STEEL: Final[Mapping[str, float]] = MappingProxyType({"4.6 mm": 445.0, "7.9 mm": 1100.0})
"""Loop strength of stainless ties by width, lower end of the makers' figures, N."""
_STEEL_SHARE: Final = 0.5

_RULE = "our rule for cable ties: creep halves nylon"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "CLASSES": Source("trade classes of loop strength", None, "", "recalled"),
        "HOTTEST": Source("PA66 data at ziptie.com", None, "", "read"),
        "KEPT": Source("UL/IEC 62275", None, "types, as at ziptie.com", "read"),
        "RENEW_YEARS": Source(_RULE, None, "", "judgement"),
        "SHARE": Source(_RULE, None, "", "judgement"),
        "STEEL": Source("makers' figures for 304/316 ties", None, "", "recalled"),
        "capacity_nylon": Source(_RULE, None, "", "judgement"),
        "capacity_steel": Source("half the makers' figure", None, "", "judgement"),
        "n_eff": Source(_RULE, None, "", "judgement"),
    }
)


def n_eff(n: int) -> float:
    """Return the number of ties that share alike: 0.7 n."""
    return 0.7 * float(within("number of ties", n, 0, 50))


def capacity_nylon(rating: float, n: int, duration: str, *, type: str = "2", T: float) -> float:
    """Return the working tension of `n` nylon ties, N.

    Parameters
    ----------
    rating : float, N
        Declared loop strength of one.
    n : int
        Ties at the strut's end.
    duration : str
        Longest of the loads that act.
    type : str
        ``1``, ``2``, ``11`` or ``21`` of UL/IEC 62275.
    T : float, C
        Temperature; above 85 C refused.
    """
    if T > HOTTEST:
        raise InputError("tie-temperature", f"nylon at {T:.4g} C, above 85 C", "", "steel ties")
    within("temperature", T, -40, HOTTEST, "C")
    one_of("duration", duration, SHARE)
    kept = KEPT[one_of("type of tie", type, KEPT)]
    return float(within("rating", rating, 0, 5000, "N")) * kept * SHARE[duration] * n_eff(n)


def capacity_steel(rating: float, n: int) -> float:
    """Return the working tension of `n` stainless ties, N: half the figure, 0.7 n of them."""
    return float(within("rating", rating, 0, 10000, "N")) * _STEEL_SHARE * n_eff(n)
