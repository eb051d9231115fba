"""The parts list as rows: what CSV and the spreadsheet both write."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from strutwright.parts import Kit
from strutwright.units import show_length

__all__ = [
    "Cell",
    "CutBar",
    "CutPiece",
    "Table",
    "cut_plan_table",
    "fastener_table",
    "hub_table",
    "hub_type_table",
    "strut_table",
    "strut_type_table",
]

Cell = str | int | float | None


class CutPiece(Protocol):
    """A piece on a bar."""

    @property
    def label(self) -> str:
        """Label of the piece."""

    @property
    def length(self) -> float:
        """Cut length, m."""


class CutBar(Protocol):
    """A bar of a cutting plan."""

    @property
    def stock(self) -> str:
        """Catalogue id of what it is."""

    @property
    def length(self) -> float:
        """Length as sold, m."""

    @property
    def cuts(self) -> Sequence[CutPiece]:
        """Pieces in the order in which they are sawn."""

    @property
    def offcut(self) -> float:
        """What is left, m."""


@dataclass(frozen=True)
class Table:
    """Rows under a head; a head names the unit of its column."""

    name: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def strut_type_table(kit: Kit, system: str, step: float | None = None) -> Table:
    """Return one row for each strut type; lengths in m and as the reader's `system` shows them."""
    head = (
        *("label", "band", "quantity", "role", "node length (m)", "cut length (m)"),
        *("cut length", "pieces", "couplers at (m)"),
    )
    rows = [
        (
            *(kind.label, kind.band, kind.quantity, kind.role),
            *(kind.node_length, kind.cut_length, show_length(kind.cut_length, system, step=step)),
            "; ".join(f"{p.label} {p.quantity} x {p.length:.4f} m" for p in kind.pieces),
            "; ".join(f"{at:.4f}" for at in kind.coupler_at),
        )
        for kind in kit.strut_types
    ]
    return Table("strut types", head, tuple(rows))


def strut_table(kit: Kit, system: str, step: float | None = None) -> Table:
    """Return one row for each strut: its number, its hubs, its type and lengths."""
    head = (
        *("strut", "hub i", "hub j", "type", "role", "node length (m)", "cut length (m)"),
        "cut length",
    )
    rows = []
    for k, (i, j) in enumerate(kit.shell.struts.tolist()):
        kind = kit.strut_types[int(kit.strut_type_of[k])]
        shown = show_length(kind.cut_length, system, step=step)
        role = str(kit.shell.role[k])
        rows.append((k, i, j, kind.label, role, kind.node_length, kind.cut_length, shown))
    return Table("struts", head, tuple(rows))


def hub_type_table(kit: Kit) -> Table:
    """Return one row for each hub type with the angles of its spokes in degrees."""
    head = ("label", "valence", "quantity", "sockets", "azimuths (deg)", "dips (deg)", "hubs")
    rows = []
    for kind in kit.hub_types:
        azimuths, dips = np.degrees(kind.spokes).T.tolist()
        rows.append(
            (
                *(kind.label, kind.valence, kind.quantity, " ".join(kind.sockets)),
                " ".join(f"{angle + 0.0:.2f}" for angle in azimuths),
                " ".join(f"{angle + 0.0:.2f}" for angle in dips),
                " ".join(str(hub) for hub in kind.hubs.tolist()),
            )
        )
    return Table("hub types", head, tuple(rows))


def hub_table(kit: Kit) -> Table:
    """Return one row for each hub: its number, type, course and place in m."""
    head = ("hub", "type", "course", "x (m)", "y (m)", "z (m)")
    rows = [
        (k, kit.hub_types[int(kit.hub_type_of[k])].label, int(kit.shell.course[k]), x, y, z)
        for k, (x, y, z) in enumerate((kit.shell.hubs + 0.0).tolist())
    ]
    return Table("hubs", head, tuple(rows))


def fastener_table(kit: Kit) -> Table:
    """Return one row for each fastener."""
    head = ("item", "quantity", "mass of one (kg)", "price of one")
    rows = tuple((f.item, f.quantity, f.mass, f.price) for f in kit.fasteners)
    return Table("fasteners", head, rows)


def cut_plan_table(bars: Sequence[CutBar], system: str, step: float | None = None) -> Table:
    """Return one row for each cut: bar by bar, in the order of sawing, then the offcut."""
    head = ("bar", "stock", "bar length (m)", "cut", "label", "length (m)", "length")
    rows: list[tuple[Cell, ...]] = []
    for number, bar in enumerate(bars, 1):
        cuts = [(cut.label, cut.length) for cut in bar.cuts] + [("offcut", bar.offcut)]
        for place, (label, length) in enumerate(cuts, 1):
            shown = show_length(length, system, step=step)
            rows.append((number, bar.stock, bar.length, place, label, length, shown))
    return Table("cut plan", head, tuple(rows))
