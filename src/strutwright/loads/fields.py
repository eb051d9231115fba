"""Fields of external pressure coefficients over the faces of a shell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from strutwright.catalogue import Source
from strutwright.loads.form import Form
from strutwright.loads.standards import asce7_shared, dome_arcs, en1991_1_4, gb50009
from strutwright.loads.standards.dome_arcs import ArcRow
from strutwright.values import ArrayValue, Floats

__all__ = [
    "Field",
    "arc_field",
    "closed_dome_field",
    "vault_across_fields",
    "vault_along_fields",
]


@dataclass(frozen=True, eq=False)
class Field(ArrayValue):
    """External pressure coefficients of one wind direction.

    Parameters
    ----------
    name : str
    direction : float, rad
        Towards which the wind blows.
    c_p : (F,) array
        Positive onto the face.
    source : Source
    """

    name: str
    direction: float
    c_p: Floats
    source: Source


def _blow(direction: float) -> Floats:
    return np.array([np.cos(direction), np.sin(direction), 0.0])


def closed_dome_field(form: Form, direction: float) -> Field:
    """Return the closed-form field of GB 50009 Table 8.3.1 item 36, from the faces' normals."""
    level = np.hypot(form.normals[:, 0], form.normals[:, 1])
    facing = -form.normals @ _blow(direction)
    sine = np.divide(facing, level, out=np.zeros_like(level), where=level > 1e-12)
    phi, psi = form.slopes, np.arcsin(np.clip(sine, -1, 1))
    c_p = gb50009.mu_s_dome(phi, psi, form.rise / form.span)
    return Field("closed form", direction, c_p, gb50009.SOURCES["mu_s_dome"])


def arc_field(form: Form, direction: float, row: ArcRow, case: str) -> Field:
    """Return the A-B-C field, case ``A`` or ``B``: constant on arcs across the wind.

    The place along the wind is read from the normals: sin = n . w on a sphere, which is also
    right for the half domes and the barrel of a long dome.
    """
    along = np.arcsin(np.clip(form.normals @ _blow(direction), -1, 1)) / form.eave
    theta = np.pi / 2 * (1 + np.clip(along, -1, 1))
    c_p = dome_arcs.c_p_arc(theta, row.A, row.B, row.C, "B" if case == "B" else "A")
    return Field(f"arcs {case}", direction, c_p, row.source)


def vault_across_fields(form: Form, direction: float, standard: str) -> tuple[Field, ...]:
    """Return the field or fields of a vault with the wind across it, by quarter, half, quarter.

    Parameters
    ----------
    form : Form
    direction : float, rad
        pi/2 or -pi/2.
    standard : str
        ``en`` or an ASCE edition.

    Raises
    ------
    InputError
        ``standard-scope``: the rise is outside the figure.
    """
    along = form.samples @ _blow(direction) / form.span
    if standard == "en":
        rows = en1991_1_4.c_pe_vault(form.rise / form.span, form.spring / form.span)
        walls = en1991_1_4.c_pe_wall(form.top / form.span)
        side, source = -1.2, en1991_1_4.SOURCES["c_pe_vault"]
    else:
        rows = asce7_shared.C_p_arch(form.rise / form.span, from_ground=form.spring < 0.05)
        walls, side, source = (0.8, -0.5), -0.7, asce7_shared.SOURCES["C_p_arch"]
    zone = np.select([along < -0.25, along <= 0.25], [0, 1], default=2)
    fields = []
    for number, row in enumerate(rows):
        c_p = _with_walls(form, direction, row[zone].mean(axis=1), walls, side)
        name = "zones" if len(rows) == 1 else f"zones {number + 1}"
        fields.append(Field(name, direction, c_p, source))
    return tuple(fields)


def vault_along_fields(form: Form, direction: float, standard: str) -> tuple[Field, ...]:
    """Return the fields of a vault with the wind along it; `direction` 0 or pi.

    ASCE has two: the strips of suction, and the least suction all over.
    """
    distance = np.maximum(form.samples @ _blow(direction) + form.length / 2, 0)
    if standard == "en":
        e = min(form.span, 2 * form.top)
        roofs = {"along": en1991_1_4.c_pe_vault_along(distance, e).mean(axis=1)}
        walls = en1991_1_4.c_pe_wall(form.top / form.length)
        side, source = -1.2, en1991_1_4.SOURCES["c_pe_vault_along"]
    else:
        strips = asce7_shared.C_p_arch_along(distance, form.top, form.length).mean(axis=1)
        least = np.full(len(strips), asce7_shared.LEAST_SUCTION)
        roofs = {"along": strips, "along, least suction": least}
        walls, side = (0.8, _leeward(form.length / form.span)), -0.7
        source = asce7_shared.SOURCES["C_p_arch_along"]
    return tuple(
        Field(name, direction, _with_walls(form, direction, c_p, walls, side), source)
        for name, c_p in roofs.items()
    )


def _leeward(ratio: float) -> float:
    """Return C_p of a leeward wall by L/B, ASCE 7 Fig. 27.3-1 (recalled)."""
    return float(np.interp(ratio, [1, 2, 4], [-0.5, -0.3, -0.2]))


def _with_walls(
    form: Form, direction: float, c_p: Floats, walls: tuple[float, float], side: float
) -> Floats:
    """Return `c_p` with the upright walls of a vault put in: windward, leeward, side."""
    facing = form.normals @ _blow(direction)
    on_wall = np.select([facing < -0.5, facing > 0.5], [walls[0], walls[1]], default=side)
    return np.where(form.walls, on_wall, c_p)
