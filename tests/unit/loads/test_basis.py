"""The numbers that the permit packet prints of a site, against the standards' own."""

import numpy as np
import pytest

from strutwright.loads import form_of, site_factors, snow_zones, wind_zones

from .shells import hemisphere, site, vault


def factors(form, where):
    return {factor.symbol: factor for factor in site_factors(form, where)}


def test_velocity_pressure_of_asce_7_16():
    # 52 m/s, exposure C, 110 m above the sea, K_d 0.85, at 6.5 m: 1271.217 Pa (xcfem/xc test
    # after a worked example; read), K_h by the same formula as 0.8650 at 5 m
    where = site("asce7-16", basic_wind=52.0, altitude=110.0)
    found = factors(form_of(vault(span=16.0, rise=6.5)), where)
    assert found["h"].value == pytest.approx(6.5)
    assert found["K_d"].value == 0.85
    assert found["q_h"].value == pytest.approx(1271.217, abs=0.5)
    assert found["K_e"].value == pytest.approx(0.9869953, abs=1e-6)


def test_edition_of_2022_has_no_importance_factor_and_keeps_k_d_apart():
    old, new = (
        factors(form_of(vault()), site(name, ground_snow=1000.0))
        for name in ("asce7-16", "asce7-22")
    )
    assert "I_s" in old
    assert "I_s" not in new
    assert old["p_f"].value == pytest.approx(0.7 * 1.0 * 1.2 * 1000.0)
    assert new["q_h"].value > old["q_h"].value  # K_d is not in it


def test_peak_velocity_pressure_of_en_1991_1_4():
    # category I, 3.5 m, 27 m/s: 989 Pa (printed calculation, read)
    where = site("en", basic_wind=27.0, exposure="I")
    found = factors(form_of(vault(span=10.0, rise=3.5)), where)
    assert found["q_p(z_e)"].value == pytest.approx(989.0, abs=1.0)
    half_square = 0.5 * 1.25 * 27.0**2
    assert found["c_e(z_e)"].value == pytest.approx(989.0 / half_square, abs=0.01)
    assert [f.value for f in site_factors(form_of(vault()), where) if f.symbol == "c_pi"] == [
        0.2, -0.3,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rise", "zones"),
    # ASCE 7-16 Fig. 27.3-3, springing from the ground (recalled): 1.4 r, -0.7 - r, -0.5
    [(3.0, (0.7, -1.2, -0.5)), (1.2, (0.28, -0.9, -0.5))],
)
def test_zones_of_a_vault(rise, zones):
    rows = wind_zones(form_of(vault(rise=rise, around=16)), site("asce7-16"))
    across = next(row for row in rows if row.name == "zones")
    for (low, high), value in zip(across.zones, zones, strict=True):
        assert (low, high) == pytest.approx((value, value))


def test_zones_of_a_hemisphere_name_every_field_once():
    rows = wind_zones(form_of(hemisphere()), site("en"))
    assert [row.name for row in rows] == ["closed form", "arcs A", "arcs B"]
    for row in rows:
        assert row.zones[0][1] > 0.3  # presses at windward
        assert row.zones[1][0] == pytest.approx(-1.2 if "arcs" in row.name else -1.0, abs=0.08)


def test_snow_of_a_cylinder_by_en_1991_1_3():
    # 0.8 where the roof is not steeper than 60 degrees; drifted mu3 = 2.0 at the leeward
    # quarter point of what is less steep, for h/b = 0.5, and half of it windward (recalled)
    form = form_of(vault(rise=3.0, around=48, along=9))
    even, drift = snow_zones(form, site("en"))
    assert even.zones[1] == pytest.approx((0.8, 0.8))
    assert drift.zones[1][1] == pytest.approx(2.0, abs=0.1)
    assert drift.zones[2][1] == pytest.approx(2 * drift.zones[0][1])


def test_no_wind_and_no_snow_give_no_zones():
    calm = site("en", basic_wind=0.0, ground_snow=0.0)
    form = form_of(hemisphere())
    assert wind_zones(form, calm) == snow_zones(form, calm) == ()
    assert np.isfinite([factor.value for factor in site_factors(form, calm)]).all()
