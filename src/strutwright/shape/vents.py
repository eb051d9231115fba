"""Vents: whole faces that are hinged at their upper strut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape.edit import assemble, loosen
from strutwright.shape.shell import Shell
from strutwright.values import Floats, Indices

__all__ = ["Vent", "open_vents", "vent_faces"]

LEVEL_HINGE: Final = 0.2
"""A hinge rises by at most this share of its length: our choice, so that a vent falls shut."""
SAME_ROW: Final = 0.02
"""Faces whose centres differ in height by less than this share of the rise form one row."""


@dataclass(frozen=True)
class Vent:
    """A wanted vent area.

    Parameters
    ----------
    name : str
    area : float, m2
        Wanted opening, the faces' own area.
    place : str
        ``low`` or ``high``: where the faces are taken.
    azimuth : float or None, rad
        Direction they should face; None spreads them round the shell.
    """

    name: str
    area: float
    place: Literal["low", "high"] = "high"
    azimuth: float | None = None


def vent_faces(shell: Shell) -> Indices:
    """Return the faces that can be vents: level upper strut, one hub below, no frame, not taken."""
    z = shell.hubs[shell.faces, 2]
    order = np.argsort(z, axis=1)
    low, middle, high = np.take_along_axis(z, order, axis=1).T
    top = np.take_along_axis(shell.faces, order[:, 1:], axis=1)
    hinge = np.linalg.norm(shell.hubs[top[:, 1]] - shell.hubs[top[:, 0]], axis=1)
    fit = (high - middle <= LEVEL_HINGE * hinge) & (middle - low > high - middle)
    taken = [
        members
        for name, members in shell.groups.items()
        if name.startswith("faces.") and name.endswith((".infill", ".vent"))
    ]
    fit[np.concatenate([*taken, np.empty(0, dtype=np.int64)])] = False
    return np.flatnonzero(fit)


def open_vents(shell: Shell, vent: Vent) -> Shell:
    """Return `shell` with whole faces marked as vents, at least `vent.area` of them.

    Rows of faces are taken from the bottom or from the top; of the last row those that are
    spread most evenly, or nearest to the direction asked for. Faces and struts stay as they
    are: groups ``faces.NAME.vent`` and ``struts.NAME.hinge`` name them.

    Raises
    ------
    InputError
        ``vents-beyond-faces``: more area asked for than there are faces that can open.
    """
    fit = vent_faces(shell)
    corners = shell.hubs[shell.faces[fit]]
    areas = np.linalg.norm(
        np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1
    ) / 2  # fmt: skip
    if areas.sum() < vent.area:
        raise InputError(
            "vents-beyond-faces",
            f"{vent.area:.2f} m2 of vents asked for, but the faces that can open "
            f"({len(fit)}) have {areas.sum():.2f} m2",
            f"openings.{vent.name}",
            "ask for a smaller share, or use a fan",
        )
    chosen = _chosen(vent, corners.mean(axis=1), areas)
    return _marked(shell, vent, fit[chosen], float(areas[chosen].sum()))


def _chosen(vent: Vent, centres: Floats, areas: Floats) -> Indices:
    sign = 1 if vent.place == "low" else -1
    row = np.rint(sign * centres[:, 2] / (SAME_ROW * np.ptp(centres[:, 2]) + 1e-12))
    azimuth = np.arctan2(centres[:, 1], centres[:, 0])
    picks: list[int] = []
    for height in np.unique(row):
        members = np.flatnonzero(row == height)
        missing = vent.area - areas[picks].sum()
        needed = min(len(members), int(np.ceil(missing / areas[members].mean() - 1e-9)))
        picks.extend(_spread(members, azimuth[members], needed, vent.azimuth).tolist())
        while areas[picks].sum() < vent.area and (left := np.setdiff1d(members, picks)).size:
            picks.append(int(left[0]))
        if areas[picks].sum() >= vent.area:
            break
    return np.array(sorted(picks), dtype=np.int64)


def _spread(members: Indices, azimuth: Floats, needed: int, towards: float | None) -> Indices:
    if towards is not None:
        off = np.abs(np.angle(np.exp(1j * (azimuth - towards))))
        return members[np.lexsort((azimuth, np.rint(off * 1e9)))][:needed]
    order = np.argsort(np.mod(azimuth + 1e-9, 2 * np.pi), kind="stable")
    at = np.floor(np.arange(needed) * len(members) / max(needed, 1)).astype(np.int64)
    return members[order[at]]


def _marked(shell: Shell, vent: Vent, faces: Indices, area: float) -> Shell:
    net = loosen(shell)
    net.face_groups[f"{vent.name}.vent"] = [tuple(row) for row in shell.faces[faces].tolist()]
    hinges = []
    for face in shell.faces[faces].tolist():
        _, second, first = sorted(face, key=lambda hub: shell.hubs[hub, 2])
        hinges.append((min(first, second), max(first, second)))
    net.strut_groups[f"{vent.name}.hinge"] = hinges
    step = f"vent {vent.name}: {len(faces)} faces, {area:.3f} m2"
    said = note("vent-faces", name=vent.name, faces=len(faces), area=area, asked=vent.area)
    recipe = replace(
        shell.recipe,
        steps=(*shell.recipe.steps, step),
        notes=(*shell.recipe.notes, said),
    )
    return assemble(net, recipe)
