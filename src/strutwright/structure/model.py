"""From a kit to a frame: members, joints, supports."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from strutwright.catalogue import Connector, Material, Section, modulus_at
from strutwright.frame import Contacts, FrameModel, Sections
from strutwright.parts import Kit
from strutwright.sentences import note
from strutwright.shape.measure import hub_normals, node_lengths
from strutwright.shape.riser import feet_of
from strutwright.structure.couplers import coupler_shares, couplers_of
from strutwright.structure.ends import End
from strutwright.values import Floats, Indices, Note

__all__ = ["Base", "End", "Model", "make_model"]

PIN_ROLES: Final = ("brace", "tie")
"""Struts that are hinged at their ends, whatever the connector."""
GROUND_FRICTION: Final = 0.3
"""Plastic or wet metal on soil. Source: engineering practice, recalled."""

Base = Literal["staked", "anchored", "ballast", "free"]


@dataclass(frozen=True)
class Model:
    """A kit as a frame.

    Parameters
    ----------
    frame : FrameModel
        One member a strut, one node a hub, in the order of the shell; couplers where they sit.
    kit : Kit
    ground : (G,) int array
        Hubs that meet the ground.
    duration : str
        Load duration whose modulus was used.
    temperature : float, C
    end : str
        ``low`` or ``high`` end of the connector's stiffness range.
    modulus : float, Pa
    stiffness : (S, 2) array, Nm/rad
        Rotational stiffness of both ends of each strut.
    notes : tuple of Note
    coupled : (S,) array
        Share of the Euler load of each strut that its couplers leave.
    """

    frame: FrameModel
    kit: Kit
    ground: Indices
    duration: str
    temperature: float
    end: End
    modulus: float
    stiffness: Floats
    notes: tuple[Note, ...]
    coupled: Floats


def make_model(
    kit: Kit,
    base: Base,
    *,
    duration: str,
    temperature: float,
    end: End = "low",
    held: bool = False,
) -> Model:
    """Return `kit` as a frame for loads of one `duration` at one `temperature` (C).

    Struts are beams with the connector's rotational springs at their ends; inner braces and
    ties are hinged. A staked or anchored base is held in all three directions, and so is one on
    ballast that is to be chosen (`held`); on given ballast, or free, it may lift and slide.

    Raises
    ------
    InputError
        ``material-too-hot``: the material may not be used at `temperature`.
    """
    shell, section, material = kit.shell, kit.stock.section, kit.stock.material
    modulus = modulus_at(material, duration, temperature)
    ground = feet_of(shell)
    stiffness, notes = _joint_stiffness(kit, modulus, end)
    hinged = np.isin(shell.role, PIN_ROLES)
    truss = hinged | (stiffness.max(axis=1) <= 0)
    rotation = np.full((len(shell.struts), 2, 3), np.inf)
    rotation[:, :, 1:] = stiffness[:, :, None]
    fixed, contacts = _supports(len(shell.hubs), ground, held or base in {"staked", "anchored"})
    frame = FrameModel(
        nodes=shell.hubs,
        members=shell.struts,
        sections=_sections(section, material, modulus),
        reference=_outward(kit),
        end_rotation=rotation,
        end_axial=_axial_stiffness(kit.connector, len(shell.struts), end),
        truss=truss,
        tension_only=shell.role == "tie",
        fixed=fixed,
        contacts=contacts,
        couplers=couplers_of(kit, modulus, end),
    )
    return Model(
        frame, kit, ground, duration, temperature, end, modulus, stiffness, notes,
        coupler_shares(kit, modulus),
    )  # fmt: skip


def _sections(section: Section, material: Material, modulus: float) -> Sections:
    shear = material.shear_modulus * modulus / material.modulus
    return Sections(
        area=np.array([section.area]),
        inertia_y=np.array([section.inertia_y]),
        inertia_z=np.array([section.inertia_z]),
        torsion=np.array([section.torsion]),
        modulus=np.array([modulus]),
        shear_modulus=np.array([shear]),
    )


def _joint_stiffness(kit: Kit, modulus: float, end: End) -> tuple[Floats, tuple[Note, ...]]:
    """Return (S, 2) rotational stiffness, Nm/rad, and what was assumed for it."""
    connector, section = kit.connector, kit.stock.section
    pick = 0 if end == "low" else 1
    n = len(kit.shell.struts)
    if connector.rotational_stiffness is not None:
        return np.full((n, 2), connector.rotational_stiffness[pick]), ()
    if connector.fixity is not None:
        kappa = connector.fixity[pick]
        each = kappa * modulus * section.inertia_z / node_lengths(kit.shell)
        low, high = connector.fixity
        said = note("joint-stiffness-assumed", connector=connector.name, low=low, high=high)
        return np.repeat(each[:, None], 2, axis=1), (said,)
    said = note("joint-stiffness-unknown", connector=connector.name)
    return np.zeros((n, 2)), (said,)


def _axial_stiffness(connector: Connector, n: int, end: End) -> Floats:
    if connector.axial_stiffness is None:
        return np.full((n, 2), np.inf)
    return np.full((n, 2), connector.axial_stiffness[0 if end == "low" else 1])


def _outward(kit: Kit) -> Floats:
    """Return (S, 3) directions in which the deeper side of a strut stands: out of the shell."""
    shell = kit.shell
    normals = np.nan_to_num(hub_normals(shell))
    out = normals[shell.struts].sum(axis=1)
    along = np.diff(shell.hubs[shell.struts], axis=1)[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    out -= (out * along).sum(axis=1)[:, None] * along
    flat = np.linalg.norm(out, axis=1) < 1e-6
    spare = np.where(np.abs(along[:, 2:]) < 0.9, [[0.0, 0, 1]], [[1.0, 0, 0]])
    return np.where(flat[:, None], spare, out)


def _supports(n: int, ground: Indices, held: bool) -> tuple[NDArray[np.bool_], Contacts]:
    fixed = np.zeros((n, 6), dtype=bool)
    if held:
        fixed[ground, :3] = True
        return fixed, Contacts()
    return fixed, Contacts(ground, friction=np.full(len(ground), GROUND_FRICTION))
