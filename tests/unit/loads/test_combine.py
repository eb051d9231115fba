"""Combinations: nothing left out, uplift without crop, formats apart."""

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.loads import (
    Door,
    combinations,
    combined,
    duration_of,
    factor_table,
    load_cases,
    one_format,
    resultant,
)

from .shells import hemisphere, masses, plan_area, site, vault

SHELL = hemisphere(2)
LOADS = {
    name: load_cases(
        SHELL, masses(SHELL, film=36e3), site(name), crop=150.0, doors=(Door("d", 0.0, 1.7),)
    )
    for name in ("en", "asce7-16", "asce7-22")
}


def kinds(combo, cases):
    action = {case.name: case.action for case in cases}
    return {action[name]: factor for name, factor in combo.factors}


@pytest.mark.parametrize("standard", LOADS)
@pytest.mark.parametrize("format", ["factored", "allowable"])
def test_every_case_stands_in_a_combination(standard, format):
    cases = LOADS[standard].cases
    combos = combinations(cases, standard, format)
    assert one_format(combos, format) == format
    used = {name for combo in combos for name, _ in combo.factors}
    assert used == {case.name for case in cases}
    names = [combo.name for combo in combos]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("standard", "state", "dead", "wind"),
    [("en", "EQU", 0.9, 1.5), ("asce7-16", "LRFD", 0.9, 1.0), ("asce7-22", "ASD", 0.6, 0.6)],
)
def test_uplift_counts_no_crop_and_no_hung_load(standard, state, dead, wind):
    cases = LOADS[standard].cases
    format = "allowable" if state == "ASD" else "factored"
    combos = combinations(cases, standard, format)
    uplift = [kinds(c, cases) for c in combos if c.limit_state == state]
    uplift = [k for k in uplift if k["dead"] == dead]
    winds = sum(case.action == "wind" for case in cases)
    covered = [k for k in uplift if "wind" in k]
    assert len(covered) == winds
    assert all(k == {"dead": dead, "cover": dead, "wind": wind} for k in covered)


@pytest.mark.parametrize(
    ("standard", "format", "expected"),
    [
        ("en", "factored",
         {"dead": 1.35, "cover": 1.35, "snow": 1.5, "wind": 0.9, "crop": 1.5, "hung": 1.05}),
        ("en", "factored",
         {"dead": 1.35, "cover": 1.35, "snow": 0.75, "wind": 1.5, "crop": 1.5, "hung": 1.05}),
        ("en", "allowable",
         {"dead": 1, "cover": 1, "snow": 1, "wind": 0.6, "crop": 1, "hung": 0.7}),
        ("asce7-16", "factored", {"dead": 1.2, "cover": 1.2, "snow": 1.6, "wind": 0.5}),
        ("asce7-16", "factored",
         {"dead": 1.2, "cover": 1.2, "snow": 0.5, "wind": 1, "crop": 1, "hung": 1}),
        ("asce7-22", "factored", {"dead": 1.2, "cover": 1.2, "snow": 1.0, "wind": 0.5}),
        ("asce7-22", "factored",
         {"dead": 1.2, "cover": 1.2, "snow": 0.3, "wind": 1, "crop": 1, "hung": 1}),
        ("asce7-22", "allowable", {"dead": 1, "cover": 1, "snow": 0.7}),
        ("asce7-16", "allowable",
         {"dead": 1, "cover": 1, "snow": 0.75, "wind": 0.45, "crop": 0.75, "hung": 0.75}),
        ("asce7-16", "factored", {"dead": 1.4, "cover": 1.4}),
    ],
)  # fmt: skip
def test_printed_combinations_are_there(standard, format, expected):
    cases = LOADS[standard].cases
    found = [kinds(c, cases) for c in combinations(cases, standard, format)]
    assert any(k == pytest.approx(expected) for k in found)


@pytest.mark.parametrize("standard", LOADS)
@pytest.mark.parametrize("format", ["factored", "allowable"])
def test_a_site_without_snow_still_takes_wind_with_what_hangs(standard, format):
    # Recalled: 1.2D + 1.0W + L + 0.5S; D + 0.75L + 0.45W + 0.75S; EN 6.10 with psi_0: where
    # there is no snow the rest of the line stays.
    cases = [case for case in LOADS[standard].cases if case.action != "snow"]
    found = [kinds(c, cases) for c in combinations(cases, standard, format)]
    loaded = [k for k in found if {"wind", "crop", "hung"} <= set(k)]
    factor = {"en": {"factored": 1.5, "allowable": 1.0}}.get(
        standard, {"factored": 1.0, "allowable": 0.45}
    )[format]
    assert loaded
    assert max(k["wind"] for k in loaded) == pytest.approx(factor)


def test_consequence_scales_what_is_unfavourable():
    cases = LOADS["en"].cases
    low = combinations(cases, "en", "factored", consequence="CC1")
    factors = {round(f, 6) for c in low for _, f in c.factors}
    assert {1.215, 1.35, 1.0, 0.9} <= factors
    high = combinations(cases, "en", "factored", altitude=1500.0)
    assert any(dict(kinds(c, cases)).get("snow") == pytest.approx(1.05) for c in high)


def test_serviceability():
    combos = combinations(LOADS["en"].cases, "en", "-")
    assert {c.limit_state for c in combos} == {"SLS"}
    assert max(f for c in combos for _, f in c.factors) == 1.0
    assert combinations(LOADS["asce7-16"].cases, "asce7-16", "-")


def test_formats_are_not_mixed():
    cases = LOADS["en"].cases
    both = combinations(cases, "en", "factored") + combinations(cases, "en", "allowable")
    with pytest.raises(InputError, match="format-mixed"):
        one_format(both)
    with pytest.raises(InputError, match="wanted allowable"):
        one_format(combinations(cases, "en", "factored"), "allowable")
    with pytest.raises(InputError):
        one_format(())


def test_sums_are_those_of_the_cases():
    cases = LOADS["en"].cases
    combos = combinations(cases, "en", "factored")
    combo = combos[len(combos) // 2]
    hubs, lines = combined(cases, combo)
    table = factor_table(cases, combos)
    assert table.shape == (len(combos), len(cases))
    row = table[combos.index(combo)]
    assert hubs == pytest.approx(
        np.tensordot(row, np.array([c.hub_forces for c in cases]), 1), abs=1e-9
    )
    assert lines.shape == (len(SHELL.struts), 3)
    with pytest.raises(InputError, match="case-unknown"):
        combined(cases[:1], combos[-1])


def test_duration():
    cases = LOADS["en"].cases
    snow = next(
        c for c in combinations(cases, "en", "factored")
        if set(kinds(c, cases)) == {"dead", "cover", "snow", "wind", "crop", "hung"}
    )  # fmt: skip
    assert duration_of(cases, snow) == "gust"
    assert duration_of(cases, snow, longest=True) == "long"
    weight = combinations(cases, "en", "factored")[0]
    assert duration_of(cases, weight) == duration_of(cases, weight, longest=True) == "permanent"


def test_weights_add_up():
    found = LOADS["en"]
    force, _ = resultant(SHELL, found.case("weight of the frame"))
    ends = SHELL.hubs[SHELL.struts]
    metres = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).sum()
    expected = 9.80665 * (0.7 * metres + 0.3 * len(SHELL.hubs))
    assert force == pytest.approx([0, 0, -expected], abs=1e-6)
    crop, _ = resultant(SHELL, found.case("crop"))
    plan = plan_area(SHELL)
    assert crop == pytest.approx([0, 0, -150 * plan], abs=1e-6)


def test_what_was_assumed_is_said():
    codes = {note.code for note in LOADS["en"].notes}
    assert {
        "film-pull", "hung-hubs", "loads-cover-handed", "snow-annex", "snow-base",
        "wind-annex", "wind-bare-frame", "wind-dome-arcs", "wind-door-leaf",
    } <= codes  # fmt: skip
    assert not LOADS["en"].not_checked


def test_a_frame_without_cover_takes_the_wind_on_its_bars():
    loads = load_cases(SHELL, masses(SHELL, cover=0.0), site())
    actions = {case.action for case in loads.cases}
    assert actions == {"dead", "hung", "erection", "bare wind"}
    assert "cover-none" in {note.code for note in loads.notes}


def test_a_vault_has_its_cases():
    shell = vault()
    loads = load_cases(shell, masses(shell), site())
    winds = {case.name for case in loads.cases if case.action == "wind"}
    assert "wind to 90 zones shut +0.20" in winds
    assert "wind to 180 along shut -0.30" in winds
    assert combinations(loads.cases, "en", "factored")


def test_wind_and_snow_lead_each_other_in_turn():
    cases = LOADS["en"].cases
    found = [kinds(c, cases) for c in combinations(cases, "en", "factored", consequence="CC2")]
    both = [k for k in found if k.get("snow") and k.get("wind")]
    assert any(k["snow"] == pytest.approx(1.5) and k["wind"] == pytest.approx(0.9) for k in both)
    assert any(k["wind"] == pytest.approx(1.5) and k["snow"] < 1.5 for k in both)
