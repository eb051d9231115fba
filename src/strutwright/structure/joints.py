"""Strut ends: bolts, flattened ends, ties, and what only a test can tell."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.parts import Kit
from strutwright.sentences import sentence
from strutwright.structure.bars import Bars, Effect, MemberUse, Refused
from strutwright.structure.standards import en1993_1_8
from strutwright.values import Floats, Indices

__all__ = ["end_offsets", "joint_uses", "tie_uses"]

STRESS_AREAS: Final[Mapping[float, float]] = MappingProxyType(
    {0.005: 14.2e-6, 0.006: 20.1e-6, 0.008: 36.6e-6, 0.010: 58.0e-6, 0.012: 84.3e-6}
)
"""Tensile stress area by bolt diameter, m and m2. Source: ISO 898-1, recalled."""
REDUCTION: Final[Mapping[str, float]] = MappingProxyType({"factored": 1.25, "allowable": 2.0})
"""What a characteristic strength of a joint is divided by, for factored and allowable loads.

Source: gamma_M2 of EN 1993-1-8 Table 2.1 and Omega of AISC 360 J3, both recalled.
"""
TESTED: Final = Source("the connector's own strength, as given", how="tested")
STACK: Final = Source("flattened end as a plate bent by the offset of its ply", how="judgement")


def end_offsets(kit: Kit) -> Floats:
    """Return the (S,) eccentricity of the axial force at the worse end of each strut, m.

    Stacked flats: a hub of n plies of two walls each lies up to (n - 1) walls off the middle of
    its bolt; the flat's own offset from the tube axis is added. Other connectors: as given.

    Raises
    ------
    Refused
        The connector's eccentricity is not known.
    """
    connector = kit.connector
    if connector.eccentricity is None:
        why = sentence("refused.eccentricity", connector=connector.name)
        raise Refused(why)
    n = len(kit.shell.struts)
    if not connector.is_stacked:
        return np.full(n, connector.eccentricity)
    valence = np.bincount(kit.shell.struts.ravel(), minlength=len(kit.shell.hubs))
    most = valence[kit.shell.struts].max(axis=1)
    offset: Floats = (most - 1) * kit.stock.section.wall + connector.eccentricity
    return offset


def joint_uses(kit: Kit, bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    """Return the utilisation of every strut's worse end under one combination.

    Raises
    ------
    Refused
        What the connector carries has to be tested first.
    """
    connector = kit.connector
    if connector.strength is not None:
        force = np.abs(effect.forces.axial).max(axis=1)
        carried = connector.strength / REDUCTION[effect.format]
        source = connector.sources.get("strength", TESTED)
        return (MemberUse("joint-strength", force / carried, source),)
    if connector.kind == "flattened":
        return (*_flats(kit, bars, effect), *_bolts(kit, effect))
    raise Refused(sentence("refused.strength", connector=connector.name))


def tie_uses(kit: Kit, bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    """Return the pull on the ties of every strut's worse end; nothing where none hold it.

    Nylon creeps: of the strength of the ties, tested or listed, only a share by the duration of
    the load may be used. The shares are for loads without factors; factored ones are held
    against the same shares, on the safe side.

    Parameters
    ----------
    bars : Bars
        Not used: all rules for ends take the same.
    """
    del bars
    connector = kit.connector
    if connector.tie_rating is None:
        return ()
    carried = connector.strength
    if carried is None:
        ties = sum(item.per_end for item in connector.fasteners if "tie" in item.item)
        together = ties if ties <= 1 else ties * (connector.tie_group or 1.0)
        carried = connector.tie_rating * together
    share = connector.tie_shares.get(effect.duration)
    if share is None or carried <= 0.0:
        lasts = f"duration.{effect.duration}"
        why = sentence("refused.ties", connector=connector.name, duration=lasts)
        raise Refused(why)
    pull = effect.forces.axial.max(axis=1).clip(min=0.0)
    source = connector.sources.get("tie_shares", TESTED)
    return (MemberUse("tie-strength", pull / (share * carried), source),)


def _flats(kit: Kit, bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material, connector = kit.stock.section, kit.stock.material, kit.connector
    f_y, f_u = material.yield_strength, material.ultimate_strength
    d_0, d, e_1 = connector.hole_diameter, connector.bolt_diameter, connector.bolt_from_end
    if f_y is None or f_u is None or d_0 is None or d is None or e_1 is None:
        why = sentence("refused.hole", material=material.name, connector=connector.name)
        raise Refused(why)
    width = en1993_1_8.flat_width(section.depth, section.wall)
    force = np.abs(effect.forces.axial).max(axis=1)
    pull = effect.forces.axial.max(axis=1).clip(min=0.0)
    bent = force * bars.offset / (en1993_1_8.flat_modulus(section.depth, section.wall) * f_y)
    plate = force / (section.area * f_y) + bent
    net = en1993_1_8.N_u_Rd((width - d_0) * 2 * section.wall, f_u)
    grade_u = en1993_1_8.F_UB[connector.bolt_grade]
    bearing = en1993_1_8.F_b_Rd(d, d_0, 2 * section.wall, (e_1, width / 2), (f_u, grade_u))
    return (
        MemberUse("flat-end-bending", plate, STACK),
        MemberUse("flat-end-net", pull / net, en1993_1_8.SOURCES["N_u_Rd"]),
        MemberUse("flat-end-bearing", force / bearing, en1993_1_8.SOURCES["F_b_Rd"]),
    )


def _bolts(kit: Kit, effect: Effect) -> tuple[MemberUse, ...]:
    d, grade = kit.connector.bolt_diameter, kit.connector.bolt_grade
    area = STRESS_AREAS.get(round(d or 0.0, 4))
    if area is None:
        why = sentence("refused.bolt", bolt=d or 0.0)
        raise Refused(why)
    shear = _stack_shear(kit, effect)
    use = shear / en1993_1_8.F_v_Rd(area, grade)
    return (MemberUse("bolt-shear", use, en1993_1_8.SOURCES["F_v_Rd"]),)


def _stack_shear(kit: Kit, effect: Effect) -> Floats:
    """Return the (S,) largest shear of the bolts at both ends of each strut, N.

    Between two plies the bolt carries the sum of the forces of all plies above, in the order of
    the hub's sockets. The effect may hold the struts of several shells of `kit`, end to end.
    """
    shell = kit.shell
    along = np.diff(shell.hubs[shell.struts], axis=1)[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    valence = np.diff(kit.socket_start)
    place = np.arange(int(valence.max()))
    filled = place < valence[:, None]
    socket = np.minimum(kit.socket_start[:-1, None] + place, len(kit.socket_struts) - 1)
    struts: Indices = kit.socket_struts[socket]
    is_second = shell.struts[struts, 1] == np.arange(len(shell.hubs))[:, None]
    ends = effect.forces.axial[:, [0, -1]].reshape(-1, len(shell.struts), 2)
    pull = ends[:, struts, is_second.astype(np.int64)]
    pull = np.where(filled, np.where(is_second, -pull, pull), 0.0)
    above = np.cumsum(pull[..., None] * along[struts], axis=2)
    between = place < valence[:, None] - 1
    worst = np.where(between, np.linalg.norm(above, axis=3), 0.0).max(axis=2)
    shear: Floats = worst[:, shell.struts].max(axis=2).ravel()
    return shear
