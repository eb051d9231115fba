"""Functions of the loading standards, one module each; import the module by its name."""

from strutwright.loads.standards import (
    asce7_16,
    asce7_22,
    asce7_shared,
    dome_arcs,
    en1990,
    en1991_1_3,
    en1991_1_4,
    gb50009,
    ngma,
    practice,
)

__all__ = [
    "asce7_16",
    "asce7_22",
    "asce7_shared",
    "dome_arcs",
    "en1990",
    "en1991_1_3",
    "en1991_1_4",
    "gb50009",
    "ngma",
    "practice",
]
