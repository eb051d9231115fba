"""Sheets of stick-on labels: geometry that a workshop edits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from strutwright.catalogue.load import Entry, entries, nearest
from strutwright.catalogue.source import Source
from strutwright.values import ArrayValue

__all__ = ["LabelSheet", "label_sheet", "label_sheet_ids", "usual_sheet"]


@dataclass(frozen=True, eq=False)
class LabelSheet(ArrayValue):
    """A sheet of labels.

    Parameters
    ----------
    id, name, paper : str
        Catalogue name; name shown; ``A4`` or ``Letter``.
    columns, rows : int
    width, height : float, m
        Of one label.
    left, top : float, m
        From the edge of the paper to the first label.
    across, down : float, m
        From label to label.
    sources : mapping of str to Source
    """

    id: str
    name: str
    paper: str
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float
    sources: Mapping[str, Source] = field(default_factory=dict)

    def corner(self, place: int) -> tuple[float, float]:
        """Return the upper left corner of label `place`, row by row, m from that of the paper."""
        row, column = divmod(place, self.columns)
        return self.left + column * self.across, self.top + row * self.down


def _label_sheet(entry: Entry) -> LabelSheet:
    return LabelSheet(id=entry.id, sources=entry.sources, **entry.words, **entry.numbers)


@cache
def _all() -> Mapping[str, LabelSheet]:
    return {key: _label_sheet(entry) for key, entry in entries("label_sheets").items()}


def label_sheet_ids() -> tuple[str, ...]:
    """Return the ids of all label sheets in the catalogue, in its order."""
    return tuple(_all())


def label_sheet(name: str, where: str = "--sheet") -> LabelSheet:
    """Return the label sheet called `name`.

    Raises
    ------
    InputError
        ``catalogue-unknown``: no such sheet.
    """
    known = _all()
    if name not in known:
        raise nearest(name, known, what="label sheet", where=where)
    return known[name]


def usual_sheet(system: str) -> LabelSheet:
    """Return the sheet for readers of `system`: Letter where all is imperial, else A4."""
    return label_sheet("letter-3x10" if system == "imperial" else "a4-3x8")
