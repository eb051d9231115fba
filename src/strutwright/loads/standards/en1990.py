"""EN 1990:2002+A1: combination factors, recommended values for buildings."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from strutwright.bounds import within
from strutwright.catalogue import Source

__all__ = [
    "GAMMA",
    "HIGH_SITE",
    "K_FI",
    "SOURCES",
    "psi_0",
    "psi_1",
    "psi_2",
]

GAMMA: Final[Mapping[str, Mapping[str, float]]] = MappingProxyType(
    {
        "STR": MappingProxyType({"G_sup": 1.35, "G_inf": 1.0, "Q": 1.5}),
        "EQU": MappingProxyType({"G_sup": 1.1, "G_inf": 0.9, "Q": 1.5}),
        "UPL": MappingProxyType({"G_sup": 1.0, "G_inf": 0.9, "Q": 1.5}),
        "SLS": MappingProxyType({"G_sup": 1.0, "G_inf": 1.0, "Q": 1.0}),
    }
)
"""Partial factors of actions by limit state; a favourable variable action is left out."""
K_FI: Final[Mapping[str, float]] = MappingProxyType({"CC1": 0.9, "CC2": 1.0, "CC3": 1.1})
"""Factor on unfavourable actions by consequence class, Table B3."""
HIGH_SITE: Final = 1000.0
"""Altitude above which snow takes the higher psi_0, m."""

SOURCES: Final[Mapping[str, Source]] = MappingProxyType(
    {
        "GAMMA": Source("EN 1990", 2002, "Tables A1.2(A), A1.2(B), EN 1997-1 Table A.15"),
        "HIGH_SITE": Source("EN 1990", 2002, "Table A1.1", "recalled"),
        "K_FI": Source("EN 1990", 2002, "Table B3", "recalled"),
        "psi_0": Source("EN 1990", 2002, "Table A1.1", "recalled"),
        "psi_1": Source("EN 1990", 2002, "Table A1.1", "recalled"),
        "psi_2": Source("EN 1990", 2002, "Table A1.1", "recalled"),
    }
)


def psi_0(action: str, altitude: float = 0.0) -> float:
    """Return psi_0 of an accompanying action, Table A1.1.

    Parameters
    ----------
    action : str
        ``wind`` 0.6; ``snow`` 0.5, or 0.7 above 1000 m; imposed (``hung``, ``live``) 0.7;
        anything stored, such as ``crop``, 1.0.
    altitude : float, m
        Of the site.
    """
    within("altitude", altitude, -500, 6000, "m")
    table = {"wind": 0.6, "snow": 0.7 if altitude > HIGH_SITE else 0.5, "crop": 1.0}
    return table.get(action, 0.7)


def psi_1(action: str, altitude: float = 0.0) -> float:
    """Return psi_1 of the leading variable action of an accident, Table A1.1.

    Parameters
    ----------
    action : str
        ``wind`` 0.2; ``snow`` 0.2, or 0.5 above 1000 m; anything stored, such as ``crop``, 0.9;
        other imposed loads 0.5.
    altitude : float, m
        Of the site.
    """
    within("altitude", altitude, -500, 6000, "m")
    table = {"wind": 0.2, "snow": 0.5 if altitude > HIGH_SITE else 0.2, "crop": 0.9}
    return table.get(action, 0.5)


def psi_2(action: str, altitude: float = 0.0) -> float:
    """Return psi_2 of an accompanying action of an accident, Table A1.1.

    Parameters
    ----------
    action : str
        ``wind`` 0; ``snow`` 0, or 0.2 above 1000 m; anything stored, such as ``crop``, 0.8;
        other imposed loads 0.3.
    altitude : float, m
        Of the site.
    """
    within("altitude", altitude, -500, 6000, "m")
    table = {"wind": 0.0, "snow": 0.2 if altitude > HIGH_SITE else 0.0, "crop": 0.8}
    return table.get(action, 0.3)
