"""The Shell: hubs, struts and faces, whose invariants are checked on every construction."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

import numpy as np

from strutwright.shape import topology
from strutwright.values import (
    ArrayValue,
    Faces,
    HubPoints,
    Indices,
    Note,
    StrutEnds,
    Words,
)

__all__ = ["FACE_ROLES", "ROLES", "Recipe", "Shell"]

ROLES: Final = ("shell", "brace", "jamb", "head", "post", "leg", "tie")
"""What a strut is for; one table of struts holds all."""
FACE_ROLES: Final = ("shell", "jamb", "head")
"""Roles of struts that may bound a face."""
LEVEL_TOLERANCE: Final = 1e-9
"""A base is level when its hubs differ in height by less than this share of the shell's size."""


@dataclass(frozen=True, eq=False)
class Recipe(ArrayValue):
    """How a shell was made.

    Parameters
    ----------
    family : str
        ``dome``, ``long-dome``, ``vault`` or ``imported``.
    settings : mapping of str to plain data
        Every setting that shaped it, defaults included, SI.
    radius : float or None
        Radius of the sphere or of the cross-section before scaling, m; None where there is none.
    base : str
        ``level`` when all base hubs lie on z = 0, ``uneven`` when not.
    steps : tuple of str
        What was done to it after the family made it, in order.
    notes : tuple of Note
        What was assumed, rounded or skipped on the way.
    """

    family: str
    settings: Mapping[str, Any] = field(default_factory=dict)
    radius: float | None = None
    base: str = "level"
    steps: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True, eq=False)
class Shell(ArrayValue):
    """A triangulated strut-and-hub shell.

    Parameters
    ----------
    hubs : (H, 3) array, m
        Positions; origin at the centre of the plan, z = 0 at the base ring, x along the length.
    struts : (S, 2) int array
        Hub indices of each strut, i < j, in ascending order of (i, j).
    role : (S,) array of str
        One of `ROLES` for each strut.
    faces : (F, 3) int array
        Hub indices of each face, anticlockwise seen from outside.
    course : (H,) int array
        Course whose upper edge the hub lies on: 0 for the base row, rising towards the crown;
        -1 for the foot of a leg.
    base : (B,) int array
        Hubs of the base row, anticlockwise seen from above; for a vault one side after the other.
    groups : mapping of str to int array
        Named sets of hub or strut indices; the name says which, as in ``hubs.cap_pole``.
    recipe : Recipe
        How the shell was made.

    Raises
    ------
    ValueError
        An invariant is broken: that is a fault of the maker, not of the user.
    """

    hubs: HubPoints
    struts: StrutEnds
    role: Words
    faces: Faces
    course: Indices
    base: Indices
    groups: Mapping[str, Indices]
    recipe: Recipe

    def __post_init__(self) -> None:
        """Bring the arrays to their types, lock them, and check every invariant."""
        for name, kind in (
            ("hubs", np.float64),
            ("struts", np.int64),
            ("faces", np.int64),
            ("course", np.int64),
            ("base", np.int64),
        ):
            object.__setattr__(self, name, np.asarray(getattr(self, name), dtype=kind))
        object.__setattr__(self, "role", np.asarray(self.role, dtype="<U5"))
        super().__post_init__()
        _check(self)

    @property
    def size(self) -> float:
        """Largest extent of the shell along an axis, m."""
        return float(np.ptp(self.hubs, axis=0).max())

    def with_notes(self, *notes: Note) -> Shell:
        """Return the shell with `notes` added to its recipe."""
        return replace(self, recipe=replace(self.recipe, notes=self.recipe.notes + notes))


def _check(shell: Shell) -> None:
    _check_tables(shell)
    bounding = shell.struts[np.isin(shell.role, FACE_ROLES)]
    edges = topology.struts_of(shell.faces)
    missing = topology.rows_missing(edges, bounding)
    if missing.size:
        _fail(f"face edge {edges[missing[0]].tolist()} is not a strut that may bound a face")
    topology.check_manifold(shell.faces)
    rings = topology.boundary_rings(shell.faces)
    parts, euler = topology.components(shell.faces), topology.euler_number(shell.faces)
    if euler != 2 * parts - len(rings):
        _fail(
            f"Euler number {euler}, but {parts} part(s) with {len(rings)} ring(s) "
            f"ask for {2 * parts - len(rings)}"
        )
    if topology.signed_volume(shell.hubs, shell.faces, shell.hubs[shell.base].mean(axis=0)) <= 0:
        _fail("faces are wound inwards")
    if shell.recipe.base == "level":
        spread = float(np.abs(shell.hubs[shell.base, 2]).max())
        if spread > LEVEL_TOLERANCE * shell.size:
            _fail(f"base is called level but a base hub lies {spread} m off z = 0")


def _check_tables(shell: Shell) -> None:
    n = len(shell.hubs)
    for name, array, width in (
        ("hubs", shell.hubs, 3),
        ("struts", shell.struts, 2),
        ("faces", shell.faces, 3),
    ):
        if array.ndim != 2 or array.shape[1] != width or not len(array):
            _fail(f"{name} has shape {array.shape}, not (n, {width}) with n > 0")
    if not np.isfinite(shell.hubs).all():
        _fail("a hub position is not finite")
    if shell.course.shape != (n,) or shell.role.shape != (len(shell.struts),):
        _fail("course or role has not one entry for each hub or strut")
    if unknown := set(shell.role.tolist()) - set(ROLES):
        _fail(f"unknown role {sorted(unknown)}")
    _check_struts(shell)


def _check_struts(shell: Shell) -> None:
    n = len(shell.hubs)
    for name, array in (("struts", shell.struts), ("faces", shell.faces), ("base", shell.base)):
        if array.min() < 0 or array.max() >= n:
            _fail(f"{name} names a hub that is not there")
    if (shell.struts[:, 0] >= shell.struts[:, 1]).any():
        _fail("a strut does not have i < j")
    order = shell.struts[:, 0] * n + shell.struts[:, 1]
    if (np.diff(order) <= 0).any():
        _fail("struts are not in ascending order, or one stands twice")
    if len(np.unique(shell.struts)) != n:
        _fail("a hub has no strut")
    if len(np.unique(shell.base)) != len(shell.base):
        _fail("a base hub stands twice")
    ends = shell.hubs[shell.struts]
    shortest = float(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).min())
    if shortest <= LEVEL_TOLERANCE * shell.size:
        _fail("two hubs of a strut lie at one point")


def _fail(what: str) -> None:
    msg = f"not a shell: {what}"
    raise ValueError(msg)
