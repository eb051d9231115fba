"""What was chosen, and what else there was: shapes, numbers of lengths, sizes, each with its bars.

All rows count bars by one plain plan (first-fit decreasing) for the net before openings, inner
braces and legs, so that rows compare; the plan that is sawn stands elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.brief import Brief
from strutwright.cutting import BarCount, count_kit_bars
from strutwright.design.widths import WeighedWidth, weigh_widths, width_notes
from strutwright.errors import InputError
from strutwright.parts import Kit, make_kit
from strutwright.shape import Alternative, Shaped, alternatives
from strutwright.shape.fewer import Entry, moved_net
from strutwright.values import Note

__all__ = ["Choices", "WeighedLengths", "WeighedShape", "WeighedWidth", "weigh_choices"]

MOST_WEIGHED: Final = 12
"""Numbers of lengths for which bars are counted, those nearest to the choice: our choice."""


@dataclass(frozen=True)
class WeighedShape:
    """A shape that meets the wish, and the bars that it takes.

    Parameters
    ----------
    shape : Alternative
    types : int
        Strut types: cut lengths, and bevels where ends are sawn to them.
    bars : BarCount or None
        None where the parts cannot be made.
    is_chosen : bool
    refused : str
        Why its parts cannot be made.
    """

    shape: Alternative
    types: int
    bars: BarCount | None
    is_chosen: bool
    refused: str = ""


@dataclass(frozen=True)
class WeighedLengths:
    """A number of lengths and its price.

    Parameters
    ----------
    entry : Entry
    hub_types : int or None
    bars : BarCount or None
        None where there is no such shape, or where it was not worked out.
    is_chosen : bool
    """

    entry: Entry
    hub_types: int | None
    bars: BarCount | None
    is_chosen: bool


@dataclass(frozen=True)
class Choices:
    """All that was weighed.

    Parameters
    ----------
    shapes : tuple of WeighedShape
        The chosen one first.
    lengths : tuple of WeighedLengths
        From the lengths by nature downwards; empty where the brief asks for no fewer.
    widths : tuple of WeighedWidth
        Narrowest first; empty where the brief gives no freedom.
    notes : tuple of Note
    """

    shapes: tuple[WeighedShape, ...] = ()
    lengths: tuple[WeighedLengths, ...] = ()
    widths: tuple[WeighedWidth, ...] = ()
    notes: tuple[Note, ...] = ()


def weigh_choices(brief: Brief, shaped: Shaped) -> Choices:
    """Return the shapes, numbers of lengths and sizes that there are beside the one that is built.

    Raises
    ------
    InputError
        The parts of the net that is built cannot be made.
    """
    kit = make_kit(shaped.net, brief)
    widths = weigh_widths(kit, brief)
    return Choices(
        shapes=_shapes(brief, shaped, kit),
        lengths=_lengths(brief, shaped),
        widths=widths,
        notes=width_notes(widths),
    )


def _shapes(brief: Brief, shaped: Shaped, kit: Kit) -> tuple[WeighedShape, ...]:
    rows = []
    for number, shape in enumerate(alternatives(brief, shaped.net)):
        try:
            own = make_kit(shape.shell, brief) if number else kit
            bars = count_kit_bars(own, brief)
        except InputError as error:
            rows.append(WeighedShape(shape, shape.types, None, number == 0, error.what))
            continue
        rows.append(WeighedShape(shape, len(own.strut_types), bars, number == 0))
    return tuple(rows)


def _lengths(brief: Brief, shaped: Shaped) -> tuple[WeighedLengths, ...]:
    if shaped.tradeoff is None:
        return ()
    entries = shaped.tradeoff.entries
    chosen = next(k for k, one in enumerate(entries) if _is_built(one, shaped))
    can = [k for k, one in enumerate(entries) if not one.refused]
    weighed = sorted(can, key=lambda k: (k != 0, abs(k - chosen), k))[:MOST_WEIGHED]
    rows = []
    for k, entry in enumerate(entries):
        hub_types, bars = _parts_of(entry, brief, shaped) if k in weighed else (None, None)
        rows.append(WeighedLengths(entry, hub_types, bars, k == chosen))
    return tuple(rows)


def _is_built(entry: Entry, shaped: Shaped) -> bool:
    if entry.refused:
        return False
    used = np.unique(shaped.net.faces)
    return bool(np.allclose(entry.hubs[used, :2], shaped.net.hubs[used, :2], rtol=0, atol=1e-9))


def _parts_of(entry: Entry, brief: Brief, shaped: Shaped) -> tuple[int | None, BarCount | None]:
    try:
        kit = make_kit(moved_net(shaped.net, entry), brief)
        return len(kit.hub_types), count_kit_bars(kit, brief)
    except InputError:
        return None, None
