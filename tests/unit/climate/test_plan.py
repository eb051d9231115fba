"""Heat, air and room of one house."""

import pytest

from strutwright.catalogue import cover
from strutwright.climate import ClimateAsked, climate_plan, summer_rise
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.outer import measures
from strutwright.shape.vents import Vent, open_vents

SHELL = dome(DomeSpec(radius=3.0, division=(2, 0)))


def asked(**changes):
    values = {
        "inside": 15.0, "outside": -10.0, "air_changes": 1.0, "degree_days": None,
        "fuel_price": None, "sun": 800.0, "shade": 0.0, "layers": 1, "price": None,
    } | changes  # fmt: skip
    return ClimateAsked(**values)


def plan(shell=SHELL, skin="pe-film-180", **changes):
    return climate_plan(shell, measures(shell), cover(skin) if skin else None, asked(**changes))


def test_two_layers_lose_less_and_the_second_pays_for_itself():
    single = plan(degree_days=2500.0, fuel_price=0.12, price=2.0)
    double = plan(layers=2, degree_days=2500.0)
    assert double.heat.total < single.heat.total
    saved = single.second_layer
    assert saved.saved == pytest.approx(single.season_fuel - double.season_fuel)
    assert saved.seasons_to_pay == pytest.approx(
        2.0 * measures(SHELL).cover_area / (saved.saved / 3.6e6 * 0.12)
    )


def test_without_prices_nothing_is_said_of_when_it_pays():
    assert plan(degree_days=2500.0).second_layer.seasons_to_pay is None


def test_without_temperatures_no_heater_is_worked_out():
    assert plan(inside=None).heat is None
    assert plan(skin=None).u_value is None


def test_unknown_u_value_is_noted():
    assert "climate-u-unknown" in {note.code for note in plan(skin="pc-4").notes}


def test_heated_snow_stays_cold_with_its_reason():
    assert "climate-snow-cold" in {note.code for note in plan().notes}


def test_vents_low_and_high_breathe():
    shell = open_vents(SHELL, Vent("vent_1", 3.0, "low"))
    assert plan(shell).stack == 0.0
    assert "climate-no-stack" in {note.code for note in plan(shell).notes}
    shell = open_vents(shell, Vent("vent_2", 3.0, "high"))
    both = plan(shell)
    assert both.low.area >= 3.0
    assert both.high.area >= 3.0
    assert both.high.height > both.low.height
    assert both.stack > 0
    assert both.rise > 0


def test_summer_rise_is_an_energy_balance():
    """What comes in and is not spent on moisture leaves with the air and through the cover."""
    rise = summer_rise(800.0, 28.0, 1.2, 210.0)
    leaves = rise * (0.335 * 3600 * 1.2 + 210.0)
    assert leaves == pytest.approx(800 * 28 * 0.75 * 0.5)


def test_shading_lowers_the_rise():
    assert plan(shade=0.5).rise_fan == pytest.approx(plan().rise_fan / 2)


def test_floor_shrinks_with_headroom():
    floors = [floor for _, floor in plan().benches.floor]
    assert floors == sorted(floors, reverse=True)
    assert floors[0] < measures(SHELL).floor_area
