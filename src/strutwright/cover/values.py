"""What a cover is made of: film pieces, seams, panels, and how they lie on rolls and sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from strutwright.cover.holding import Bending, Drape, Fixing, LayerFitting, LayerGap
from strutwright.values import ArrayValue, Floats, Indices, Note

__all__ = [
    "Bending",
    "CoverPlan",
    "Drape",
    "FilmLayer",
    "Fixing",
    "LayerFitting",
    "LayerGap",
    "Nest",
    "PanelPlan",
    "PanelType",
    "Piece",
    "Placed",
    "Seam",
    "Skirt",
    "SkirtPart",
    "StockUse",
    "WayTried",
]

EdgeKind = Literal["seam", "hem", "flap"]


@dataclass(frozen=True, eq=False)
class Piece(ArrayValue):
    """One piece of film: faces unrolled into the plane, turned so that it lies along the roll.

    Parameters
    ----------
    label : str
    faces : (n,) int array
        Faces it covers, in the order they were unrolled.
    corners : (n, 3, 2) array, m
        Where the hubs of each face lie, in the order of the face.
    outline : (k, 2) array, m
        Finished edge, anticlockwise.
    edge_struts : (k,) int array
        Strut under the edge from outline point i to i + 1.
    edge_kinds : tuple of str
        ``seam`` to another piece, ``hem`` at the base, ``flap`` at an opening.
    cut : (m, 2) array, m
        Edge to be cut: the finished edge with its allowances.
    length, width : float, m
        Of the cut piece along and across the roll.
    area : float, m2
        Of the cut piece.
    vent : bool
        It is a vent and hangs on its upper strut.
    """

    label: str
    faces: Indices
    corners: Floats
    outline: Floats
    edge_struts: Indices
    edge_kinds: tuple[EdgeKind, ...]
    cut: Floats
    length: float
    width: float
    area: float
    vent: bool = False


@dataclass(frozen=True)
class Seam:
    """A strut along which two pieces meet; piece `over` lies outside, so that water runs off."""

    strut: int
    over: int
    under: int
    length: float


@dataclass(frozen=True)
class Placed:
    """A piece or panel on its roll or sheet: turned, set into its box, then moved by (x, y), m.

    `stock` counts rolls or sheets from 0; `item` is the index of the piece or of the panel type;
    `angle`, rad, anticlockwise.
    """

    item: int
    stock: int
    x: float
    y: float
    angle: float = 0.0

    @property
    def turned(self) -> bool:
        """Whether it is turned at all."""
        return self.angle != 0


@dataclass(frozen=True)
class StockUse:
    """A roll or sheet: its width and length, and how much of the length is used, m."""

    width: float
    length: float
    used: float


@dataclass(frozen=True)
class Nest:
    """How pieces lie on rolls or sheets.

    Parameters
    ----------
    method : str
        ``rows``, ``fitted`` or ``dense``.
    placed : tuple of Placed
    stock : tuple of StockUse
    density : float
        Area of the pieces over the area used.
    """

    method: str
    placed: tuple[Placed, ...]
    stock: tuple[StockUse, ...]
    density: float

    @property
    def length(self) -> float:
        """Length used of all rolls or sheets, m."""
        return float(sum(use.used for use in self.stock))

    @property
    def bought(self) -> float:
        """Length bought of all rolls or sheets, m."""
        return float(sum(use.length for use in self.stock))


@dataclass(frozen=True)
class WayTried:
    """A way of parting the shell: metres of seam, number of pieces."""

    way: str
    seam_length: float
    pieces: int


@dataclass(frozen=True, eq=False)
class FilmLayer(ArrayValue):
    """One layer of film.

    Parameters
    ----------
    name : str
        ``outer`` or ``inner``.
    way : str
        How faces were put together, as ``courses``.
    offset : float, m
        Of the film from the hub centres, outwards.
    points : (H, 3) array, m
        Where the film passes each hub.
    pieces : tuple of Piece
    seams : tuple of Seam
    seam_length, hem_length, flap_length : float, m
    tried : tuple of WayTried
    nest : Nest
    sold : tuple of float, m
        Lengths that the roll is sold in.
    """

    name: str
    way: str
    offset: float
    points: Floats
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    seam_length: float
    hem_length: float
    flap_length: float
    tried: tuple[WayTried, ...]
    nest: Nest
    sold: tuple[float, ...]


@dataclass(frozen=True, eq=False)
class PanelType(ArrayValue):
    """A rigid panel, seen from outside.

    Parameters
    ----------
    label : str
    quantity : int
    faces : (q,) int array
    first_hubs : (q,) int array
        Hub of each face over the corner where the panel's first edge begins.
    outline : (3, 2) array, m
        The panel before its corners are cut, on the side that lies on the struts; the first edge
        is the one that lies most level, along +x.
    cut : (k, 2) array, m
        The edge to be cut: the same with its corners off, clear of the hubs.
    corners : (3,) array, m
        Of each corner of the outline, what is cut off along both its edges.
    bevels : (3,) array, rad
        Of the cut against square, at each edge; positive where the side to the weather is longer.
    setbacks : (3,) array, m
        Of the cut edge from the line between hub centres, in the plane of the panel.
    holes : (n, 2) array, m
    hole_diameter : float, m
    mirror_of : str
        Label of the type that is its mirror image, or empty.
    area : float, m2
    vent : bool
    """

    label: str
    quantity: int
    faces: Indices
    first_hubs: Indices
    outline: Floats
    cut: Floats
    corners: Floats
    bevels: Floats
    setbacks: Floats
    holes: Floats
    hole_diameter: float
    mirror_of: str
    area: float
    vent: bool


@dataclass(frozen=True, eq=False)
class PanelPlan(ArrayValue):
    """One layer of panels and the sheets they come from.

    Parameters
    ----------
    name : str
        ``outer`` or ``inner``.
    offset : float, m
        Of the side that lies on the struts from the hub centres, outwards.
    types : tuple of PanelType
    lying : tuple of (k, 2) arrays, m
        Cut edge of each type as it lies on the sheet, in its box from (0, 0).
    nest : Nest
        Its items are numbers of types.
    gap : float, m
        Left between panels over a strut.
    directed : bool
        The sheet has flutes, which run from the first edge of a panel upwards.
    seat, beside : float, m
        How far beside the middle of a strut a screw still finds it, and how far the farthest is.
    """

    name: str
    offset: float
    types: tuple[PanelType, ...]
    lying: tuple[Floats, ...]
    nest: Nest
    gap: float
    directed: bool
    seat: float
    beside: float


@dataclass(frozen=True, eq=False)
class SkirtPart(ArrayValue):
    """A part of the skirt: from which struts on it hangs, its edge to be cut, m, its area, m2."""

    label: str
    quantity: int
    struts: Indices
    cut: Floats
    wide: float
    high: float
    area: float


@dataclass(frozen=True)
class Skirt:
    """What closes the band under a base ring on legs, doors left open.

    Parameters
    ----------
    parts : tuple of SkirtPart
    nest : Nest
        Its items are numbers of parts.
    around, area : float, m and m2
        Of the band that is closed, without allowances.
    highest : float, m
    buried : float, m
        Of film, below the ground.
    """

    parts: tuple[SkirtPart, ...]
    nest: Nest
    around: float
    area: float
    highest: float
    buried: float


@dataclass(frozen=True)
class CoverPlan:
    """The cover of a shell.

    Parameters
    ----------
    material : str
    layers : int
    films : tuple of FilmLayer
        Outer and inner; none where the cover is of sheets.
    sheets : tuple of PanelPlan
        Outer and inner; none where the cover is of film.
    gap : LayerGap or None
    fittings : tuple of LayerFitting
        Of two layers.
    skirt : Skirt or None
        Under a base ring on legs.
    drape : Drape or None
    fixing : Fixing or None
        Of film.
    bending : Bending or None
        Of sheets.
    screw_pull : float or None, N
        On one screw of a panel in the wind, in use, at the worst face.
    used, bought : float, m2
    mass : float, kg
    notes : tuple of Note
    """

    material: str
    layers: int
    films: tuple[FilmLayer, ...] = ()
    sheets: tuple[PanelPlan, ...] = ()
    gap: LayerGap | None = None
    fittings: tuple[LayerFitting, ...] = ()
    skirt: Skirt | None = None
    drape: Drape | None = None
    fixing: Fixing | None = None
    bending: Bending | None = None
    screw_pull: float | None = None
    used: float = 0.0
    bought: float = 0.0
    mass: float = 0.0
    notes: tuple[Note, ...] = ()

    @property
    def waste(self) -> float:
        """Share of what is bought that is in no piece."""
        return 1 - self.used / self.bought if self.bought else 0.0
