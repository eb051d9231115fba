"""Greenhouse heat and air: extension formulas (read or read second-hand; numbers computed)."""

import pytest

from strutwright.climate import (
    AIR_HEAT,
    faces_needed,
    fan_flow,
    heat_loss,
    season_fuel,
    second_layer,
    stack_flow,
    vent_area,
    wind_flow,
)
from strutwright.errors import InputError


@pytest.mark.parametrize(("u", "watts"), [(6.25, 8616), (3.97, 5624)])
def test_heat_loss_of_a_six_metre_dome(u, watts):
    """Q = U A dT + 0.335 n V dT, A 52.497 m2, V 49.394 m3, dT 25 K, n 1/h."""
    assert heat_loss(52.497, 49.394, u, 25, air_changes=1).total == pytest.approx(watts, abs=1)


def test_heat_loss_of_film_alone():
    """U 6.8, A 100 m2, dT 20 K: 13,600 W (read)."""
    assert heat_loss(100, 0, 6.8, 20).total == pytest.approx(13600)


def test_air_heat_is_density_times_specific_heat():
    assert pytest.approx(1.2 * 1005 / 3600, abs=5e-4) == AIR_HEAT


def test_summer_fan():
    """8-10 cfm per square foot on 26.45 m2 of floor: 1.075 to 1.344 m3/s (UMass extension)."""
    assert fan_flow(26.45) == pytest.approx((1.075, 1.344), abs=1e-3)


@pytest.mark.parametrize(("share", "area", "faces"), [(0.15, 3.968, 3), (0.2, 5.29, 4)])
def test_vents_as_a_share_of_the_floor(share, area, faces):
    """Each of roof and side 15-20 % of the floor (ASABE, second-hand); faces of 1.4885 m2."""
    wanted = vent_area(26.45, share)
    assert wanted == pytest.approx(area, abs=1e-3)
    assert faces_needed(wanted, 1.4885) == faces


def test_stack_flow():
    """4 m2 + 4 m2, H 2.5 m, dT 10 K, T 293 K, Cd 0.65: 2.38 m3/s (ASHRAE, recalled)."""
    assert stack_flow(4, 4, 2.5, 24.85, 14.85) == pytest.approx(2.38, abs=5e-3)
    assert stack_flow(4, 4, 2.5, 10, 20) == 0


def test_wind_flow_grows_with_area_and_speed():
    assert wind_flow(2, 3) == pytest.approx(3.0)


def test_a_season_of_fuel():
    # 100 W/K over 2,000 K d is 100 * 2000 * 86400 J; a heater of 80 % takes a quarter more.
    assert season_fuel(100, 2000) == pytest.approx(1.728e10)
    assert season_fuel(100, 2000, 0.8) == pytest.approx(2.16e10)


def test_a_second_layer_saves_its_share():
    single, double = (heat_loss(52.5, 49.4, u, 25) for u in (6.25, 3.97))
    saving = second_layer(single, double, 2000, price=200, fuel_price=0.1 / 3.6e6)
    assert saving.share == pytest.approx(1 - 5624 / 8616, abs=1e-3)
    assert saving.seasons_to_pay == pytest.approx(200 / (saving.saved * 0.1 / 3.6e6))


@pytest.mark.parametrize("bad", [{"rise": -1}, {"air_changes": -1}, {"u_value": float("nan")}])
def test_values_below_zero_are_refused(bad):
    values = {"area": 50, "volume": 50, "u_value": 6, "rise": 20} | bad
    with pytest.raises(InputError, match="climate-value"):
        heat_loss(**values)
