"""Struts under axial force and bending, by material and by the family of standards."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.sentences import sentence
from strutwright.structure.bars import Bars, Effect, Family, MemberUse, Refused
from strutwright.structure.multiple import multiple_by_trial, multiple_of
from strutwright.structure.standards import (
    adm,
    aisc360,
    en1993_1_1,
    en1995,
    en1999,
    nds,
    pvc_practice,
)
from strutwright.values import Floats

__all__ = ["member_uses"]

SERVICE_CLASS: Final = 3
"""Timber in a greenhouse or in the open. Source: EN 1995-1-1, 2.3.1.3, recalled."""
CURVES: Final[Mapping[str, str]] = MappingProxyType({"hot-finished": "a", "cold-formed": "c"})
"""Buckling curve of a round tube by how it was made. Source: EN 1993-1-1 Table 6.2, recalled."""
SMALLEST_BRACKET: Final = 1e-9
"""What is left of 1 - N/N_cr before a strut counts as buckled."""


def member_uses(bars: Bars, effect: Effect, family: Family) -> tuple[MemberUse, ...]:
    """Return the utilisation of every strut under one combination, section and buckling.

    Raises
    ------
    Refused
        No rule covers the material, or its format is not that of the combination.
    """
    kind = bars.stock.material.kind
    rule, format_wanted = _RULES.get((kind, family), (None, ""))
    if rule is None:
        why = sentence("refused.no-rule", material=bars.stock.material.name)
        raise Refused(why)
    if effect.format != format_wanted:
        msg = f"{kind} needs {format_wanted} loads, not {effect.format} ones"
        raise ValueError(msg)
    return rule(bars, effect)


def _moments(bars: Bars, effect: Effect) -> tuple[Floats, Floats]:
    """Return (S, K) moments about the strong and the weak axis, eccentricity added to the worse."""
    forces = effect.forces
    eccentric = np.abs(forces.axial) * bars.offset[:, None]
    return np.abs(forces.moment_y), np.abs(forces.moment_z) + eccentric


def _resultant(bars: Bars, effect: Effect) -> Floats:
    y, z = _moments(bars, effect)
    return np.hypot(y, z)


def _euler(bars: Bars, modulus: float, inertia: float) -> Floats:
    euler: Floats = np.pi**2 * modulus * inertia / bars.lengths**2 * bars.couplers
    return euler


def _grown(moment: Floats, N: Floats, N_cr: Floats) -> Floats:
    """Return second-order moments M/(1 - N/N_cr); infinite once the Euler load is reached."""
    rest = 1 - N / N_cr
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(rest > SMALLEST_BRACKET, moment / rest, np.inf)


def _slenderness(ratio: Floats, limit: float, N: Floats, source: Source) -> MemberUse:
    """Return how slender struts in compression are, over what the rule allows."""
    return MemberUse("strut-slenderness", np.where(N > 0, ratio / limit, 0.0), source)


def _steel_en(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    f_y = _needed(material.yield_strength, "yield-strength")
    if section.shape != "tube":
        why = sentence("refused.en1993")
        raise Refused(why)
    class_ = en1993_1_1.chs_class(section.depth, section.wall, f_y)
    N_Rd = en1993_1_1.N_t_Rd(section.area, f_y)
    M_Rd = en1993_1_1.M_c_Rd(section.modulus_y, section.plastic_y, f_y, class_)
    M = _resultant(bars, effect)
    plain = en1993_1_1.utilisation_linear(effect.forces.axial, M, N_Rd, M_Rd).max(axis=1)
    slender = en1993_1_1.lambda_bar(
        section.area, f_y, _euler(bars, material.modulus, section.inertia_z)
    )
    curve = CURVES.get(bars.stock.process, "c")
    N_b = en1993_1_1.N_b_Rd(en1993_1_1.chi(slender, curve), section.area, f_y)
    N = effect.compression
    k = en1993_1_1.k_yy(slender, N / N_b, section_class=class_)
    member = en1993_1_1.utilisation_member(N, M.max(axis=1), N_b, M_Rd, k)
    return (
        MemberUse("strut-section", plain, en1993_1_1.SOURCES["utilisation_linear"]),
        _buckling(member, N, en1993_1_1.SOURCES["utilisation_member"]),
    )


def _steel_us(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    F_y = _needed(material.yield_strength, "yield-strength")
    F_u = _needed(material.ultimate_strength, "ultimate-strength")
    if section.shape != "tube" or aisc360.is_slender(
        section.depth, section.wall, F_y, material.modulus
    ):
        why = sentence("refused.aisc360")
        raise Refused(why)

    def design(nominal: Floats | float, state: str) -> Floats:
        return aisc360.design(nominal, state, effect.format)

    M_c = float(design(aisc360.M_n(section.depth, section.wall, F_y, material.modulus), "bending"))
    yielding, rupture = aisc360.T_n(section.area, section.area, F_y, F_u)
    T_c = min(float(design(yielding, "tension yield")), float(design(rupture, "tension rupture")))
    radius = section.radius_z
    slender = bars.lengths / radius / np.sqrt(bars.couplers)
    P_c = design(
        aisc360.P_n(aisc360.F_cr(slender, F_y, material.modulus), section.area), "compression"
    )
    N, M = effect.compression, _resultant(bars, effect)
    plain = aisc360.utilisation(effect.forces.axial, M, T_c, M_c).max(axis=1)
    euler, bent = _euler(bars, material.modulus, section.inertia_z), M.max(axis=1)
    member = aisc360.utilisation(N, _grown(bent, N, euler), P_c, M_c)
    a, b, c = N / P_c, bent / M_c, N / euler
    told = multiple_of(member, (a, 8 / 9 * b, c), (a / 2, b, c))
    source = aisc360.SOURCES["utilisation"]
    return MemberUse("strut-section", plain, source), _buckling(member, N, source, told)


def _aluminium_en(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    f_o = _needed(material.yield_strength, "proof-strength")
    N_Rd, M_Rd = en1999.N_Rd(section.area, f_o), en1999.M_Rd(section.modulus_y, f_o)
    if section.shape == "tube" and en1999.tube_class(section.depth, section.wall, f_o) > 3:
        why = sentence("refused.en1999")
        raise Refused(why)
    euler = _euler(bars, material.modulus, section.inertia_z)
    chi = en1999.chi(en1999.lambda_bar(section.area, f_o, euler))
    N_b = en1999.N_b_Rd(chi, section.area, f_o)
    N, M = effect.compression, _resultant(bars, effect)
    plain = en1999.utilisation(effect.forces.axial, M, N_Rd, M_Rd).max(axis=1)
    bent = M.max(axis=1)
    member = en1999.utilisation(N, _grown(bent, N, euler), N_b, M_Rd)
    told = multiple_of(member, (N / N_b, bent / M_Rd, N / euler))
    source = en1999.SOURCES["utilisation"]
    return MemberUse("strut-section", plain, source), _buckling(member, N, source, told)


def _aluminium_us(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    F_cy = _needed(material.yield_strength, "yield-strength")
    slender = bars.lengths / section.radius_z / np.sqrt(bars.couplers)

    def design(nominal: Floats | float, state: str) -> Floats:
        return adm.design(nominal, state, effect.format)

    N_c = design(adm.F_c(slender, F_cy, material.modulus) * section.area, "buckling")
    N_t = float(design(F_cy * section.area, "yield"))
    M_c = float(design(F_cy * section.modulus_y, "yield"))
    N, M = effect.compression, _resultant(bars, effect)
    euler = _euler(bars, material.modulus, section.inertia_z)
    plain = adm.utilisation(effect.forces.axial, M, N_t, M_c).max(axis=1)
    bent = M.max(axis=1)
    member = adm.utilisation(N, _grown(bent, N, euler), N_c, M_c)
    told = multiple_of(member, (N / N_c, bent / M_c, N / euler))
    source = adm.SOURCES["utilisation"]
    return MemberUse("strut-section", plain, source), _buckling(member, N, source, told)


def _timber_en(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    values = material.strengths
    if "fm" not in values:
        why = sentence("refused.en338", material=material.name)
        raise Refused(why)

    def f_d(key: str) -> float:
        return en1995.f_d(values[key], effect.duration, SERVICE_CLASS)

    f_md = (f_d("fm") * en1995.k_h(section.depth), f_d("fm") * en1995.k_h(section.width))
    moment_y, moment_z = _moments(bars, effect)
    bending = (moment_y / section.modulus_y, moment_z / section.modulus_z)
    stress = effect.forces.axial / section.area
    pulled = en1995.utilisation_tension(np.maximum(stress, 0), bending, f_d("ft0"), f_md)
    shear = 1.5 * effect.forces.shear / (section.area * en1995_k_cr()) / f_d("fv")
    k_c = tuple(
        en1995.k_c(
            en1995.lambda_rel(
                bars.lengths[:, None] / radius / np.sqrt(bars.couplers[:, None]),
                values["fc0"],
                _needed(material.modulus_low, "five-percent-modulus"),
            )
        )
        for radius in (section.radius_y, section.radius_z)
    )
    pushed = en1995.utilisation_compression(
        np.maximum(-stress, 0), bending, f_d("fc0"), f_md, (k_c[0], k_c[1])
    )
    return (
        MemberUse(
            "strut-section",
            np.maximum(pulled, shear).max(axis=1),
            en1995.SOURCES["utilisation_tension"],
        ),
        _buckling(
            pushed.max(axis=1), effect.compression, en1995.SOURCES["utilisation_compression"]
        ),
    )


def en1995_k_cr() -> float:
    """Return k_cr, the share of the width that cracks leave for shear.

    Source: EN 1995-1-1:2004 + A1, 6.1.7, recommended value 0.67, recalled.
    """
    return 0.67


def _timber_us(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section, material = bars.stock.section, bars.stock.material
    values = material.strengths
    if "Fb" not in values:
        why = sentence("refused.nds", material=material.name)
        raise Refused(why)
    C_D = nds.C_D[effect.duration]
    E_min = _needed(material.modulus_low, "e-min") * nds.C_M["E_min"]
    F_b = (values["Fb"] * C_D * nds.C_M["F_b"],) * 2
    F_star = values["Fc"] * C_D * nds.C_M["F_c"]
    moment_y, moment_z = _moments(bars, effect)
    bending = (moment_y / section.modulus_y, moment_z / section.modulus_z)
    stress = effect.forces.axial / section.area
    pulled = nds.utilisation_tension(
        np.maximum(stress, 0), bending, values["Ft"] * C_D * nds.C_M["F_t"], F_b
    )
    slender = [
        bars.lengths / np.sqrt(bars.couplers) / side for side in (section.depth, section.width)
    ]
    F_cE = [nds.F_cE(s, E_min)[:, None] for s in slender]
    C_P = np.minimum(*(nds.C_P(critical, F_star) for critical in F_cE))

    def pushed(share: Floats) -> Floats:
        part = share[:, None]
        used: Floats = nds.utilisation_compression(
            np.maximum(-stress, 0) * part, (bending[0] * part, bending[1] * part), F_star * C_P,
            F_b, (F_cE[0], F_cE[1]), F_bE=np.inf,
        ).max(axis=1)  # fmt: skip
        return used

    used, source = pushed(np.ones(len(stress))), nds.SOURCES["utilisation_compression"]
    return (
        MemberUse("strut-section", pulled.max(axis=1), nds.SOURCES["utilisation_tension"]),
        _buckling(used, effect.compression, source, multiple_by_trial(pushed, used)),
        _slenderness(
            np.maximum(*slender), nds.SLENDEREST, effect.compression, nds.SOURCES["SLENDEREST"]
        ),
    )


def _plastic(bars: Bars, effect: Effect) -> tuple[MemberUse, ...]:
    section = bars.stock.section
    T = bars.temperature
    stress = pvc_practice.allowable_stress(T)
    M_allow = stress * section.modulus_y
    N, M = effect.compression, _resultant(bars, effect)
    plain = pvc_practice.utilisation(effect.forces.axial, M, stress * section.area, M_allow).max(
        axis=1
    )
    length = bars.lengths / np.sqrt(bars.couplers)
    N_allow = pvc_practice.N_allow(section.area, section.inertia_z, length, effect.duration, T)
    euler = _euler(bars, pvc_practice.modulus(effect.duration, T), section.inertia_z)
    bowed = M.max(axis=1) + N * pvc_practice.BOW * bars.lengths
    member = pvc_practice.utilisation(N, _grown(bowed, N, euler), N_allow, M_allow)
    told = multiple_of(member, (N / N_allow, bowed / M_allow, N / euler))
    source = pvc_practice.SOURCES["utilisation"]
    return (
        MemberUse("strut-section", plain, source),
        _buckling(member, N, source, told),
        _slenderness(
            length / section.radius_z,
            pvc_practice.SLENDEREST,
            N,
            pvc_practice.SOURCES["SLENDEREST"],
        ),
    )


def _buckling(
    utilisation: Floats, N: Floats, source: Source, told: Floats | None = None
) -> MemberUse:
    pushed = N > 0
    return MemberUse(
        "strut-buckling",
        np.where(pushed, utilisation, 0.0),
        source,
        None if told is None else np.where(pushed, told, 0.0),
    )


def _needed(value: float | None, what: str) -> float:
    if value is None:
        why = sentence("refused.value", what=f"value.{what}")
        raise Refused(why)
    return value


Rule = Callable[[Bars, Effect], tuple[MemberUse, ...]]
_RULES: Final[Mapping[tuple[str, str], tuple[Rule, str]]] = MappingProxyType(
    {
        ("steel", "en"): (_steel_en, "factored"),
        ("steel", "us"): (_steel_us, "factored"),
        ("aluminium", "en"): (_aluminium_en, "factored"),
        ("aluminium", "us"): (_aluminium_us, "factored"),
        ("timber", "en"): (_timber_en, "factored"),
        ("timber", "us"): (_timber_us, "allowable"),
        ("plastic", "en"): (_plastic, "allowable"),
        ("plastic", "us"): (_plastic, "allowable"),
    }
)
"""Rule and format of loads by kind of material; bamboo waits for its printed standard."""
