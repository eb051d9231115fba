"""`inner_braces = "auto"`: where the usual braces fail, the loop takes the least that passes."""

import pytest

from strutwright.brief import parse_brief
from strutwright.design import mend as mend_module
from strutwright.design import mended, run
from strutwright.structure import verdict

pytestmark = pytest.mark.whole
BRIEF = """
[project]
name = "T"
use = "store"
[size]
width = "5.0 m"
length = "10.4 m"
[shape]
family = "long-dome"
division = [1, 1]
cap_symmetry = 6
rows = "along"
bays = 3
inner_braces = "auto"
[struts]
stock = "steel-38x1.5"
bars = [{ length = "6 m", price = 20.0 }]
[hubs]
connector = "socket-pin"
[[hubs.tests]]
pull = ["40 kN", "41 kN", "42 kN"]
push = ["40 kN", "41 kN", "42 kN"]
bend = ["5 Nm/rad", "5 Nm/rad", "5 Nm/rad"]
slip = ["0.4 mm", "0.5 mm", "0.4 mm"]
coupler = ["20 kNm/rad", "20 kNm/rad", "20 kNm/rad"]
coupler_bend = ["2.0 kNm", "2.1 kNm", "2.2 kNm"]
coupler_pull = ["40 kN", "41 kN", "42 kN"]
[delivery]
carrier = "freight"
[loads]
hung = "445 N"
[price]
hour = 30.0
[cover]
material = "pe-film-200"
[site]
base = "anchored"
ground_snow = "1.25 kN/m2"
basic_wind = { value = "10 m/s", basis = "10 min mean" }
"""


@pytest.fixture(scope="module")
def usual():
    return run(parse_brief(BRIEF, "test.toml"))


@pytest.fixture(scope="module")
def chosen(usual):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(mend_module, "TRIALS", 2)  # the braces come first
        return mended(usual)


def braces(design):
    return int((design.shell.role == "brace").sum())


def test_the_usual_braces_fail_and_more_pass(usual, chosen):
    assert verdict(usual.judgement.checks) == "fails"
    assert verdict(chosen.judgement.checks) == "passes"
    assert braces(chosen) > braces(usual) > 0
    notes = {note.code: note.text for note in chosen.notes}
    assert "every rib" in notes["braces-chosen"]
    assert "braces-usual" not in notes


def test_the_table_tells_mass_and_price_of_what_was_chosen(usual, chosen):
    best, *others = chosen.mends
    assert best.passes
    assert not any(mend.passes for mend in others)
    assert best.mass == pytest.approx(chosen.kit.mass)
    assert best.price == pytest.approx(float(chosen.price.total), rel=0.02)
    assert best.price > float(usual.price.total)
    # Fewer braces are fewer metres, and are priced though they fail.
    fewer = next(mend for mend in others if mend.change == "no inner braces")
    assert fewer.price < float(usual.price.total)
