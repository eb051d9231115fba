"""Rigid sheets: bending under wind and snow, screws over the strut, barriers that are none."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.catalogue import cover, stock
from strutwright.cover import PanelWish, cover_checks, panel_plan, plan_cover
from strutwright.errors import InputError
from strutwright.loads.film import film_pressures
from strutwright.loads.site import LoadSite
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.surface import face_areas
from strutwright.structure import verdict

BRIEF = """
[project]
name = "Corvane test house"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
bars = [{{ length = "6 m" }}]
[hubs]
connector = "{connector}"
[cover]
{cover}
"""
SITE = LoadSite("en", 700.0, 24.0, "10 min mean", "II", "CC1")
LARGE = '\nsheet = ["2.1 m", "3 m"]'


def plan_of(cover, struts="timber-45x70", connector="plate-bolt", site=SITE):
    text = BRIEF.format(cover=cover, stock=struts, connector=connector)
    brief = parse_brief(text, "house.toml")
    kit = make_kit(make_shell(brief), brief)
    pressure = film_pressures(kit.shell, site) if site else None
    return kit.shell, pressure, plan_cover(kit.shell, kit.stock, brief, pressure)


def by_code(plan):
    return {check.code: check for check in cover_checks(plan)}


def test_plywood_is_checked_as_a_strip_across_its_grain():
    """6 M/t^2 with M = (q + 1.35 g) a^2/8, against 0.7 f/1.2 (EN 1995-1-1, recalled)."""
    shell, pressure, plan = plan_of('material = "plywood-9"' + LARGE)
    corners = shell.hubs[shell.faces]
    around = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2).sum(axis=1)
    a = 4 * face_areas(shell) / around
    weight = 9.81 * 6.1
    moment = ((pressure.strength + 1.35 * weight) * a**2 / 8).max()
    check = by_code(plan)["sheet-bending"]
    assert check.required
    assert check.demand == pytest.approx(6 * moment / 0.009**2)
    assert check.capacity == pytest.approx(0.7 * 32.1e6 / 1.2)
    assert check.unit == "Pa"
    sag = by_code(plan)["sheet-deflection"]
    use = np.maximum(pressure.wind, pressure.snow) + weight
    assert sag.demand == pytest.approx((5 * use * a**4 / (384 * 6100e6 * 0.009**3 / 12)).max())
    assert not sag.required


def test_a_sheet_of_unknown_strength_is_not_checked_and_says_what_to_give():
    _, _, plan = plan_of('material = "pc-8"')
    (check,) = cover_checks(plan)
    assert (check.code, check.status, check.required) == ("sheet-bending", "not_checked", True)
    assert "sheet_load" in check.note
    assert verdict([check]) == "not checked"


@pytest.mark.parametrize(("load", "wanted"), [("3 kN/m2", "passes"), ("0.2 kN/m2", "fails")])
def test_the_makers_table_decides(load, wanted):
    _, pressure, plan = plan_of(f'material = "pc-8"\nsheet_load = "{load}"')
    (check,) = cover_checks(plan)
    use = np.maximum(pressure.wind, pressure.snow).max() + 9.81 * 1.5
    assert check.demand == pytest.approx(use)
    assert check.source.how == "read"
    assert verdict([check]) == wanted


def test_without_a_site_sheets_are_not_checked():
    _, _, plan = plan_of('material = "plywood-12"' + LARGE, site=None)
    (check,) = cover_checks(plan)
    assert check.status == "not_checked"


@pytest.mark.parametrize("struts", ["emt-1", "timber-45x70"])
def test_an_unknown_barrier_is_an_error_whatever_the_struts(struts):
    connector = "socket-pin" if struts == "emt-1" else "plate-bolt"
    with pytest.raises(InputError) as caught:
        plan_of('material = "pe-film-180"\nbarrier = "oil-paint"', struts, connector)
    assert caught.value.code == "cover-barrier"
    assert "white-paint" in caught.value.mend
    assert plan_of('material = "pe-film-180"\nbarrier = "tape"', struts, connector)[2] is not None


@pytest.mark.parametrize("seat", [0.006, 0.013, 0.05])
@pytest.mark.parametrize("offset", [0.015, 0.035])
def test_screws_stand_over_the_strut_as_near_its_middle_as_the_sheet_allows(seat, offset):
    shell = dome(DomeSpec(radius=2.0, division=(2, 0)))
    plan = panel_plan(shell, PanelWish(offset, (4.0, 6.0), False, 65e-6, 50.0, 0.3, 0.0, seat))
    farthest = 0.0
    for kind in plan.types:
        step = np.roll(kind.outline, -1, axis=0) - kind.outline
        normal = np.stack([-step[:, 1], step[:, 0]], axis=1) / np.linalg.norm(step, axis=1)[:, None]
        inside = np.einsum("hkd,kd->hk", kind.holes[:, None] - kind.outline[None], normal)
        for k in range(3):
            # the row of this edge: its nearest holes
            edge = inside[:, k].min()
            beside = edge + kind.setbacks[k]
            assert 0.009 - 1e-9 <= edge <= 0.015 + 1e-9
            assert beside <= seat + 1e-9 or edge == pytest.approx(0.009)
            farthest = max(farthest, beside)
    assert plan.beside == pytest.approx(farthest)


def test_screws_that_miss_the_crown_of_a_tube_are_told():
    """A tube of 29.5 mm takes screws to a quarter of that beside its middle."""
    _, _, thin = plan_of('material = "pc-8"', "emt-1", "socket-pin")
    (layer,) = thin.sheets
    assert layer.seat == pytest.approx(stock("emt-1").section.depth / 4)
    assert layer.beside > layer.seat
    assert "cover-screws-beside" in {note.code for note in thin.notes}
    _, _, wide = plan_of('material = "plywood-9"' + LARGE)
    assert wide.sheets[0].seat == pytest.approx(0.0225 - 0.009)
    assert "cover-screws-beside" not in {note.code for note in wide.notes}


def test_values_of_covers_are_those_of_their_sources():
    """Read or recalled: 0.92 kg/m2 a mm of film; R 1.54 and 1.69 h ft2 F/Btu; plywood 0.13 W/mK."""
    for name in ("pe-film-150", "pe-film-180", "pe-film-200", "pe-film-ir-200"):
        assert cover(name).mass == pytest.approx(920 * cover(name).thickness)
    assert cover("pc-6").transmittance == pytest.approx(5.678 / 1.54, abs=5e-3)
    assert cover("pc-8").transmittance == pytest.approx(5.678 / 1.69, abs=5e-3)
    for name in ("pc-4", "pc-6", "pc-8", "pc-10", "pc-16"):
        sheet = cover(name)
        assert sheet.least_radius == pytest.approx(175 * sheet.thickness)
        assert sheet.expansion == pytest.approx(65e-6)
        assert sheet.fluted
    masses = {"pc-4": 0.8, "pc-6": 1.3, "pc-8": 1.5, "pc-10": 1.7, "pc-16": 2.7}
    assert {name: cover(name).mass for name in masses} == pytest.approx(masses)
    for name, density in (("plywood-9", 680), ("plywood-12", 460)):
        sheet = cover(name)
        assert sheet.transmittance == pytest.approx(1 / (0.17 + sheet.thickness / 0.13), abs=5e-3)
        assert sheet.mass == pytest.approx(density * sheet.thickness, abs=0.05)
