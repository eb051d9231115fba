"""Does it stand: the kit under its loads, and the checks."""

from strutwright.structure.check import Check, Subject, governing, verdict

__all__ = ["Check", "Subject", "governing", "verdict"]
