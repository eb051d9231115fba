"""Reading a brief: what comes out, and every problem at once with its key and line."""

import math
import os
from fractions import Fraction

import pytest

from strutwright.brief import ConnectorTable, StockTable, parse_brief, read_brief
from strutwright.errors import InputError

LEAST = '[project]\nname = "Shed"\n[size]\nwidth = "6 m"\n'


def refused(text):
    with pytest.raises(InputError) as error:
        parse_brief(text)
    return {(p.code, p.where.split(" ")[0]) for p in error.value.problems}, error.value.problems


def codes(text):
    return {code for code, _ in refused(text)[0]}


def test_the_least_brief_is_enough_and_says_what_it_assumes():
    brief = parse_brief(LEAST)
    assert brief.size.width == 6.0
    assert brief.shape is None
    assert brief.struts.stock == "emt-1"
    assert brief.loads.hung == 445.0
    assert (brief.site.exposure, brief.site.consequence) == ("II", "CC1")
    noted = {note.code: note.text for note in brief.notes}
    assert "emt-1" in noted["assumed-stock"]
    assert "445 N" in noted["assumed-hung-load"]
    assert {"site-no-snow", "site-no-wind", "assumed-base", "assumed-standard"} <= noted.keys()


def test_every_kind_of_value_comes_out_in_si():
    brief = parse_brief(
        LEAST
        + """
freedom = "8 %"
[shape]
division = [3, 1]
truncation = "5/8"
lengths = 4
drift = "20 mm"
[struts]
bars = [{ length = "10 ft", price = 9 }, { length = "5 ft", quantity = 12 }]
step = "1/16 in"
[site]
standard = "asce7-16"
ground_snow = "25 psf"
basic_wind = { value = "115 mph", basis = "3 s gust" }
temperature = ["14 F", "113 F"]
north = "90 deg"
[cover]
material = "pc-10"
sheet = ["2.1 m", "6 m"]
[[openings]]
kind = "door"
width = "3 ft"
height = "6' 6\\""
facing = "south-west"
[[openings]]
kind = "vent"
share = "15 %"
place = "low"
[crew]
platform = "4 ft"
"""
    )
    assert brief.size.freedom.share == pytest.approx(0.08)
    assert brief.shape.division == (3, 1)
    assert brief.shape.truncation == Fraction(5, 8)
    assert brief.shape.family == "dome"
    assert [bar.length for bar in brief.struts.bars] == [3.048, 1.524]
    assert brief.struts.bars[1].quantity == 12
    assert brief.struts.step == pytest.approx(0.0015875)
    assert brief.site.ground_snow == pytest.approx(1197.0, abs=0.05)
    assert brief.site.basic_wind.value == pytest.approx(51.4096)
    assert brief.site.temperature == pytest.approx((-10, 45))
    assert (brief.site.exposure, brief.site.consequence) == ("C", "I")
    assert brief.site.north == pytest.approx(math.pi / 2)
    assert brief.cover.sheet == (2.1, 6.0)
    assert brief.openings[0].facing == pytest.approx(math.radians(225))
    assert brief.openings[0].height == pytest.approx(78 * 0.0254)
    assert brief.openings[1].facing is None
    assert brief.crew.platform == pytest.approx(1.2192)


def test_own_stock_and_own_connector():
    brief = parse_brief(
        LEAST
        + """
[struts]
stock = { material = "s235", outside = "32 mm", wall = "2 mm" }
[hubs.connector]
allowance = "12 mm"
stiffness = "2 kNm/rad"
strength = "3 kN"
mass = "0.4 kg"
"""
    )
    assert brief.struts.stock == StockTable("s235", outside=0.032, wall=0.002)
    assert brief.hubs.connector == ConnectorTable(0.012, stiffness=2e3, strength=3e3, mass=0.4)


@pytest.mark.parametrize(
    ("written", "meant"), [('"1/2"', Fraction(1, 2)), ('"55 %"', Fraction(11, 20)), ("3", 3)]
)
def test_a_truncation_is_a_share_or_courses(written, meant):
    truncation = parse_brief(LEAST + f"[shape]\ntruncation = {written}\n").shape.truncation
    assert truncation == meant
    assert type(truncation) is type(meant)


def test_use_and_standard_decide_what_is_assumed():
    hall = LEAST.replace("[size]", 'use = "hall"\nshow = "imperial"\n[size]')
    assert parse_brief(hall).site.consequence == "CC2"
    assert parse_brief(hall).struts.step == pytest.approx(0.0254 / 16)
    assert parse_brief(hall + '[site]\nstandard = "asce7-22"\n').site.consequence == "II"
    long = LEAST + 'length = "9 m"\n[shape]\ndivision = [1, 1]\n'
    assert parse_brief(long).shape.family == "long-dome"


def test_a_door_that_says_nothing_faces_south_and_says_so():
    brief = parse_brief(LEAST + '[[openings]]\nkind="door"\nwidth="0.9 m"\nheight="1.9 m"\n')
    assert brief.openings[0].facing == pytest.approx(math.pi)
    assert "assumed-facing" in {note.code for note in brief.notes}


def test_where_gives_the_line_of_a_key():
    brief = parse_brief(LEAST + "\n[struts]\n# saw\nkerf = '2 mm'\n")
    assert brief.where("struts.kerf") == "struts.kerf (line 8)"
    assert brief.where("struts.stock") == "struts.stock (not given; struts is on line 6)"
    assert brief.where("hubs.connector") == "hubs.connector (not given)"


def test_all_problems_of_a_file_come_at_once_with_key_and_line():
    found, problems = refused(
        """[project]
name = "x"
uses = "greenhouse"
[size]
width = 6
length = "5 m"
rize = "3 m"
[shape]
division = [0, 0]
grid = "lamella"
[struts]
bars = [{ length = "10 ft" },
        { quantity = 2 }]
[site]
standard = "asce7-22"
basic_wind = { value = "45 m/s", basis = "10 min mean" }
exposure = "II"
ground_snow = "-1 kPa"
[loads]
kerf = "2 mm"
[[openings]]
kind = "dor"
[[openings]]
kind = "door"
share = "3 %"
"""
    )
    assert found == {
        ("brief-unknown-key", "project.uses"),
        ("unit-missing", "size.width"),
        ("brief-unknown-key", "size.rize"),
        ("brief-out-of-bounds", "shape.division"),
        ("shape-key", "shape.grid"),
        ("brief-missing-key", "struts.bars[1].length"),
        ("wind-basis", "site.basic_wind.basis"),
        ("site-exposure", "site.exposure"),
        ("number-negative", "site.ground_snow"),
        ("brief-unknown-key", "loads.kerf"),
        ("brief-unknown-word", "openings[0].kind"),
        ("opening-size", "openings[1]"),
        ("opening-key", "openings[1].share"),
    }
    at = {problem.where.split(" ")[0]: problem for problem in problems}
    assert all(problem.mend and "line" in problem.where for problem in problems)
    assert "line 5" in at["size.width"].where
    assert "line 13" in at["struts.bars[1].length"].where
    assert "line 22" in at["openings[0].kind"].where
    assert at["project.uses"].mend == 'did you mean "use"?'
    assert at["size.rize"].mend == 'did you mean "rise"?'
    assert at["loads.kerf"].mend == "it belongs into [struts]"
    assert '"door"' in at["openings[0].kind"].mend


@pytest.mark.parametrize(
    ("section", "word", "key"),
    [("shape", "frequency", "division"), ("size", "diameter", "width"), ("size", "Height", "rise")],
)
def test_a_word_of_the_trade_is_led_to_its_key(section, word, key):
    with pytest.raises(InputError) as caught:
        parse_brief(f'[project]\nname = "x"\n[{section}]\n{word} = 4\n', "x.toml")
    (problem,) = [p for p in caught.value.problems if p.code == "brief-unknown-key"]
    assert problem.mend == f'did you mean "{key}"?'


@pytest.mark.parametrize(
    ("added", "code"),
    [
        ('length = "5 m"', "size-length-short"),
        ('rise = "7 m"', "size-rise-high"),
        ('rise = "2 m"\nheadroom = "2.5 m"', "size-headroom-high"),
        ('freedom = ["6.5 m", "7 m"]', "size-freedom"),
        ('freedom = ["7 m", "5 m"]', "brief-out-of-bounds"),
        ('freedom = "80 %"', "brief-out-of-bounds"),
        ("[shape]\ndivision = [1000, 0]", "brief-out-of-bounds"),
        ("[shape]\ndivision = [0, 0]", "brief-out-of-bounds"),
        ("[shape]\ndivision = [2, -1]", "brief-out-of-bounds"),
        ("[shape]\ndivision = [2]", "brief-wrong-type"),
        ("[shape]\ndivision = [2.0, 0]", "brief-wrong-type"),
        ("[shape]\ndivision = [true, 0]", "brief-wrong-type"),
        ("[shape]\ndivision = 2", "brief-wrong-type"),
        ('[shape]\ntruncation = "3/2"', "brief-out-of-bounds"),
        ('[shape]\ntruncation = "0/2"', "brief-out-of-bounds"),
        ('[shape]\ntruncation = "1/0"', "number-zero-denominator"),
        ("[shape]\ntruncation = 0.5", "brief-wrong-type"),
        ("[shape]\nscale_rise = 1", "brief-wrong-type"),
        ("[shape]\ncap_symmetry = 7", "brief-unknown-word"),
        ("[shape]\nbays = 2", "shape-key"),
        ('[shape]\nfamily = "vault"\nprofile = "ellipse"', "shape-profile"),
        ('length = "9 m"\n[shape]\nfamily = "dome"', "shape-family"),
        ('[struts]\nstock = { material = "s235" }', "stock-section"),
        (
            '[struts]\nstock = { material = "s235", outside = "25 mm", wall = "14 mm" }',
            "stock-wall",
        ),
        ('[struts]\nstock = "EMT 1"', "brief-text"),
        ("[struts]\nbars = 3", "brief-wrong-type"),
        ("[struts]\nkerf = 0.002", "unit-missing"),
        (
            '[site]\nbasic_wind = { value = "400 m/s", basis = "10 min mean" }',
            "brief-out-of-bounds",
        ),
        ('[site]\nbasic_wind = { value = "24 m/s", basis = "3 s gust" }', "wind-basis"),
        ('[site]\nbasic_wind = { value = "24 m/s" }', "brief-missing-key"),
        ('[site]\nbasic_wind = "24 m/s"', "brief-wrong-type"),
        ('[site]\nground_snow = "-0.7 kN/m2"', "number-negative"),
        ('[site]\nground_snow = "31 kN/m2"', "brief-out-of-bounds"),
        ('[site]\nexposure = "C"', "site-exposure"),
        ('[site]\nconsequence = "II"', "site-consequence"),
        ("[site]\ntopography = nan", "brief-out-of-bounds"),
        ("[site]\ntopography = inf", "brief-out-of-bounds"),
        ('[site]\ntemperature = ["45 C", "-10 C"]', "brief-out-of-bounds"),
        ('[site]\nlevels = "../secret.csv"', "levels-path"),
        ('[site]\nlevels = "/etc/hosts"', "levels-path"),
        ('[loads]\nhung = "45 kg"', "unit-wrong-kind"),
        ('[cover]\nroll = "3 m"', "cover-material-missing"),
        ('[cover]\nmaterial="pc-10"\nroll="3 m"\nsheet=["2 m","6 m"]', "cover-roll-or-sheet"),
        ('[[openings]]\nkind = "slot"', "opening-size"),
        ('[[openings]]\nkind = "vent"', "opening-size"),
        (
            '[[openings]]\nkind="slot"\nwidth="1 m"\nfacing="upwards"',
            "brief-unknown-word",
        ),
        ("[openings]\nkind = 'door'", "brief-wrong-type"),
        ("[crew]\npeople = 2.5", "brief-wrong-type"),
        ("[crew]\npeople = true", "brief-wrong-type"),
        ("[crew]\npeople = 0", "brief-out-of-bounds"),
        ('[crew]\nplatform = "ladder"', "brief-unknown-word"),
        ('[price]\ncurrency = "euro"', "brief-text"),
        ("[price]\nhour = -1", "brief-out-of-bounds"),
        ("[price]\nhour = 1979-05-27", "brief-wrong-type"),
        ("[fruit]", "brief-unknown-key"),
    ],
)
def test_what_is_wrong_is_named(added, code):
    assert codes(LEAST + added + "\n") == {code}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('[size]\nwidth = "6 m"\n', "brief-missing-key"),
        ('[project]\nname = "x"\n', "brief-missing-key"),
        ('[project]\nname = "x"\n[size]\n', "size-missing"),
        ('[project]\nname = ""\n[size]\nwidth = "6 m"\n', "brief-text"),
        ('[project]\nname = 3\n[size]\nwidth = "6 m"\n', "brief-wrong-type"),
        ('project = 3\n[size]\nwidth = "6 m"\n', "brief-wrong-type"),
        ("", "brief-empty"),
        (" \n\n", "brief-empty"),
        ("[project\nname = 1", "brief-not-toml"),
        (LEAST + LEAST, "brief-not-toml"),
        ("a = " + "[" * 5000 + "]" * 5000, "brief-not-toml"),
        ("a = " + "9" * 5000, "brief-not-toml"),
        ("a\0b", "brief-not-text"),
    ],
)
def test_a_file_that_is_no_brief_is_refused(text, code):
    assert code in codes(text)


def test_a_slip_of_the_pen_in_toml_gives_its_line():
    with pytest.raises(InputError, match=r"house\.toml \(line 4\)"):
        parse_brief('[project]\nname = "x"\n[size]\nwidth = 6 m\n', "house.toml")


def test_files_that_cannot_be_a_brief(tmp_path):
    (tmp_path / "picture.toml").write_bytes(b"\x89PNG\r\n\x1a\n\xff\xfe")
    (tmp_path / "huge.toml").write_text("# " + "x" * 300_000)
    (tmp_path / "empty.toml").touch()
    os.mkfifo(tmp_path / "pipe.toml")
    expected = {
        ".": "brief-is-folder",
        "none.toml": "brief-not-found",
        "picture.toml": "brief-not-text",
        "huge.toml": "brief-too-large",
        "empty.toml": "brief-empty",
        "pipe.toml": "brief-unreadable",
        "a" * 300: "brief-unreadable",
    }
    for name, code in expected.items():
        with pytest.raises(InputError) as error:
            read_brief(tmp_path / name)
        assert error.value.code == code
        assert error.value.mend


def test_a_file_is_read_as_saved_by_other_editors(tmp_path):
    file = tmp_path / "house.toml"
    file.write_bytes(b"\xef\xbb\xbf" + LEAST.replace("\n", "\r\n").encode())
    brief = read_brief(file)
    assert brief.where("size.width") == "size.width (line 4)"
    assert brief.beside("levels.csv") == tmp_path / "levels.csv"
