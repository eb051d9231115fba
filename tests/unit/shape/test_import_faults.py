"""Old kits with faults: wrong units, ends that do not meet, doors, struts that were forgotten."""

import re

import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fitting import Door
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.measure import node_lengths
from strutwright.shape.openings import open_door
from strutwright.shape.recognise import recognise
from strutwright.shape.stretch import LongDomeSpec, long_dome


@pytest.fixture(scope="module")
def house():
    return dome(DomeSpec(2.5, division=(3, 0)))


def lines_of(shell, *, without=()):
    kept = np.setdiff1d(np.arange(len(shell.struts)), without)
    return shell.hubs[shell.struts[kept]]


def codes(shell):
    return [note.code for note in shell.recipe.notes]


@pytest.mark.parametrize(
    ("factor", "unit"), [(1000.0, "mm"), (1 / 0.3048 / 1000, None), (1 / 0.0254, "in")]
)
def test_a_wrong_unit_is_refused(house, factor, unit):
    """A file in mm that was read in m made a house of nearly five kilometres."""
    with pytest.raises(InputError) as caught:
        shell_from_lines(lines_of(house) * factor)
    assert caught.value.code == "import-size"
    if unit:
        assert f'"{unit}"' in caught.value.what


def test_ends_that_do_not_meet_are_told_the_join_that_brings_them_together(house):
    noise = np.random.default_rng(3).normal(0, 0.008, (len(house.struts), 2, 3))
    lines = lines_of(house) + noise
    with pytest.raises(InputError, match="meet no other within 5 mm") as caught:
        shell_from_lines(lines)
    assert caught.value.code == "import-ends"
    join = float(re.findall(r'join = "(\d+) mm"', caught.value.mend)[0]) / 1000
    assert len(shell_from_lines(lines, join).hubs) == len(house.hubs)


@pytest.mark.parametrize("azimuth", [0.0, 1.1, 2.9])
def test_an_old_kit_with_a_door_stands_on_its_feet_alone(house, azimuth):
    """The jambs and the head of the door counted as base hubs, 1.7 m over the ground."""
    built = open_door(house, Door("d", 0.8, 1.7, azimuth))
    shell = shell_from_lines(lines_of(built))
    assert shell.recipe.base == "level"
    assert "import-gap" in codes(shell)
    assert "import-turned" not in codes(shell)
    assert np.abs(shell.hubs[shell.base, 2]).max() == 0.0
    assert len(shell.base) == len(built.base)
    assert (shell.role == "tie").sum() == 1
    assert shell.hubs[:, 2].max() == pytest.approx(built.hubs[:, 2].max())


def test_two_doors_in_a_long_house_are_both_found():
    built = long_dome(LongDomeSpec(5.0, bays=3))
    for number, azimuth in enumerate((np.pi / 2, -np.pi / 2)):
        built = open_door(built, Door(f"d{number}", 0.8, 1.7, azimuth))
    shell = shell_from_lines(lines_of(built))
    assert codes(shell).count("import-gap") == 2
    assert (shell.role == "tie").sum() == 2
    assert shell.recipe.base == "level"


def test_a_base_strut_that_was_forgotten_is_told(house):
    at_base = np.isin(house.struts, house.base).all(axis=1)
    shell = shell_from_lines(lines_of(house, without=[np.flatnonzero(at_base)[3]]))
    assert len(shell.base) == len(house.base)
    assert shell.recipe.base == "level"
    told = [note.text for note in shell.recipe.notes if note.code == "import-gap"]
    assert len(told) == 1
    assert "missing" in told[0]


def test_a_tilted_drawing_keeps_all_its_base_hubs(house):
    lines = lines_of(house).copy()
    lines[..., 2] += 0.08 * lines[..., 0]
    shell = shell_from_lines(lines)
    assert len(shell.base) == len(house.base)
    assert "import-gap" not in codes(shell)
    assert "base-uneven" in codes(shell)


@pytest.mark.parametrize("level", ["whole", "ring"])
def test_struts_of_a_dome_with_a_level_base_are_recognised(level):
    """Only spheres cut as divided were known: a flat base of an odd frequency was no dome."""
    built = dome(DomeSpec(2.5, division=(3, 0), truncation=5, level_base=level))
    sawn = np.round(node_lengths(built) - 0.06, 3)
    lengths, numbers = np.unique(sawn, return_counts=True)
    best = recognise(list(zip(lengths.tolist(), numbers.tolist(), strict=True)))[0]
    assert best.spec.division == (3, 0)
    assert best.spec.level_base == level
    assert best.spec.radius == pytest.approx(2.5, rel=0.01)
    assert best.allowance == pytest.approx(0.03, abs=0.004)
