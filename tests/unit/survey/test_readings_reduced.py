"""What the tape read, brought to hub centres at the reference temperature."""

import numpy as np
import pytest

from strutwright.brief import Reading, parse_brief
from strutwright.errors import InputError
from strutwright.parts import make_kit
from strutwright.sentences import told
from strutwright.shape import make_shell
from strutwright.survey import reduce_readings, spreads

BRIEF = """
[project]
name = "Tape test"
[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
[hubs]
connector = "{connector}"
"""


def kit_of(stock="emt-3/4", connector="flattened-bolt"):
    brief = parse_brief(BRIEF.format(stock=stock, connector=connector))
    return make_kit(make_shell(brief), brief), spreads(brief.survey)


def reduced(reading, stock="emt-3/4", connector="flattened-bolt"):
    kit, spread = kit_of(stock, connector)
    return kit, reduce_readings([reading], kit, spread)


def test_a_tape_held_outside_reads_more_and_at_the_bolts_as_the_catalogue_says():
    kit, found = reduced(Reading("width", (0, 5), "outside", 6.044, temperature=20.0))
    assert kit.connector.outside_from_centre == pytest.approx(0.022)
    assert found.used[0].value == pytest.approx(6.0, abs=1e-12)
    assert found.used[0].design == pytest.approx(6.0)
    _, found = reduced(Reading("width", (0, 5), "bolt", 6.0, temperature=20.0))
    assert found.used[0].value == pytest.approx(6.0, abs=1e-12)


def test_a_warm_pvc_frame_is_brought_back_to_the_reference():
    """1.85 m, 30 K, 54e-6 1/K: 3.0 mm (job map, computed)."""
    kit, found = reduced(
        Reading("width", (0, 5), "centre", 6.0 * (1 + 54e-6 * 30), temperature=50.0),
        "pvc-sch40-1", "socket-pin",
    )  # fmt: skip
    assert 1.85 * kit.stock.material.expansion * 30 == pytest.approx(0.0030, abs=0.00005)
    assert found.used[0].value == pytest.approx(6.0, abs=1e-9)
    assert not found.notes


def test_a_cut_length_in_place_is_the_node_length_less_both_allowances():
    kit, _ = kit_of("pvc-sch40-1", "socket-pin")
    ends = tuple(int(h) for h in kit.shell.struts[4])
    cut = float(np.linalg.norm(np.diff(kit.shell.hubs[list(ends)], axis=0)))
    cut -= kit.allowances[4].sum()
    _, found = reduced(Reading("strut", ends, "centre", cut), "pvc-sch40-1", "socket-pin")
    assert found.used[0].value == pytest.approx(found.used[0].design, abs=1e-12)
    assert kit.allowances[4].sum() > 0.05


@pytest.mark.parametrize(
    ("wrote", "says"),
    [
        (6.0 / 0.3048, "feet written as metres"),
        (6.0 * 0.3048, "metres written as feet"),
        (6000.0, "millimetres written as metres"),
        (6.0 * 0.0254 / 0.001 / 25.4 / 25.4, "inches written as millimetres"),
        (0.6, "decimal point one place off"),
        (4.4, "was misread"),
    ],
)
def test_a_slip_of_the_unit_is_named_and_put_aside(wrote, says):
    _, found = reduced(Reading("width", (0, 5), "centre", wrote, temperature=20.0, line=7))
    assert not found.used
    note = found.notes[0]
    assert note.code == "readings-put-aside"
    assert "Line 7" in note.text
    assert says in note.text


def test_a_shell_that_is_badly_off_is_not_put_aside():
    _, found = reduced(Reading("width", (0, 5), "centre", 6.4, temperature=20.0))
    assert len(found.used) == 1


def test_a_place_that_the_connector_does_not_know_is_refused():
    with pytest.raises(InputError) as caught:
        reduced(Reading("width", (0, 5), "outside", 6.0), "pvc-sch40-1", "socket-pin")
    assert caught.value.code == "readings-at-unknown"


def test_without_a_temperature_the_result_says_what_was_taken():
    _, found = reduced(Reading("width", (0, 5), "centre", 6.0))
    assert [note.code for note in found.notes] == ["readings-temperature-assumed"]


def test_a_height_far_off_at_a_base_hub_is_put_aside():
    _, found = reduced(Reading("height", (0,), "centre", 0.9, temperature=20.0))
    assert not found.used
    assert "misread" in found.aside[0][1]


def test_two_readings_of_one_pair_that_cannot_both_be_right_are_named():
    kit, spread = kit_of()
    first = Reading("width", (0, 5), "centre", 6.002, temperature=20.0, line=2)
    second = Reading("distance", (0, 5), "centre", 6.032, temperature=20.0, line=3)
    near = Reading("distance", (0, 5), "centre", 6.012, temperature=20.0, line=4)
    found = reduce_readings([first, second], kit, spread)
    assert [note.code for note in found.notes] == ["readings-contradict"]
    assert "Lines 2 and 3" in found.notes[0].text
    assert not reduce_readings([first, near], kit, spread).notes


def test_a_file_in_the_wrong_unit_is_named_once():
    kit, spread = kit_of()
    wrong = [
        Reading("width", (k, k + 5), "centre", 6.0 / 0.3048, temperature=20.0, line=k)
        for k in range(4)
    ]
    found = reduce_readings(wrong, kit, spread)
    assert [note.code for note in found.notes].count("readings-one-slip") == 1
    assert "4 of 4 readings" in found.notes[-1].text
    assert "feet written as metres" in found.notes[-1].text


def test_notes_are_in_the_readers_units():
    kit, spread = kit_of()
    feet = Reading("width", (0, 5), "centre", 19.7, line=2)
    found = reduce_readings([feet], kit, spread)
    assert all(" mm" not in told(note.text, system="imperial") for note in found.notes)
    assert "19' 8 1/4\"" in told(found.notes[0].text, system="imperial")
