"""A file of workshop tests gives what the same readings in the brief give, or is refused."""

import pytest

from strutwright.brief import end_tests_of, parse_brief, parse_end_tests, read_brief
from strutwright.errors import InputError
from strutwright.parts.from_brief import brief_connector, brief_stock

BRIEF = """
[project]
name = "Tested"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[hubs]
connector = "socket-pin"
"""
LINES = """# five pulled, three bent, 14 May
kind,value,sample
pull,8.9 kN,1
pull,9.4 kN,2
pull,9.1 kN,3
bend,520 Nm/rad,4
bend,610 Nm/rad,5
bend,0.56 kNm/rad,6
slip,0.4 mm,1
"""


def connector_of(brief):
    return brief_connector(brief, brief_stock(brief)[0])


def codes(caught):
    return [problem.code for problem in caught.value.problems]


def test_readings_come_in_si_whatever_else_the_workshop_notes():
    found = parse_end_tests(LINES, "ends.csv")
    assert found.pull == (8900.0, 9400.0, 9100.0)
    assert found.bend == (520.0, 610.0, 560.0)
    assert found.slip == (0.0004,)
    assert found.push == found.offset == found.coupler == ()
    assert parse_end_tests("kind;value\npull;8,9 kN\n", "a.csv").pull == (8900.0,)


def test_a_file_counts_as_the_same_readings_in_the_brief(tmp_path):
    (tmp_path / "ends.csv").write_text(LINES.replace("slip,0.4 mm,1\n", ""))
    (tmp_path / "house.toml").write_text(BRIEF + 'test_file = "ends.csv"\n')
    written = (
        BRIEF
        + """
[[hubs.tests]]
pull = ["8.9 kN", "9.4 kN", "9.1 kN"]
bend = ["520 Nm/rad", "610 Nm/rad", "560 Nm/rad"]
"""
    )
    from_file = connector_of(read_brief(tmp_path / "house.toml"))
    from_brief = connector_of(parse_brief(written, "test.toml"))
    assert from_file == from_brief
    assert 0 < from_file.strength < 8900.0


def test_all_lines_that_are_wrong_are_told_at_once():
    wrong = "kind,value\npull,9 kN\ntwist,5 N\nbend,5 N\nslip,\npush,-3 kN\noffset,9 m\n"
    with pytest.raises(InputError) as caught:
        parse_end_tests(wrong, "ends.csv")
    assert codes(caught) == [
        "test-kind", "unit-wrong-kind", "test-file-form", "number-negative", "brief-out-of-bounds",
    ]  # fmt: skip
    assert [p.where for p in caught.value.problems] == [
        f"ends.csv (line {n})" for n in (3, 4, 5, 6, 7)
    ]


@pytest.mark.parametrize("text", ["", "kind,value\n", "what,much\npull,9 kN\n"])
def test_a_file_without_readings_is_refused(text):
    with pytest.raises(InputError) as caught:
        parse_end_tests(text, "ends.csv")
    assert codes(caught) == ["test-file-form"]


def test_a_file_that_is_not_there_or_lies_elsewhere_is_refused(tmp_path):
    (tmp_path / "house.toml").write_text(BRIEF + 'test_file = "ends.csv"\n')
    with pytest.raises(InputError) as caught:
        end_tests_of(read_brief(tmp_path / "house.toml"))
    assert codes(caught) == ["test-file-unreadable"]
    with pytest.raises(InputError) as caught:
        parse_brief(BRIEF + 'test_file = "../ends.csv"\n', "test.toml")
    assert codes(caught) == ["test-file-path"]


def test_too_few_samples_are_refused_as_in_the_brief(tmp_path):
    (tmp_path / "ends.csv").write_text(LINES)
    (tmp_path / "house.toml").write_text(BRIEF + 'test_file = "ends.csv"\n')
    with pytest.raises(InputError) as caught:
        connector_of(read_brief(tmp_path / "house.toml"))
    assert codes(caught) == ["samples-too-few"]
