"""Resistance of members and joints, one module for each standard; import it by its name."""

from strutwright.catalogue import en1990_d
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
