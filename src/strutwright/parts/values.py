"""The values of the parts list: strut types, hub types, fasteners, the kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from strutwright.catalogue import Connector, Stock
from strutwright.shape.shell import Shell
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = ["EndCut", "Fastener", "HubType", "Kit", "PieceCount", "StrutType"]


@dataclass(frozen=True)
class EndCut:
    """How the end of a timber strut is sawn.

    Parameters
    ----------
    tilt : float, rad
        Of the saw against square, so that the end face stands along the hub's axis: the dip of
        the strut at that hub.
    bevel : float or None, rad
        Of each long edge of the outer side, so that it lies in its face: half the fold at the
        strut; None on a strut that does not lie between two faces.
    """

    tilt: float
    bevel: float | None


@dataclass(frozen=True)
class PieceCount:
    """Pieces of one kind that a strut type is made of.

    Parameters
    ----------
    label : str
        The type's label where a strut is one piece; ``A1``, ``A2`` ... where it is several.
    length : float, m
    quantity : int
        For all struts of the type together.
    """

    label: str
    length: float
    quantity: int


@dataclass(frozen=True, eq=False)
class StrutType(ArrayValue):
    """Struts that are sawn alike.

    Parameters
    ----------
    label : str
        ``A`` is the longest; after ``Z`` comes ``AA``.
    node_length, cut_length : float, m
        Hub centre to hub centre; sawn. The middle of what the type holds.
    quantity : int
    struts : (quantity,) int array
        Ids of its struts in the shell.
    role : str
    band : str
        Bands round the strut near its end: ``n`` a narrow one, ``w`` a wide one; reads the same
        type from both sides.
    pieces : tuple of PieceCount
    coupler_at : tuple of float, m
        Couplers, from one end of the strut.
    end_cuts : tuple of EndCut
        Both ends, the flatter one first; empty where ends are sawn square.
    """

    label: str
    node_length: float
    cut_length: float
    quantity: int
    struts: Indices
    role: str
    band: str
    pieces: tuple[PieceCount, ...]
    coupler_at: tuple[float, ...] = ()
    end_cuts: tuple[EndCut, ...] = ()


@dataclass(frozen=True, eq=False)
class HubType(ArrayValue):
    """Hubs that are made alike.

    Parameters
    ----------
    label : str
        ``H1``, ``H2`` ...
    valence, quantity : int
    hubs : (quantity,) int array
        Ids of its hubs in the shell.
    spokes : (valence, 2) array, rad
        Azimuth from the first spoke, anticlockwise seen from outside, and dip below the tangent
        plane.
    sockets : tuple of str
        Label of the strut in each spoke, in their order; ``B/C`` where hubs of the type differ.
    """

    label: str
    valence: int
    quantity: int
    hubs: Indices
    spokes: Floats
    sockets: tuple[str, ...]


@dataclass(frozen=True)
class Fastener:
    """A fastener to order.

    Parameters
    ----------
    item : str
    quantity : int
    mass : float or None, kg
        Of one.
    price : float or None
        Of one, in the brief's currency.
    """

    item: str
    quantity: int
    mass: float | None = None
    price: float | None = None


@dataclass(frozen=True, eq=False)
class Kit(ArrayValue):
    """All parts of a shell.

    Parameters
    ----------
    shell : Shell
    stock : Stock
    connector : Connector
    strut_types : tuple of StrutType
        Longest first.
    strut_type_of : (S,) int array
        Index into `strut_types` for each strut.
    hub_types : tuple of HubType
    hub_type_of : (H,) int array
        Index into `hub_types` for each hub.
    fasteners : tuple of Fastener
    mass : float, kg
        Struts, hubs, couplers and fasteners, without cover and anchors.
    notes : tuple of Note
    allowances : (S, 2) array, m
        Hub centre to sawn end at both ends of each strut, in the order of `shell.struts`.
    socket_start : (H + 1,) int array
        Where the struts of each hub start in `socket_struts`.
    socket_struts : (2 S,) int array
        Strut ids at each hub, in the order of its type's spokes.
    is_mirrored : (H,) bool array
        True where a hub is the mirror image of its type: its sockets run clockwise.
    confusable : tuple of (str, str)
        Labels of strut types that are easily taken for one another.
    masses : mapping of str to float, kg
        ``struts``, ``hubs``, ``couplers``, ``fasteners``.

    Raises
    ------
    ValueError
        An invariant is broken: that is a fault of the maker, not of the user.
    """

    shell: Shell
    stock: Stock
    connector: Connector
    strut_types: tuple[StrutType, ...]
    strut_type_of: Indices
    hub_types: tuple[HubType, ...]
    hub_type_of: Indices
    fasteners: tuple[Fastener, ...]
    mass: float
    notes: tuple[Note, ...]
    allowances: Floats
    socket_start: Indices
    socket_struts: Indices
    is_mirrored: Indices
    confusable: tuple[tuple[str, str], ...] = ()
    masses: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Lock the arrays and check that every strut and every hub is in exactly one type."""
        super().__post_init__()
        _check_partition(
            self.strut_type_of,
            [t.struts for t in self.strut_types],
            len(self.shell.struts),
            "strut",
        )
        _check_partition(
            self.hub_type_of, [t.hubs for t in self.hub_types], len(self.shell.hubs), "hub"
        )
        labels = [t.label for t in self.strut_types] + [t.label for t in self.hub_types]
        if len(set(labels)) != len(labels):
            _fail("a label stands twice")
        for kind in self.strut_types:
            sawn = sum(piece.length * piece.quantity for piece in kind.pieces)
            if abs(sawn - kind.quantity * kind.cut_length) > 1e-9 * kind.quantity:
                _fail(f"the pieces of type {kind.label} do not sum to its cut length")
        if not np.array_equal(np.bincount(self.socket_struts), np.full(len(self.shell.struts), 2)):
            _fail("a strut does not stand in exactly two sockets")

    def sockets(self, hub: int) -> Indices:
        """Return the strut ids at `hub`, in the order of its type's spokes."""
        return self.socket_struts[self.socket_start[hub] : self.socket_start[hub + 1]]


def _check_partition(of: Indices, members: list[Indices], n: int, what: str) -> None:
    if of.shape != (n,):
        _fail(f"not every {what} has a type")
    if not members or not np.array_equal(np.sort(np.concatenate(members)), np.arange(n)):
        _fail(f"a {what} is not in exactly one type")
    for index, some in enumerate(members):
        if (of[some] != index).any():
            _fail(f"type {index} lists a {what} that belongs to another")


def _fail(what: str) -> None:
    msg = f"not a kit: {what}"
    raise ValueError(msg)
