"""A layer of film: the ways of parting the shell tried, the one with the least seam kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from strutwright.cover.nest import GAP, nest_in_rows
from strutwright.cover.pieces import pieces_of, seams_of, upwards
from strutwright.cover.strips import Room, cut_into_strips, face_points, laid_again
from strutwright.cover.surface import Cloth, cloth_of, offset_points
from strutwright.cover.unroll import Unrolled, flat_face, least_width
from strutwright.cover.values import FilmLayer, Nest, Piece, Seam, WayTried
from strutwright.cover.ways import barriers
from strutwright.errors import InputError
from strutwright.shape import Shell

__all__ = ["FLAP", "HEM", "SEAM", "FilmWish", "film_layer"]

SEAM: Final = 0.030
"""m of film beyond the strut at a seam, on both pieces: the lap is twice this, and the fixing holds
both. Common practice 25 to 50 mm, no source."""
HEM: Final = 0.30
"""m of film below the base strut, to be wrapped or buried; our choice."""
LANES: Final = (1, 2, 3)
"""Pieces that lie side by side across the roll: narrower pieces are straighter and waste less."""
SEAM_SLACK: Final = 0.10
"""Ways with up to this share more seam than the least are taken as alike; then a way with a
direction goes before ``free``, whose pieces differ more, and the fewest rolls and metres bought
decide. Where these are alike, too, the fewest metres of seam do."""
FLAP: Final = 0.10
"""m of film beyond the strut at doors, slots and vents; our choice."""


@dataclass(frozen=True)
class FilmWish:
    """What a layer of film is asked to be.

    Parameters
    ----------
    name : str
        ``outer`` or ``inner``.
    prefix : str
        Before the numbers of its pieces.
    offset : float, m
        Outwards from the hub centres.
    width : float, m
        Of the roll.
    lengths : tuple of float, m
        Of the rolls sold.
    way : str
        One of `WAYS`, or ``auto``.
    seam, hem, flap : float, m
    """

    name: str
    prefix: str
    offset: float
    width: float
    lengths: tuple[float, ...]
    way: str = "auto"
    seam: float = SEAM
    hem: float = HEM
    flap: float = FLAP

    @property
    def room(self) -> Room:
        """What its pieces have to fit."""
        allowance = {"seam": self.seam, "hem": self.hem, "flap": self.flap}
        return Room(self.width, max(self.lengths), allowance)


def film_layer(shell: Shell, wish: FilmWish, like: FilmLayer | None = None) -> FilmLayer:
    """Return the layer of film, parted the way that leaves the fewest metres of seam.

    Parameters
    ----------
    shell : Shell
    wish : FilmWish
    like : FilmLayer or None
        A layer whose parting is taken over, so that seams lie over one another; where one of
        its pieces does not lie flat or fit here, the shell is parted anew.

    Raises
    ------
    InputError
        ``roll-too-narrow``: a face does not fit across the roll; ``cover-way``: the way does not
        suit the family.
    """
    cloth = cloth_of(shell, offset_points(shell, wish.offset))
    room = wish.room
    widest = _checked_width(cloth, room)
    if like and (again := laid_again(cloth, [p.faces.tolist() for p in like.pieces], room)):
        parted = _put_together(cloth, again, like.way)
        return _layer(cloth, wish, parted, _cut(cloth, parted, wish), like.tried)
    ways = barriers(shell)
    if wish.way != "auto" and wish.way not in ways:
        what = f"strips = {wish.way!r} does not suit a {shell.recipe.family}"
        raise InputError("cover-way", what, "cover.strips", f"one of: auto, {', '.join(ways)}")
    tried = [
        _parted(cloth, barrier, wish, way, lanes)
        for way, barrier in ways.items()
        for lanes in LANES
        if wish.way in {"auto", way} and (lanes == 1 or widest <= wish.width / lanes - GAP)
    ]
    parted, cut = _best(cloth, tried, wish)
    rows = tuple(WayTried(one.way, one.seam_length, len(one.laid)) for one in tried)
    return _layer(cloth, wish, parted, cut, rows)


def _best(cloth: Cloth, tried: Sequence[_Parted], wish: FilmWish) -> tuple[_Parted, _Cut]:
    """Return the parting with the fewest metres of seam, of those that buy the least film."""
    least = min(one.seam_length for one in tried)
    near = [one for one in tried if one.seam_length <= least * (1 + SEAM_SLACK)]
    plain = [one for one in near if one.way != "free"] or near
    cuts = [(one, _cut(cloth, one, wish)) for one in plain]
    return min(cuts, key=lambda both: (both[1].nest.bought, both[0].seam_length))


@dataclass(frozen=True)
class _Parted:
    """A way of parting: its pieces laid flat, and where they meet."""

    way: str
    laid: Sequence[Unrolled]
    seams: tuple[Seam, ...]
    seam_length: float


@dataclass(frozen=True)
class _Cut:
    """Its pieces as they are cut, and how they lie on the roll."""

    pieces: tuple[Piece, ...]
    nest: Nest


def _cut(cloth: Cloth, parted: _Parted, wish: FilmWish) -> _Cut:
    pieces = pieces_of(cloth, parted.laid, wish.room, wish.prefix)
    return _Cut(pieces, nest_in_rows([one.cut for one in pieces], wish.width, wish.lengths))


def _layer(
    cloth: Cloth, wish: FilmWish, parted: _Parted, cut: _Cut, tried: tuple[WayTried, ...]
) -> FilmLayer:
    return FilmLayer(
        name=wish.name,
        way=parted.way,
        offset=wish.offset,
        points=cloth.points,
        pieces=cut.pieces,
        seams=parted.seams,
        seam_length=parted.seam_length,
        hem_length=_along(cloth, cut.pieces, "hem"),
        flap_length=_along(cloth, cut.pieces, "flap"),
        tried=tried,
        nest=cut.nest,
        sold=wish.lengths,
    )


def _parted(
    cloth: Cloth, barrier: NDArray[np.bool_], wish: FilmWish, way: str, lanes: int
) -> _Parted:
    room = replace(wish.room, width=wish.width / lanes - (GAP if lanes > 1 else 0.0))
    laid = [*cut_into_strips(cloth, barrier, room), *_vents(cloth)]
    return _put_together(cloth, upwards(cloth, laid), way)


def _put_together(cloth: Cloth, laid: Sequence[Unrolled], way: str) -> _Parted:
    seams = seams_of(cloth, [np.array(list(one)) for one in laid])
    return _Parted(way, laid, seams, round(sum(seam.length for seam in seams), 6))


def _vents(cloth: Cloth) -> Sequence[Unrolled]:
    return [{face: flat_face(cloth, face)} for face in cloth.vents.tolist()]


def _along(cloth: Cloth, pieces: Sequence[Piece], kind: str) -> float:
    length = dict(zip(cloth.struts.ravel().tolist(), cloth.lengths.ravel().tolist(), strict=True))
    struts = [
        strut
        for piece in pieces
        for strut, this in zip(piece.edge_struts.tolist(), piece.edge_kinds, strict=True)
        if this == kind
    ]
    return float(sum(length[strut] for strut in struts))


def _widest_face(cloth: Cloth, room: Room) -> tuple[float, int]:
    """Return the least width that takes every face with its allowances, m, and the face."""
    widths = [least_width(points)[0] for points in face_points(cloth, room)]
    at = int(np.argmax(widths))
    return widths[at], at


def _checked_width(cloth: Cloth, room: Room) -> float:
    worst, at = _widest_face(cloth, room)
    if worst > room.width + 1e-9:
        hubs = "-".join(str(hub) for hub in cloth.faces[at])
        raise InputError(
            "roll-too-narrow",
            f"the roll is {room.width:.2f} m wide, and face {hubs} needs {worst:.2f} m with its "
            "seams and hems",
            "cover.roll",
            f"take a roll of {np.ceil(worst * 10) / 10:.1f} m or wider, or a higher frequency",
        )
    return worst
