"""The values behind heat and air, each with its source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from strutwright.catalogue import Cover, Source
from strutwright.climate.air import (
    DISCHARGE,
    EFFECTIVENESS,
    FAN_HIGH,
    FAN_LOW,
    VENT_SHARE,
)
from strutwright.climate.benches import BENCH_DEPTH, PATH
from strutwright.climate.heat import AIR_HEAT, HEATER_MARGIN

__all__ = ["EDGE_LOSS", "EVAPORATED", "TRANSMITTED", "Given", "given_values"]

EDGE_LOSS: Final = 1.4
"""W/(m K) along the base."""
TRANSMITTED: Final = 0.75
"""Share of the sun that a clean cover lets in."""
EVAPORATED: Final = 0.5
"""Share of it that plants turn into moisture."""
_PRACTICE: Final = Source("greenhouse practice, no source")
_AIR: Final = Source("ASHRAE Handbook, Fundamentals, ventilation")


@dataclass(frozen=True)
class Given:
    """A value that is not the brief's own.

    Parameters
    ----------
    name : str
        Key of its words.
    value : float
        SI; of a range the lower end.
    unit : str
        As printed.
    source : Source
    second_hand : bool
        Read in another work than the one that sets it: confirm it there.
    """

    name: str
    value: float
    unit: str
    source: Source
    second_hand: bool = False


def given_values(skin: Cover | None, layers: int, u_value: float | None) -> tuple[Given, ...]:
    """Return the values in use for a house under `layers` of `skin`."""
    return (*_of_cover(skin, layers, u_value), *_fixed())


def _of_cover(skin: Cover | None, layers: int, u_value: float | None) -> Iterator[Given]:
    if skin is None or u_value is None:
        return
    source = skin.sources.get("transmittance" if layers == 1 else "transmittance_double")
    if source is None:
        title = "two sheets and 0.16 m2K/W of air in series, EN ISO 6946"
        source = Source(title, how="computed")
    yield Given("u_value", u_value, "W/m²K", source, "second hand" in source.title)


def _fixed() -> Iterator[Given]:
    georgia = Source("University of Georgia extension, heating requirements", how="read")
    massachusetts = Source(
        "University of Massachusetts extension, natural ventilation", clause="8 to 10 cfm/ft²",
        how="read",
    )  # fmt: skip
    vents = Source("ASABE, quoted in a trade journal", None, "roof as sides, 15 to 20 %", "read")
    ours = Source("our choice", how="judgement")
    yield Given("air_heat", AIR_HEAT, "Wh/m³K", georgia)
    yield Given("edge_loss", EDGE_LOSS, "W/mK", _PRACTICE)
    yield Given("heater_margin", HEATER_MARGIN, "", ours)
    yield Given("vent_share", VENT_SHARE, "", vents, second_hand=True)
    yield Given("discharge", DISCHARGE, "", _AIR)
    yield Given("effectiveness", EFFECTIVENESS, "", _AIR)
    yield Given("fan_least", FAN_LOW, "m³/s m²", massachusetts)
    yield Given("fan_most", FAN_HIGH, "m³/s m²", massachusetts)
    yield Given("transmitted", TRANSMITTED, "", _PRACTICE)
    yield Given("evaporated", EVAPORATED, "", _PRACTICE)
    yield Given("bench_depth", BENCH_DEPTH, "m", ours)
    yield Given("path", PATH, "m", _PRACTICE)
