"""The frame as given: nodes, members with their sections, end springs, offsets and supports."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from strutwright.frame.couplers import Couplers
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Contacts", "Flags", "FrameModel", "Sections", "circular_tube"]

Flags = NDArray[np.bool_]

VERTICAL = 1e-3
"""Sine of the angle to the vertical below which a member takes +y as its default reference
(our choice: any value works, this keeps the local axes of nearly level members upright)."""


def left_out() -> Floats:
    """Return the empty array that stands for "not given: take the default"."""
    return np.empty(0)


def _filled(value: ArrayLike, default: ArrayLike, shape: tuple[int, ...], name: str) -> Floats:
    """Return `value` as floats of `shape`, or `default` where nothing was given."""
    given = np.asarray(value, dtype=float)
    if given.shape == (0,) and shape[0] != 0:
        given = np.asarray(default, dtype=float)
    elif given.size == 0:
        given = np.zeros(shape)
    try:
        return np.array(np.broadcast_to(given, shape))
    except ValueError as error:
        msg = f"{name} has shape {given.shape}, which does not fill {shape}"
        raise ValueError(msg) from error


def _refuse(bad: Flags, name: str, why: str) -> None:
    """Raise ValueError naming the first row where `bad` holds."""
    if bad.any():
        row = tuple(int(k) for k in np.argwhere(bad)[0])
        msg = f"{name}{list(row)} {why}"
        raise ValueError(msg)


@dataclass(frozen=True, eq=False)
class Sections(ArrayValue):
    """Table of cross sections with their material, one row a section.

    Parameters
    ----------
    area : (K,) array, m2
    inertia_y, inertia_z : (K,) array, m4
        Second moments for bending about the local y and z axes.
    torsion : (K,) array, m4
        Torsion constant J.
    modulus, shear_modulus : (K,) array, Pa
        E and G.
    shear_area_y, shear_area_z : (K,) array, m2
        Areas that carry shear along y and z; left out: infinite, no shear deformation.
    """

    area: Floats
    inertia_y: Floats
    inertia_z: Floats
    torsion: Floats
    modulus: Floats
    shear_modulus: Floats
    shear_area_y: Floats = field(default_factory=left_out)
    shear_area_z: Floats = field(default_factory=left_out)

    def __post_init__(self) -> None:
        """Fill single numbers to the length of the table and refuse what is not positive."""
        count = max(np.size(getattr(self, name)) for name in self.__dataclass_fields__)
        for name in self.__dataclass_fields__:
            row = _filled(getattr(self, name), np.inf, (count,), name)
            _refuse(np.isnan(row), name, "is not a number")
            _refuse(row <= 0.0, name, "is not above zero")
            if not name.startswith("shear_area"):
                _refuse(np.isinf(row), name, "is not finite")
            object.__setattr__(self, name, row)
        super().__post_init__()


def circular_tube(
    diameter: ArrayLike, wall: ArrayLike, modulus: ArrayLike, shear_modulus: ArrayLike
) -> Sections:
    """Return the section table of round tubes of outer `diameter` and `wall`, both m.

    Source: A = pi (D2 - d2)/4, I = pi (D4 - d4)/64, J = 2 I (exact for a round tube).
    """
    outer, thick = (
        np.atleast_1d(np.asarray(diameter, float)),
        np.atleast_1d(np.asarray(wall, float)),
    )
    inner = outer - 2.0 * thick
    inertia = np.pi / 64.0 * (outer**4 - inner**4)
    area = np.pi / 4.0 * (outer**2 - inner**2)
    e, g = (
        np.atleast_1d(np.asarray(modulus, float)),
        np.atleast_1d(np.asarray(shear_modulus, float)),
    )
    return Sections(area, inertia, inertia, 2.0 * inertia, e, g)


@dataclass(frozen=True, eq=False)
class Contacts(ArrayValue):
    """Supports that push only: a base that may lift off, and slide when friction is overcome.

    Parameters
    ----------
    nodes : (C,) int array
    axis : (C,) int array
        Global axis of the push: 0 x, 1 y, 2 z (the default).
    sign : (C,) array
        +1 where the ground pushes along +axis (the default), -1 against it.
    friction : (C,) array
        Coefficient of Coulomb friction across the axis; 0 (the default) slides freely,
        infinity never slides while pressed.
    """

    nodes: Indices = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    axis: Indices = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    sign: Floats = field(default_factory=left_out)
    friction: Floats = field(default_factory=left_out)

    def __post_init__(self) -> None:
        """Fill the defaults and check the ranges."""
        nodes = np.atleast_1d(np.asarray(self.nodes, dtype=np.int64))
        shape = nodes.shape
        axis = _filled(self.axis, 2, shape, "axis").astype(np.int64)
        sign = _filled(self.sign, 1.0, shape, "sign")
        friction = _filled(self.friction, 0.0, shape, "friction")
        _refuse((axis < 0) | (axis > 2), "axis", "is not 0, 1 or 2")
        _refuse(np.abs(sign) != 1.0, "sign", "is not +1 or -1")
        _refuse(~(friction >= 0.0), "friction", "is below zero or not a number")
        for name, value in zip(
            ("nodes", "axis", "sign", "friction"), (nodes, axis, sign, friction), strict=True
        ):
            object.__setattr__(self, name, value)
        super().__post_init__()


@dataclass(frozen=True, eq=False)
class FrameModel(ArrayValue):
    """A spatial frame, units consistent throughout (SI in this project).

    Local axes of a member: x from end 0 to end 1 of the flexible part, z in the plane of x and
    the member's `reference` and on its side, y = z cross x. Arrays left out take the default;
    single numbers and short rows are spread over all members or nodes.

    Parameters
    ----------
    nodes : (N, 3) array, m
    members : (M, 2) int array
        Node of each end.
    sections : Sections
    section_of : (M,) int array
        Row of `sections` of each member; left out: row 0, or row m for as many rows as members.
    reference : (M, 3) array
        Direction of the local z axis, projected; left out: global z, global y for uprights.
    end_rotation : (M, 2, 3) array, Nm/rad
        Springs between node and member end about local x, y, z; infinite (default) is rigid,
        0 a hinge.
    end_axial : (M, 2) array, N/m
        Springs along the member at its ends; infinite by default.
    offsets : (M, 2, 3) array, m
        Rigid arm from the node to the member's end, global axes; zero by default.
    truss : (M,) bool array
        Members hinged all round at both ends.
    tension_only : (M,) bool array
        Members that go slack; heeded by `solve_contact` alone.
    fixed : (N, 6) bool array
        Held freedoms: x, y, z, and turns about them.
    springs : (N, 6) array, N/m and Nm/rad
        Springs to ground.
    contacts : Contacts
        Supports that push only; heeded by `solve_contact`, held by the linear solver.
    couplers : Couplers
        Springs inside members, each stiffer than nothing; the linear solver takes them where
        they sit, `subdivide` cuts there (`insert_couplers` puts hinges in).
    """

    nodes: Floats
    members: Indices
    sections: Sections
    section_of: Indices = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    reference: Floats = field(default_factory=left_out)
    end_rotation: Floats = field(default_factory=left_out)
    end_axial: Floats = field(default_factory=left_out)
    offsets: Floats = field(default_factory=left_out)
    truss: Flags = field(default_factory=lambda: np.empty(0, dtype=bool))
    tension_only: Flags = field(default_factory=lambda: np.empty(0, dtype=bool))
    fixed: Flags = field(default_factory=lambda: np.empty(0, dtype=bool))
    springs: Floats = field(default_factory=left_out)
    contacts: Contacts = field(default_factory=Contacts)
    couplers: Couplers = field(default_factory=Couplers)

    def __post_init__(self) -> None:
        """Fill the defaults, spread short rows, and check every array."""
        nodes = np.asarray(self.nodes, dtype=float)
        members = np.asarray(self.members, dtype=np.int64)
        if nodes.ndim != 2 or nodes.shape[1:] != (3,) or len(nodes) == 0:
            msg = f"nodes has shape {nodes.shape}, not (N, 3) with N of 1 or more"
            raise ValueError(msg)
        if members.ndim != 2 or members.shape[1:] != (2,) or len(members) == 0:
            msg = f"members has shape {members.shape}, not (M, 2) with M of 1 or more"
            raise ValueError(msg)
        _refuse(~np.isfinite(nodes), "nodes", "is not finite")
        _refuse((members < 0) | (members >= len(nodes)), "members", "names an unknown node")
        values: dict[str, object] = {"nodes": nodes, "members": members}
        values |= self._member_values(len(members), nodes, members)
        values |= self._node_values(len(nodes))
        self._check_couplers(len(members))
        for name, value in values.items():
            object.__setattr__(self, name, value)
        super().__post_init__()

    def _member_values(self, count: int, nodes: Floats, members: Indices) -> dict[str, object]:
        """Return the filled and checked arrays that have one row a member."""
        rows = len(self.sections.area)
        default = np.arange(count) if rows == count else 0
        section_of = _filled(self.section_of, default, (count,), "section_of").astype(np.int64)
        _refuse((section_of < 0) | (section_of >= rows), "section_of", "names an unknown section")
        rotation = _filled(self.end_rotation, np.inf, (count, 2, 3), "end_rotation")
        axial = _filled(self.end_axial, np.inf, (count, 2), "end_axial")
        offsets = _filled(self.offsets, 0.0, (count, 2, 3), "offsets")
        truss = _filled(self.truss, 0.0, (count,), "truss").astype(bool)
        slack = _filled(self.tension_only, 0.0, (count,), "tension_only").astype(bool)
        _refuse(~(rotation >= 0.0), "end_rotation", "is below zero or not a number")
        _refuse(~(axial >= 0.0), "end_axial", "is below zero or not a number")
        _refuse(~np.isfinite(offsets), "offsets", "is not finite")
        rotation[truss] = 0.0
        ends = nodes[members] + offsets
        along = ends[:, 1] - ends[:, 0]
        length = np.linalg.norm(along, axis=1)
        _refuse(length <= 1e-12 * max(1.0, float(np.abs(nodes).max())), "members", "has no length")
        along = along / length[:, None]
        upright = np.hypot(along[:, 0], along[:, 1]) < VERTICAL
        up = np.where(upright[:, None], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0])
        reference = _filled(self.reference, up, (count, 3), "reference")
        _refuse(~np.isfinite(reference), "reference", "is not finite")
        across = np.linalg.norm(np.cross(along, reference), axis=1)
        _refuse(
            across <= 1e-9 * np.linalg.norm(reference, axis=1), "reference", "lies along its member"
        )
        return {
            "section_of": section_of,
            "end_rotation": rotation,
            "end_axial": axial,
            "offsets": offsets,
            "truss": truss,
            "tension_only": slack,
            "reference": reference,
        }

    def _node_values(self, count: int) -> dict[str, object]:
        """Return the filled and checked arrays that have one row a node."""
        fixed = _filled(self.fixed, 0.0, (count, 6), "fixed").astype(bool)
        springs = _filled(self.springs, 0.0, (count, 6), "springs")
        _refuse(~((springs >= 0.0) & np.isfinite(springs)), "springs", "is negative or not finite")
        named = self.contacts.nodes
        _refuse((named < 0) | (named >= count), "contacts.nodes", "names an unknown node")
        return {"fixed": fixed, "springs": springs}

    def _check_couplers(self, count: int) -> None:
        """Refuse couplers of unknown members, and those that resist nothing."""
        inside = self.couplers
        _refuse(
            (inside.members < 0) | (inside.members >= count),
            "couplers.members",
            "names an unknown member",
        )
        loose = np.column_stack([inside.rotation, inside.axial]) <= 0.0
        _refuse(loose, "couplers", "resists nothing: cut the member there with insert_couplers")
