"""Struts as bars, what a combination does to them, and how far a rule uses them up."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from strutwright.catalogue import Source, Stock
from strutwright.sentences import Sentence
from strutwright.structure.respond import StrutForces
from strutwright.values import ArrayValue, Floats

__all__ = ["Bars", "Effect", "Family", "MemberUse", "Refused"]

Family = Literal["en", "us"]


@dataclass(frozen=True, eq=False)
class Bars(ArrayValue):
    """What the struts are made of.

    Parameters
    ----------
    stock : Stock
    lengths : (S,) array, m
        Buckling lengths: node lengths, as if hinged at both ends.
    couplers : (S,) array
        Share of the Euler load that a coupler leaves; 1 without one.
    offset : (S,) array, m
        Eccentricity of the axial force, the worse end.
    temperature : float, C
    """

    stock: Stock
    lengths: Floats
    couplers: Floats
    offset: Floats
    temperature: float

    def repeated(self, times: int) -> Bars:
        """Return the struts of so many such shells, end to end."""
        return replace(
            self,
            lengths=np.tile(self.lengths, times),
            couplers=np.tile(self.couplers, times),
            offset=np.tile(self.offset, times),
        )


@dataclass(frozen=True, eq=False)
class Effect(ArrayValue):
    """What one combination does to the struts.

    Parameters
    ----------
    combination : str
    format : str
        ``factored`` or ``allowable``.
    duration : str
        Of the load that decides the strength: ``permanent`` ... ``gust``.
    forces : StrutForces
    """

    combination: str
    format: Literal["factored", "allowable"]
    duration: str
    forces: StrutForces

    @property
    def compression(self) -> Floats:
        """Return (S,) largest compression, N; 0 in tension."""
        pushed: Floats = np.maximum(-self.forces.axial.min(axis=1), 0.0)
        return pushed


@dataclass(frozen=True, eq=False)
class MemberUse(ArrayValue):
    """Utilisation of every strut by one rule.

    Parameters
    ----------
    code : str
    utilisation : (S,) array
        By the rule; infinite where a strut is pushed beyond its Euler load, for which the rule
        has no number.
    source : Source
    multiple : (S,) array or None
        How many times too large the forces are, where the rule's number is above 1 and does not
        say so; otherwise the utilisation. None: the utilisation says it.
    """

    code: str
    utilisation: Floats
    source: Source
    multiple: Floats | None = None

    @property
    def told(self) -> Floats:
        """Return the (S,) numbers that a reader is told; finite wherever forces are."""
        return self.utilisation if self.multiple is None else self.multiple


class Refused(Exception):  # noqa: N818 - not a fault: a check that cannot be made, with its reason
    """No rule of the program covers this member."""

    def __init__(self, why: Sentence) -> None:
        super().__init__(why)
        self.why = why
