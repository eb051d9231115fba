"""Tables as spreadsheets of many countries write them."""

import pytest

from strutwright.brief import Known, parse_levels, parse_readings, read_readings
from strutwright.brief.cells import cells_of, remark_of
from strutwright.errors import InputError

KNOWN = Known(26, frozenset(range(10)), frozenset({(0, 1), (3, 12)}))
PLAIN = "kind,from,to,at,value,sigma\n# temperature: 12.5 C\nwidth,0,5,centre,6.002 m,4 mm\n"
SEMICOLONS = (
    "Kind;From;To;At;Value;Sigma\r\n"
    "# temperature: 12,5 C;;;;;\r\n"
    ";;;;;\r\n"
    "\r\n"
    "width;0;5;centre;6,002 m;4 mm\r\n"
)
TABS = "kind\tfrom\tto\tat\tvalue\tsigma\n\n# temperature: 12.5 C\nwidth\t0\t5\t\t6,002 m\t4 mm\n"
QUOTED = '"kind","from","to","at","value","sigma"\n"# temperature: 12.5 C",,,,,\n'
INCHES = QUOTED + '"width","0","5","centre","19\' 8 1/4""","4 mm"\n'


HINTED = "sep=;\r\n" + SEMICOLONS


@pytest.mark.parametrize("text", [PLAIN, SEMICOLONS, TABS, HINTED])
def test_one_reading_however_it_is_parted(text):
    found = parse_readings(text, "r.csv", KNOWN).readings
    assert [(r.kind, r.hubs, r.at, r.value, r.sigma, r.temperature) for r in found] == [
        ("width", (0, 5), "centre", 6.002, 0.004, 12.5)
    ]


def test_feet_and_inches_stand_in_quoted_and_bare_cells():
    bare = "kind,from,to,value\nwidth,0,5,19' 8 1/4\"\n"
    for text in (INCHES, bare):
        (found,) = parse_readings(text, "r.csv", KNOWN).readings
        assert found.value == pytest.approx(19 * 0.3048 + 8.25 * 0.0254, abs=1e-12)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_the_mark_at_the_head_of_the_file_is_no_part_of_it(tmp_path, encoding):
    path = tmp_path / "r.csv"
    path.write_bytes(SEMICOLONS.encode(encoding))
    assert read_readings(path, KNOWN).readings[0].value == 6.002


def test_a_comma_between_commas_stays_a_problem():
    with pytest.raises(InputError) as caught:
        parse_readings("width,0,5,centre,6,002 m,3 mm\n", "r.csv", KNOWN)
    assert caught.value.code == "readings-columns"
    assert "semicolons" in caught.value.mend


def test_a_head_without_the_needed_columns_is_told():
    with pytest.raises(InputError) as caught:
        parse_readings("kind;from;to;sigma\n", "r.csv", KNOWN)
    assert caught.value.code == "readings-columns"


def test_a_minus_sign_of_print_is_one():
    (found,) = parse_readings("height,7,,,\N{MINUS SIGN}4 mm,\n", "r.csv", KNOWN).readings
    assert found.value == -0.004


def test_levels_are_parted_the_same_way():
    text = 'x;y;height\n"# staff; read twice"\n0,0 m;\N{MINUS SIGN}3,5 m;656,5 mm\n;;\n'
    (level,) = parse_levels(text, "levels.csv")
    assert (level.x, level.y, level.height) == (0.0, -3.5, 0.6565)


def test_cells_and_remarks():
    assert cells_of(";;;") == cells_of("") == []
    assert cells_of("a;1,5;") == ["a", "1.5", ""]
    assert cells_of('"a,b",c') == ["a,b", "c"]
    assert cells_of('"' + "x" * 200_000) == ['"' + "x" * 200_000]
    assert remark_of('"# one; two",,') == " one; two"
    assert remark_of("width,0,5") is None
