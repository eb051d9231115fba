"""Live, crop and access loads of greenhouses, by the growers' trade rules and EN 13031-1."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from strutwright.bounds import within
from strutwright.catalogue import Source

__all__ = [
    "CLIMBER",
    "CONCENTRATED",
    "CROP",
    "CROP_MOST",
    "FABRIC_ROOF_LIVE",
    "GREENHOUSE_ROOF_LIVE",
    "HANGING_BASKETS",
    "SOURCES",
    "crop_is_permanent",
]

CONCENTRATED: Final = 444.822
"""Load at mid-span of a rafter, N (100 lbf); the hung load where none is given."""
CLIMBER: Final = 1000.0
"""A person climbing, N: for a misuse warning."""
CROP_MOST: Final = 718.2
"""Crop live load, at most, Pa (15 psf)."""
HANGING_BASKETS: Final = (143.6, 239.4)
"""Baskets of 10 in, Pa (3 to 5 psf)."""
GREENHOUSE_ROOF_LIVE: Final = 574.6
"""Least roof live load of a greenhouse, Pa (12 psf)."""
FABRIC_ROOF_LIVE: Final = 239.4
"""Roof live load of fabric on a skeleton, Pa (5 psf)."""
CROP: Final[Mapping[str, float]] = MappingProxyType(
    {"tomatoes": 150.0, "light containers": 300.0, "heavy containers": 1000.0}
)
"""Crop load by kind, Pa."""

_BARTOK = "Bartok, 'Bend, don't break', Nursery Management"
SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "CLIMBER": Source("our choice: the weight of a person with a shock", None, "", "judgement"),
        "CONCENTRATED": Source(f"NGMA structural design manual, in {_BARTOK}", None, "", "read"),
        "CROP": Source("EN 13031-1", 2019, "Annex B", "recalled"),
        "CROP_MOST": Source(f"NGMA structural design manual, in {_BARTOK}", None, "", "read"),
        "FABRIC_ROOF_LIVE": Source("ASCE 7", None, "Table 4.3-1", "recalled"),
        "GREENHOUSE_ROOF_LIVE": Source("ASCE 7", None, "4.8.2", "recalled"),
        "HANGING_BASKETS": Source(f"NGMA structural design manual, in {_BARTOK}", None, "", "read"),
        "crop_is_permanent": Source(f"NGMA structural design manual, in {_BARTOK}", None, ""),
    }
)


def crop_is_permanent(days: float) -> bool:
    """Return True when a crop hangs longer than 30 days at a time: it counts as dead load."""
    return float(within("days", days, 0, unit="days")) > 30
