"""Resistance of members and joints, one module for each standard; import it by its name."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from strutwright.catalogue import Source, en1990_d
from strutwright.structure.standards import (
    adm,
    aisc360,
    anchors,
    en1993_1_1,
    en1993_1_8,
    en1995,
    en1999,
    iso22156,
    lattice,
    nds,
    pvc_practice,
    ties,
)

__all__ = [
    "MEMBER_RULES",
    "adm",
    "aisc360",
    "anchors",
    "en1990_d",
    "en1993_1_1",
    "en1993_1_8",
    "en1995",
    "en1999",
    "iso22156",
    "lattice",
    "nds",
    "pvc_practice",
    "ties",
]

MEMBER_RULES: Final[Mapping[tuple[str, str], Mapping[str, Source]]] = MappingProxyType(
    {
        ("steel", "en"): en1993_1_1.SOURCES,
        ("steel", "us"): aisc360.SOURCES,
        ("aluminium", "en"): en1999.SOURCES,
        ("aluminium", "us"): adm.SOURCES,
        ("timber", "en"): en1995.SOURCES,
        ("timber", "us"): nds.SOURCES,
        ("plastic", "en"): pvc_practice.SOURCES,
        ("plastic", "us"): pvc_practice.SOURCES,
        ("bamboo", "en"): iso22156.SOURCES,
        ("bamboo", "us"): iso22156.SOURCES,
    }
)
"""Where the numbers of the struts' rules come from, by kind of material and family."""
