"""How the command line shows progress and a verdict."""

from __future__ import annotations

from typing import TextIO

from strutwright.design import Design, building_sentence, limit_sentences, verdict_sentence
from strutwright.sentences import told
from strutwright.structure.mended import Mend
from strutwright.units import show_mass
from strutwright.values import Note

__all__ = ["Bar", "note_line", "verdict_lines"]


class Bar:
    """Progress on a terminal: one line that is written over; one line a stage elsewhere."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._live = stream.isatty()
        self._stage = ""

    def stage(self, name: str, fraction: float) -> None:
        """Show that stage `name` is done to `fraction`."""
        if self._live:
            self._stream.write(f"\r{name:<32}{fraction:5.0%}")
            self._stream.flush()
        elif name != self._stage:
            self._stream.write(f"{name}\n")
        self._stage = name

    def cancelled(self) -> bool:
        """Return False: a terminal stops the work with an interrupt."""
        return False

    def close(self) -> None:
        """End the line that is written over."""
        if self._live and self._stage:
            self._stream.write("\r" + " " * 40 + "\r")
            self._stream.flush()


def verdict_lines(design: Design) -> list[str]:
    """Return the verdict and the notes of `design`, a line each."""
    building = building_sentence(design)
    lines = [
        verdict_sentence(design),
        *([building] if building else []),
        *limit_sentences(design),
        *_mend_lines(design),
    ]
    show = design.brief.project.show
    lines.extend(note_line(note, show) for note in design.notes)
    return lines


def note_line(note: Note, system: str = "both") -> str:
    """Return a note as a line of the command, in English and in the units of `system`."""
    return f"note {note.code}: {told(note.text, system=system)}"


def _money(mend: Mend, design: Design) -> str:
    """Return what a change costs more, and what that rests on."""
    if mend.price is None:
        return ""
    more = mend.price - float(design.price.total)
    return f", {more:+.2f} {design.price.currency}" + (" (estimate)" if mend.price_says else "")


def _more(mass: float, system: str) -> str:
    return ("+" if mass >= 0 else "") + show_mass(mass, system)


def _mend_lines(design: Design) -> list[str]:
    """Return the mend table, a line each."""
    show = design.brief.project.show
    lines = ["What would mend it, each tried for real:"] if design.mends else []
    for mend in design.mends:
        mass = "" if mend.mass is None else f", {_more(mend.mass - design.kit.mass, show)}"
        why = told(mend.governs, system=show)
        change = told(mend.change, system=show)
        lines.append(f"  {mend.verdict}: {change}{mass}{_money(mend, design)} ({why})")
    return lines
