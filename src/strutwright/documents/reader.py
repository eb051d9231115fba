"""Texts and numbers as this kit's reader wants them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from strutwright import units
from strutwright.brief import Brief
from strutwright.design import Design
from strutwright.documents.words import Words
from strutwright.sentences import told
from strutwright.values import Note

__all__ = ["Reader"]


@dataclass(frozen=True)
class Reader:
    """Language, units and saw step of one kit."""

    words: Words
    system: str
    step: float

    @classmethod
    def of(cls, design: Design) -> Reader:
        """Return the reader that the brief of `design` asks for."""
        return cls.of_brief(design.brief)

    @classmethod
    def of_brief(cls, brief: Brief) -> Reader:
        """Return the reader that `brief` asks for."""
        return cls(Words.of(brief.project.language), brief.project.show, brief.struts.step)

    def __call__(self, key: str, /, **values: object) -> str:
        """Return the text of ``section.key`` with `values` filled in."""
        return self.words(key, **values)

    def told(self, text: str) -> str:
        """Return a sentence in the reader's language and units; other text as it is."""
        return told(text, self.words.language, self.system, self.step)

    def notes(self, notes: Iterable[Note]) -> tuple[str, ...]:
        """Return the texts of `notes`."""
        return tuple(self.told(note.text) for note in notes)

    def sawn(self, metres: float) -> str:
        """Return a cut length in the workshop's step."""
        return units.show_length(metres, self.system, step=self.step)

    def length(self, metres: float) -> str:
        """Return a length to the millimetre or the sixteenth of an inch."""
        return units.show_length(metres, self.system)

    def mass(self, kilograms: float) -> str:
        """Return a mass."""
        return units.show_mass(kilograms, self.system)

    def angle(self, radians: float) -> str:
        """Return an angle in degrees, to a tenth."""
        return units.show_angle(radians)

    def force(self, newtons: float) -> str:
        """Return a force."""
        return units.show_force(newtons, self.system)

    def area(self, square_metres: float) -> str:
        """Return an area."""
        return units.show_area(square_metres, self.system)

    def quantity(self, value: float, kind: str) -> str:
        """Return an SI `value` of a quantity such as ``power``, ``flow`` or ``warming``."""
        return units.show_quantity(value, kind, self.system)

    def pressure(self, pascals: float) -> str:
        """Return an area load."""
        return units.show_pressure(pascals, self.system)

    def speed(self, metres_per_second: float) -> str:
        """Return a speed."""
        return units.show_speed(metres_per_second, self.system)

    def counted(self, picks: dict[str, int]) -> str:
        """Return ``12 × A, 6 × B`` in the order of `picks`."""
        return ", ".join(self("picks.item", count=n, label=label) for label, n in picks.items())
