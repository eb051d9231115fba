"""The user's own table of wind coefficients for domes that are no hemispheres."""

import pytest

from strutwright.brief import read_brief
from strutwright.errors import InputError
from strutwright.loads.form import form_of
from strutwright.loads.wind import arc_row, wind_loads
from strutwright.shape import make_shell
from strutwright.structure.asked import load_site

BRIEF = """
[project]
name = "Low dome"
use = "greenhouse"
[size]
width = "6 m"
[shape]
family = "dome"
division = [3, 0]
truncation = "4/9"
[struts]
stock = "emt-1"
[hubs]
connector = "flattened-bolt-m8"
[site]
ground_snow = "0.7 kN/m2"
basic_wind = { value = "24 m/s", basis = "10 min mean" }
dome_table = "%s"
"""
HEAD = "f_over_d,h_over_d,A,B,C,source\n"


def brief(folder, table, name="dome_cp.csv"):
    (folder / "dome_cp.csv").write_text(table, encoding="utf-8")
    path = folder / "brief.toml"
    path.write_text(BRIEF % name, encoding="utf-8")
    return read_brief(path)


def test_the_named_table_gives_the_arcs_of_a_low_dome(tmp_path):
    # rows made up for the test: straight between them
    rows = "0.3,0,0.2,-0.8,-0.1,read off by hand\n0.5,0,0.8,-1.2,0,read off by hand\n"
    asked = brief(tmp_path, HEAD + rows)
    shell = make_shell(asked)
    form, site = form_of(shell), load_site(asked)
    row = arc_row(form, site)
    share = (form.rise / form.span - 0.3) / 0.2
    assert 0.1 < share < 0.9
    straight = 0.2 + 0.6 * share, -0.8 - 0.4 * share, -0.1 + 0.1 * share
    found = [row.A, row.B, row.C]
    assert found == pytest.approx(straight)
    loads = wind_loads(shell, form, site)
    assert not loads.not_checked
    assert any("read off by hand" in note.text for note in loads.notes)
    assert any("arcs" in case.name for case in loads.cases)


def test_without_a_row_the_wind_on_it_is_not_checked(tmp_path):
    asked = brief(tmp_path, HEAD + "0.2,0,-0.5,-0.7,-0.3,x\n")
    shell = make_shell(asked)
    loads = wind_loads(shell, form_of(shell), load_site(asked))
    assert [note.code for note in loads.not_checked] == ["dome-wind-no-table"]


@pytest.mark.parametrize(
    ("table", "word"),
    [("f,A\n", "no column"), (HEAD + "0.3,0,9,0,0,x\n", "not in"), (HEAD + "0.3,0,a,0,0,x\n", "a")],
)
def test_faults_of_the_table_name_the_file(tmp_path, table, word):
    with pytest.raises(InputError, match=word) as caught:
        load_site(brief(tmp_path, table))
    assert caught.value.problems[0].code == "dome-table"
    assert "dome_cp.csv" in caught.value.problems[0].where


def test_the_table_is_there_and_lies_beside_the_brief(tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        load_site(brief(tmp_path, HEAD, "another.csv"))
    with pytest.raises(InputError, match="does not lie beside"):
        brief(tmp_path, HEAD, "../dome_cp.csv")
