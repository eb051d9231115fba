"""READINGS.csv: what is understood, and that every problem is told with its line."""

import pytest

from strutwright.brief import Known, parse_readings, read_readings
from strutwright.errors import InputError

KNOWN = Known(26, frozenset(range(10)), frozenset({(0, 1), (3, 12)}))
HEAD = "kind,from,to,at,value,sigma\n"


def read(text):
    return parse_readings(HEAD + text, "r.csv", KNOWN)


def problems(text):
    with pytest.raises(InputError) as caught:
        read(text)
    return [(p.code, p.where) for p in caught.value.problems]


def test_each_kind_is_read_in_its_units():
    found = read(
        "distance,12,3,outside,2.5 m,4 mm\n"
        "width,0,5,,19 ft 8 1/4 in,\n"
        "# a remark\n"
        "# temperature: 50 F\n"
        "height,7,,centre,-4 mm,\n"
        "strut,3,12,,1181 mm\n"
    ).readings
    assert [r.kind for r in found] == ["distance", "width", "height", "strut"]
    assert found[0].hubs == (3, 12)
    assert (found[0].at, found[0].value, found[0].sigma) == ("outside", 2.5, 0.004)
    assert found[1].value == pytest.approx(19 * 0.3048 + 8.25 * 0.0254, abs=1e-12)
    assert (found[1].at, found[1].sigma, found[1].temperature) == ("centre", None, None)
    assert (found[2].hubs, found[2].value) == ((7,), -0.004)
    assert found[2].temperature == pytest.approx(10.0)
    assert [r.line for r in found] == [2, 3, 6, 7]


def test_columns_may_stand_in_any_order():
    found = parse_readings("kind,value,from,to,at,sigma\nwidth,6 m,0,5,,\n", "r.csv", KNOWN)
    assert (found.readings[0].hubs, found.readings[0].value) == ((0, 5), 6.0)


def test_all_problems_are_told_at_once_with_their_lines():
    text = (
        "distance,0,99,centre,2 m,\n"
        "distance,4,4,centre,2 m,\n"
        "width,0,12,centre,2 m,\n"
        "strut,0,2,centre,2 m,\n"
        "length,0,2,centre,2 m,\n"
        "distance,0,2,middle,2 m,\n"
        "distance,0,2,centre,2,\n"
        "distance,0,2,centre,2 m,0 mm\n"
        "distance,0,2,centre,2,04 m,3 mm\n"
        "height,0,2,centre,2 m,\n"
        "distance,x,2,centre,2 m,\n"
        "# temperature: warm\n"
    )
    found = problems(text)
    assert [code for code, _ in found] == [
        "readings-hub", "readings-hub", "readings-base", "readings-strut", "readings-kind",
        "readings-at", "unit-missing", "readings-sigma", "readings-columns", "readings-hub",
        "readings-hub", found[-1][0],
    ]  # fmt: skip
    assert [where for _, where in found] == [f"r.csv (line {n})" for n in range(2, 14)]


def test_a_reading_written_down_twice_counts_once_and_is_named():
    result = read("width,0,5,,6.000 m,\ndistance,5,0,,6.000 m,\nwidth,5,0,,6.004 m,\n")
    assert [r.value for r in result.readings] == [6.0, 6.004]
    assert [n.code for n in result.notes] == ["readings-twice"] * 2
    assert "lines 2 and 3" in result.notes[0].text
    assert "4 mm apart" in result.notes[1].text


@pytest.mark.parametrize("text", ["", "# nothing but remarks\n"])
def test_no_reading_is_told(text):
    assert problems(text)[0][0] == "readings-few"


@pytest.mark.parametrize("data", [None, b"\xff\xfe\x00k\x00", b"kind;\xe4"])
def test_a_file_that_cannot_be_read_is_told(tmp_path, data):
    path = tmp_path / "r.csv"
    if data:
        path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        read_readings(path, KNOWN)
    assert caught.value.code == "readings-unreadable"


@pytest.mark.parametrize("said", ["68 F", "20 C", "65 C", "-40 C"])
def test_frames_are_taped_at_temperatures_that_people_stand(said):
    assert read(f"# temperature: {said}\nwidth,0,5,,6 m,\n").readings[0].temperature is not None


@pytest.mark.parametrize("said", ["68.1 C", "-41 C", "154 F"])
def test_degrees_fahrenheit_written_as_celsius_are_told(said):
    assert problems(f"# temperature: {said}\nwidth,0,5,,6 m,\n") == [
        ("readings-temperature", "r.csv (line 2)")
    ]
