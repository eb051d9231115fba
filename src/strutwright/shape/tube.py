"""Closed nets: a tube closed by two p-fold caps, as connectivity and lattice places only."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from strutwright.values import ArrayValue, Faces, Floats, Indices

__all__ = ["ClosedNet", "closed_net"]

Place = tuple[int, int]
"""(u, j): levels from the pole along the axis, steps around from the middle of the wedge."""


@dataclass(frozen=True, eq=False)
class ClosedNet(ArrayValue):
    """A closed triangulated tube with two p-fold caps.

    A wedge is the part of the net between two neighbouring rays from the pole through the
    five-way hubs. Levels count along the axis, 0 at one pole and `levels` at the other; steps
    count around, 2 b to a wedge. The lattice is the same for both classes, turned by 90 degrees.

    Parameters
    ----------
    symmetry : int
        Order p of the axis.
    frequency : int
        b of the division (b, 0) or (b, b).
    rows : str
        ``along`` for class II caps (strut rows run along the axis), ``around`` for class I.
    levels : int
        Levels from pole to pole.
    faces : (F, 3) int array
        Hubs of each face, anticlockwise from outside.
    level : (V,) int array
        Level of each hub.
    wedge : (V,) int array
        Wedge of each hub, 0 to p - 1, counted from its own cap.
    step : (V,) int array
        Steps of each hub from the middle of its wedge, -b to b.
    """

    symmetry: int
    frequency: int
    rows: str
    levels: int
    faces: Faces
    level: Indices
    wedge: Indices
    step: Indices

    @property
    def cap_levels(self) -> int:
        """Levels from a pole to its ring of five-way hubs."""
        return self.frequency * (3 if self.rows == "along" else 1)

    @property
    def place_around(self) -> Floats:
        """Place of each hub between the rays of its wedge, (V,), -1 to 1."""
        inner = np.minimum(self.level, self.levels - self.level)
        reach = inner / 3 if self.rows == "along" else inner
        reach = np.minimum(reach, self.frequency)
        return self.step / np.where(reach > 0, reach, 1)


@lru_cache(maxsize=64)
def closed_net(symmetry: int, frequency: int, rows: str, tube_levels: int) -> ClosedNet:
    """Return the closed net of `symmetry` p, T = b² or 3 b², Q = b `tube_levels`.

    It has p (T + Q) + 2 hubs and 2 p (T + Q) faces (own derivation: each of the 2 p cap
    triangles holds T small ones, the tube between the rings of five-way hubs 2 p Q).

    Parameters
    ----------
    symmetry : int
        Order p of the axis, 3 or more.
    frequency : int
        b, 1 or more.
    rows : str
        ``along``: class II caps (b, b); ``around``: class I caps (b, 0).
    tube_levels : int
        Levels between the two rings of five-way hubs, 1 or more.
    """
    grid = _Grid(symmetry, frequency, rows, tube_levels)
    numbers: dict[tuple[int, int, int], int] = {}
    faces = []
    for far in (False, True):
        for wedge in range(symmetry):
            for corners in grid.triangles(far=far):
                keys = [grid.key(wedge, place, far=far) for place in corners]
                face = [numbers.setdefault(key, len(numbers)) for key in keys]
                faces.append(face[::-1] if far else face)
    places = np.array([grid.place(key) for key in numbers])
    return ClosedNet(
        symmetry,
        frequency,
        rows,
        grid.levels,
        np.array(faces),
        places[:, 0],
        places[:, 1],
        places[:, 2],
    )


@dataclass(frozen=True)
class _Grid:
    """Lattice of one wedge and how neighbouring wedges and the two halves are sewn."""

    symmetry: int
    frequency: int
    rows: str
    tube_levels: int

    @property
    def cap_levels(self) -> int:
        return self.frequency * (3 if self.rows == "along" else 1)

    @property
    def levels(self) -> int:
        return 2 * self.cap_levels + self.tube_levels

    def triangles(self, *, far: bool) -> Iterator[tuple[Place, Place, Place]]:
        """Give the triangles of one wedge on one side of the middle, anticlockwise."""
        b = self.frequency
        for u in range(self.levels // 2 + 2):
            for j in range(-b - 2, b + 3):
                if (u - j) % 2:
                    continue
                for corners in self._at(u, j):
                    if self._belongs(corners, far=far):
                        yield corners

    def _at(self, u: int, j: int) -> list[tuple[Place, Place, Place]]:
        if self.rows == "along":
            return [((u, j), (u + 2, j), (u + 1, j + 1)), ((u, j), (u + 1, j - 1), (u + 2, j))]
        return [((u, j), (u + 1, j + 1), (u, j + 2)), ((u, j), (u, j + 2), (u - 1, j + 1))]

    def _belongs(self, corners: tuple[Place, Place, Place], *, far: bool) -> bool:
        u = sum(place[0] for place in corners)
        j = sum(place[1] for place in corners)
        past = 2 * u - 3 * self.levels
        if past > 0 or (past == 0 and far) or u <= 0:
            return False
        if u < 3 * self.cap_levels:
            slope = 3 if self.rows == "along" else 1
            return -u < slope * j <= u
        return -3 * self.frequency < j <= 3 * self.frequency

    def key(self, wedge: int, place: Place, *, far: bool) -> tuple[int, int, int]:
        """Return the one name of a hub: (side, level, step around the whole)."""
        u, j = place
        b, turn = self.frequency, 2 * self.frequency * self.symmetry
        if u < self.cap_levels:
            wedge, u, j = self._into_wedge(wedge, u, j)
            if u == 0:
                return (int(far), 0, 0)
            return (int(far), u, (2 * b * wedge + j) % turn)
        around = 2 * b * wedge + j
        if far:
            around += self.levels % 2
            u = self.levels - u
        if u > self.levels - self.cap_levels:
            msg = "the tube is too short for its lattice"
            raise ValueError(msg)
        return (2, u, around % turn)

    def _into_wedge(self, wedge: int, u: int, j: int) -> tuple[int, int, int]:
        slope = 3 if self.rows == "along" else 1
        if slope * j > u:
            u, j = self._turned(u, j, -1)
            wedge += 1
        elif slope * j <= -u and u > 0:
            u, j = self._turned(u, j, 1)
            wedge -= 1
        return wedge % self.symmetry, u, j

    def _turned(self, u: int, j: int, way: int) -> Place:
        """Return the place after a turn by 60 degrees about the pole."""
        if self.rows == "along":
            return (u - way * 3 * j) // 2, (j + way * u) // 2
        return (u - way * j) // 2, (j + way * 3 * u) // 2

    def place(self, key: tuple[int, int, int]) -> tuple[int, int, int]:
        """Return level from the first pole, wedge and step in the wedge, of a hub."""
        side, u, around = key
        b = self.frequency
        shift = self.levels % 2 if side == 2 and 2 * u > self.levels else 0
        wedge = -(-(around - shift - b) // (2 * b))
        step = around - shift - 2 * b * wedge
        level = self.levels - u if side == 1 else u
        return level, wedge % self.symmetry, step
