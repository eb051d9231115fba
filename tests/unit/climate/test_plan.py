"""Heat, air and room of one house."""

from dataclasses import replace

import pytest

from strutwright.catalogue import cover, cover_ids
from strutwright.climate import ClimateAsked, climate_plan, double_sheet, summer_rise
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
    bare = replace(cover("pc-4"), transmittance=None)
    found = climate_plan(SHELL, measures(SHELL), bare, asked())
    assert "climate-u-unknown" in {note.code for note in found.notes}


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


def test_two_sheets_insulate_by_their_layers_in_series():
    """EN ISO 6946, recalled: 1/U = sum of resistances, 0.17 at the faces, 0.16 the air between."""
    sheet = 1 / 3.36 - 0.17
    assert double_sheet(3.36) == pytest.approx(1 / (0.17 + 2 * sheet + 0.16))
    assert plan(skin="pc-8", layers=2).u_value == pytest.approx(double_sheet(3.36))


def test_walls_under_the_base_ring_lose_heat_and_hold_air():
    flat, high = plan(), plan(riser=0.6)
    ring = SHELL.hubs[SHELL.base]
    around = sum(
        ((a - b) ** 2).sum() ** 0.5 for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )
    assert high.area - flat.area == pytest.approx(0.6 * around)
    assert high.volume - flat.volume == pytest.approx(0.6 * measures(SHELL).floor_area)
    assert high.heat.total > flat.heat.total
    assert "climate-riser-closed" in {note.code for note in high.notes}
    # 1.9 m over the floor is 1.3 m over the base ring
    assert dict(high.benches.floor)[1.9] > dict(flat.benches.floor)[1.9]


def test_every_value_has_its_source_and_second_hand_ones_are_marked():
    for skin in cover_ids():
        for layers in (1, 2):
            found = {one.name: one for one in plan(skin=skin, layers=layers).given}
            assert all(one.source.title for one in found.values())
            assert found["vent_share"].second_hand
            assert found["u_value"].value > 0
    film = {one.name: one for one in plan(layers=2).given}["u_value"]
    assert film.second_hand
    assert film.value == pytest.approx(0.7 * 5.678, abs=5e-3)


def test_sun_hours_are_said_to_be_left_out():
    assert "climate-no-sun-hours" in {note.code for note in plan().notes}


@pytest.mark.parametrize("outside", [15.0, 20.0])
def test_no_warmer_inside_no_heater_and_the_second_layer_saves_its_share(outside):
    """At 0 K nothing is lost; what a layer saves of each kelvin stays the same."""
    found = plan(outside=outside, degree_days=2000.0)
    assert found.heat.total == found.heat.heater == 0
    assert "climate-no-heating" in {note.code for note in found.notes}
    cold = plan(degree_days=2000.0)
    assert "climate-no-heating" not in {note.code for note in cold.notes}
    assert found.second_layer.share == pytest.approx(cold.second_layer.share)
    assert found.second_layer.share == pytest.approx(cold.second_layer.saved / cold.season_fuel)
