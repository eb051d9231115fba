"""Sections `loads` and `structure` of kit.json: laws that must hold whatever the kit."""

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.design import limit_sentences, run
from strutwright.exports import kit_data

BRIEF = """
[project]
name = "Test shelter"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[hubs.connector]
allowance = "20 mm"
eccentricity = "2 mm"
stiffness = "300 Nm/rad"
strength = "9 kN"
[cover]
material = "pc-6"
[site]
base = "staked"
ground_snow = "300 Pa"
basic_wind = { value = "20 m/s", basis = "10 min mean" }
"""


@pytest.fixture(scope="module")
def design():
    return run(parse_brief(BRIEF, "test.toml"))


def test_reactions_balance_the_resultants_of_each_combination_that_is_listed(design):
    data = kit_data(design)
    cases = {case["name"]: np.array(case["resultant"]) for case in data["loads"]["cases"]}
    combos = {combo["name"]: combo["factors"] for combo in data["loads"]["combinations"]}
    held = {}
    for row in data["structure"]["reactions"]:
        held.setdefault(row["combination"], np.zeros(3))
        held[row["combination"]] += [row["x"], row["y"], row["z"]]
    assert len(held) >= 3
    for name, force in held.items():
        load = sum(factor * cases[case] for case, factor in combos[name].items())
        assert force == pytest.approx(-load, abs=1e-6 * max(np.abs(load).max(), 1.0))


def test_depths_of_snow_weigh_its_load(design):
    first = kit_data(design)["structure"]["first_failure"]
    for density in (100, 200, 400):
        weight = first["snow_depth"][str(density)] * density * 9.80665
        assert weight == pytest.approx(first["snow"])


def test_every_hub_has_its_hung_capacity_and_snow_takes_some_of_it(design):
    hung = kit_data(design)["structure"]["hung_capacity"]
    assert len(hung["with_dead_load"]) == len(design.shell.hubs)
    pairs = zip(hung["with_design_snow"], hung["with_dead_load"], strict=True)
    assert all(snow <= dead for snow, dead in pairs)


def test_the_sentences_name_what_fails_first(design):
    snow, wind, hung = limit_sentences(design)
    assert "snow on the ground" in snow
    assert "400 kg/m3" in snow
    assert "m/s (10 min mean)" in wind
    assert "weakest hub" in hung


def test_the_weakest_state_of_the_storm_card_is_the_wind_of_first_failure(design):
    data = kit_data(design)["structure"]
    speeds = {row["state"]: row["wind"] for row in data["storm"]}
    assert set(speeds) == {"shut", "bare"}  # no door, no vent
    assert min(speeds.values()) == pytest.approx(data["first_failure"]["wind"])


@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_the_chapter_on_limits_is_set_in_every_language(design, language):
    from strutwright.documents.blocks import Table
    from strutwright.documents.limits import limits_chapter
    from strutwright.documents.reader import Reader
    from strutwright.documents.words import Words

    reader = Reader(Words.of(language), "metric", 0.001)
    blocks = limits_chapter(design, reader)
    tables = [block for block in blocks if isinstance(block, Table)]
    assert len(tables) == 3
    assert reader.speed(design.judgement.capacity.wind_speed) in str(tables[0].rows)
