"""The coupler's own check: moment and pull where it sits, over what was tested."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.analyse import bars_of
from strutwright.structure.bars import Effect, Refused
from strutwright.structure.couplers import coupler_uses
from strutwright.structure.judge import judge
from strutwright.structure.respond import STATIONS, StrutForces

BRIEF = """
[project]
name = "Test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
bars = [{ length = "1.2 m" }]
[hubs]
connector = "socket-pin"
[[hubs.tests]]
offset = ["1 mm", "1 mm", "1 mm"]
coupler = ["400 Nm/rad", "400 Nm/rad", "400 Nm/rad"]
"""
STRONG = """coupler_bend = ["120 Nm", "120 Nm", "120 Nm"]
coupler_pull = ["5 kN", "5 kN", "5 kN"]
"""


@pytest.fixture(scope="module")
def kit():
    brief = parse_brief(BRIEF + STRONG, "test.toml")
    return make_kit(make_shell(brief), brief)


def effect_of(kit, axial, load, format_="factored", shells=1):
    """Return what an even line load across does to hinged struts, beside an axial force."""
    bars, _ = bars_of(kit, 20.0)
    length = np.tile(bars.lengths, shells)[:, None]
    moment = load * length**2 / 2 * STATIONS * (1 - STATIONS)
    still = np.zeros_like(moment)
    forces = StrutForces(np.full_like(moment, axial), moment, still, still, np.zeros(len(moment)))
    return bars.repeated(shells), Effect("", format_, "gust", forces)


def test_moment_and_pull_add_up_over_what_was_tested(kit):
    """q L^2/8 with the pull's own offset across it, over 120 Nm/1.25, and 1 kN over 5 kN/1.25."""
    bars, effect = effect_of(kit, 1000.0, 100.0)
    (use,) = coupler_uses(kit, bars, effect)
    bent = np.hypot(100.0 * bars.lengths**2 / 8, 1000.0 * 0.001)
    assert use.utilisation == pytest.approx(bent * 1.25 / 120 + 1000 * 1.25 / 5000, rel=1e-6)
    _, allowable = effect_of(kit, 1000.0, 100.0, "allowable")
    (more,) = coupler_uses(kit, bars, allowable)
    assert more.utilisation == pytest.approx(use.utilisation * 2.0 / 1.25)


def test_a_push_grows_the_moment_and_bears_on_the_pieces(kit):
    bars, effect = effect_of(kit, -500.0, 100.0)
    critical = np.pi**2 * kit.stock.material.modulus * kit.stock.section.inertia_z
    critical = critical / bars.lengths**2 * bars.couplers
    (use,) = coupler_uses(kit, bars, effect)
    bent = np.hypot(100.0 * bars.lengths**2 / 8, 500.0 * 0.001)
    assert use.utilisation == pytest.approx(bent / (1 - 500 / critical) * 1.25 / 120, rel=1e-6)
    bars, effect = effect_of(kit, -1.0001 * float(critical.max()), 100.0)
    (use,) = coupler_uses(kit, bars, effect)
    assert np.isinf(use.utilisation).all()
    assert np.isfinite(use.told).all()
    assert (use.told >= 1.0).all()


def test_a_coupler_off_the_middle_takes_the_moment_where_it_sits(kit):
    kinds = tuple(
        replace(kind, coupler_at=(0.5 * kind.cut_length - 0.25 * kind.node_length,))
        for kind in kit.strut_types
    )
    quarter = replace(kit, strut_types=kinds)
    bars, effect = effect_of(quarter, 0.0, 100.0, shells=3)
    (use,) = coupler_uses(quarter, bars, effect)
    assert use.utilisation == pytest.approx(100 * bars.lengths**2 * 3 / 32 * 1.25 / 120)


def test_untested_couplers_are_refused_by_name_and_whole_struts_have_no_check(kit):
    brief = parse_brief(BRIEF, "test.toml")
    untested = make_kit(make_shell(brief), brief)
    bars, effect = effect_of(untested, 0.0, 100.0)
    with pytest.raises(Refused, match="coupler_bend and coupler_pull"):
        coupler_uses(untested, bars, effect)
    whole = replace(kit, strut_types=tuple(replace(k, coupler_at=()) for k in kit.strut_types))
    assert coupler_uses(whole, bars, effect) == ()


def test_the_checks_tell_each_coupled_type_and_the_untested_as_not_checked():
    head = BRIEF.replace('"1.2 m"', '"1.8 m"') + "{tested}"
    site = """
[site]
base = "staked"
ground_snow = "0.7 kN/m2"
basic_wind = { value = "10 m/s", basis = "10 min mean" }
"""
    told = []
    for tested in (STRONG, ""):
        brief = parse_brief(head.replace("{tested}", tested) + site, "test.toml")
        kit = make_kit(make_shell(brief), brief)
        checks = judge(kit, brief, limits=False).checks
        told.append([c for c in checks if c.code == "coupler-strength"])
    coupled = [kind for kind in kit.strut_types if kind.coupler_at]
    assert 0 < len(coupled) < len(kit.strut_types)
    assert len(told[0]) == len(coupled)
    assert all(check.utilisation for check in told[0])
    assert [check.status for check in told[1]] == ["not_checked"]
