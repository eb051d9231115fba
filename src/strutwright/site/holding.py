"""What one anchor holds in a soil, with its stated safety."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.catalogue import Anchor, Soil, Source
from strutwright.sentences import sentence
from strutwright.structure.standards import anchors as rules
from strutwright.values import Floats

__all__ = ["SCREW_DEPTH", "Holding", "NoHoldError", "holding"]

HEIGHT: Final = 0.05
"""m above the ground at which the hub pushes a stake sideways; our choice."""
GUY: Final = np.pi / 4
"""rad above level, of a guy from hub to stake; common practice, no source."""
SCREW_DEPTH: Final = 0.9
"""m that a screw anchor of no stated length goes down; our choice."""
TORQUE: Final = 500.0
"""Nm that two people with a bar reach on a screw anchor; our choice."""
TESTED: Final = 1.5
"""A pull test on the site must reach this times the working load. Source: rules.HUD_OVERLOAD."""


FOOTING_SHARE: Final = rules.BALLAST_SHARE["asce"]
"""Of its weight against a working load: 0.6 of ASCE 7; 0.9 over the factor 1.5 of EN 1990."""


class NoHoldError(Exception):
    """The anchor does not do in this soil; the message says why."""


@dataclass(frozen=True)
class Holding:
    """What one anchor holds.

    Parameters
    ----------
    working : float, N
        In the direction it is pulled.
    way : str
        ``upright``: pulled up, and pushed sideways with `side`; ``guyed``: by a guy at 45
        degrees; ``along``: set in the direction of the load.
    side : float, N
        Working side load of an upright one.
    safety : float
        On the ultimate load.
    source : Source
    words : str
    torque_factor : float or None, 1/m
    """

    working: float
    way: str
    side: float
    safety: float
    source: Source
    words: str
    torque_factor: float | None = None

    @property
    def upward(self) -> float:
        """Return what it holds straight up, N: of a guy the part that leans upwards."""
        return self.working * float(np.sin(GUY)) if self.way == "guyed" else self.working

    def pull(self, up: Floats, side: Floats) -> Floats:
        """Return the pull on the anchors of a hub, N, for its uplift and side load (N,).

        Upright: the larger of the uplift and the side load, the latter measured by what an anchor
        holds sideways. A guy at 45 degrees takes the uplift over the sine of it, and the side
        load on top. Along: the resultant; where the hub is pressed down, the side load alone.
        """
        lift = np.maximum(up, 0.0)
        if self.way == "guyed":
            return np.asarray(lift / np.sin(GUY) + side)
        if self.way == "along":
            return np.asarray(np.hypot(lift, side))
        return np.asarray(np.maximum(lift, side * self.working / self.side))


def holding(item: Anchor, soil: Soil, pull_test: float | None = None) -> Holding:
    """Return what one `item` holds in `soil`; a `pull_test` (N) on the site overrides it.

    Raises
    ------
    NoHoldError
        It cannot be set there, or holds nothing that counts.
    """
    rule = _RULES.get(item.kind)
    if rule is None:
        raise NoHoldError(sentence("hold.no-rule"))
    if soil.kind == "paved" and item.kind != "ballast":
        raise NoHoldError(sentence("hold.paving"))
    found = rule(item, soil)
    if pull_test is None:
        return found
    working = pull_test / TESTED
    words = f"pull test over {TESTED:g}: {working / 1000:.2f} kN"
    return Holding(
        working, found.way, found.side, TESTED, rules.SOURCES["HUD_OVERLOAD"], words,
        found.torque_factor,
    )  # fmt: skip


def _shaft(item: Anchor, soil: Soil) -> Holding:
    d, length, safety = _sizes(item)
    if soil.kind == "clay" and soil.strength is not None:
        up = rules.Q_friction_clay(d, length, soil.strength)
        side = rules.lateral_broms_clay(soil.strength, d, length, HEIGHT)
        source = rules.SOURCES["Q_friction_clay"]
    elif soil.kind == "sand" and soil.friction is not None and soil.unit_weight is not None:
        if item.kind == "stake":
            raise NoHoldError(sentence("hold.bare-stake"))
        up = rules.Q_friction_sand(d, length, soil.unit_weight, soil.friction)
        side = rules.lateral_broms_sand(soil.unit_weight, d, length, soil.friction, HEIGHT)
        source = rules.SOURCES["Q_friction_sand"]
    else:
        raise NoHoldError(sentence("hold.not-into", soil=soil.name))
    words = sentence("hold.shaft", up=up / safety, side=side / safety, safety=safety)
    return Holding(up / safety, "upright", side / safety, safety, source, words)


def _stake(item: Anchor, soil: Soil) -> Holding:
    if item.guyed is None:
        return _shaft(item, soil)
    if soil.kind == "rock":
        raise NoHoldError(sentence("hold.not-rock-driven"))
    words = sentence("hold.guyed", force=item.guyed)
    safety = item.safety or 2.0
    return Holding(item.guyed, "guyed", item.guyed, safety, rules.SOURCES["stake_inclined"], words)


def _helical(item: Anchor, soil: Soil) -> Holding:
    if soil.kind == "rock":
        raise NoHoldError(sentence("hold.not-rock-screwed"))
    safety, factor = item.safety or rules.FS_HELIX, item.torque_factor or 0.0
    working = rules.Q_helix(factor, TORQUE) / safety
    words = sentence("hold.helix", force=working, torque=TORQUE, safety=safety)
    return Holding(working, "along", working, safety, rules.SOURCES["Q_helix"], words, factor)


def _plate(item: Anchor, soil: Soil) -> Holding:
    if soil.kind == "rock" or item.uplift is None:
        raise NoHoldError(sentence("hold.not-rock-listed"))
    source = rules.SOURCES["HUD_WORKING"]
    words = sentence("hold.plate", force=item.uplift)
    return Holding(item.uplift, "along", item.uplift, item.safety or 1.5, source, words)


def _footing(item: Anchor, _soil: Soil) -> Holding:
    weight = rules.footing_weight(item.diameter or 0.0, item.length or 0.0, item.unit_weight or 0.0)
    working = weight * FOOTING_SHARE
    words = sentence("hold.footing", force=working, share=FOOTING_SHARE)
    return Holding(working, "along", working, 1.0, rules.SOURCES["footing_weight"], words)


def _rock(item: Anchor, soil: Soil) -> Holding:
    if soil.kind != "rock" or soil.strength is None:
        raise NoHoldError(sentence("hold.no-rock", soil=soil.name))
    d, length, safety = _sizes(item)
    working = np.pi * d * length * soil.strength / safety
    words = sentence("hold.rock", force=float(working), safety=safety)
    return Holding(float(working), "along", float(working), safety, soil.sources["strength"], words)


def _sizes(item: Anchor) -> tuple[float, float, float]:
    return item.diameter or 0.0, item.length or 0.0, item.safety or rules.FS_FRICTION


_RULES: Final[dict[str, Callable[[Anchor, Soil], Holding]]] = {
    "stake": _stake,
    "tube": _shaft,
    "helical": _helical,
    "plate": _plate,
    "footing": _footing,
    "rock": _rock,
}
