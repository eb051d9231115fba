"""What every check of a kit tells, field by field, and which checks no judged kit may lack."""

import math
from importlib.resources import files
from pathlib import Path

import pytest

from strutwright.brief import read_brief
from strutwright.design import run
from strutwright.structure import Check

EXAMPLES = Path(__file__).parents[2] / "examples"
KITS = ("tallow-cross-stall", "mosswick-two-frequency", "brannoch-hubs")
ALWAYS = {
    "strut-section", "strut-buckling", "shell-stability", "hung-capacity", "strut-loss",
    "base-anchors", "hub-movement", "strut-sag",
}  # fmt: skip
OF_ENDS = {"flat-end-bending", "joint-strength", "bolt-shear"}
STRENGTH = {"strut-section", "strut-buckling", "joint-strength", "flat-end-bending", "bolt-shear"}
UNITS = {"N", "Nm", "m", "-", "N/m", "kg"}
PAGES = (files("strutwright") / "codes.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module", params=KITS)
def design(request):
    return run(read_brief(EXAMPLES / f"{request.param}.toml"))


def test_no_check_is_silently_absent(design):
    codes = {check.code for check in design.checks}
    assert sorted(ALWAYS - codes) == []
    assert codes & OF_ENDS
    if any(kind.coupler_at for kind in design.kit.strut_types):
        assert "coupler-strength" in codes


def test_every_check_tells_what_it_is_and_where_it_comes_from(design):
    for check in design.checks:
        assert f"\n## {check.code}\n" in PAGES, check.code
        assert check.unit in UNITS, check
        assert str(check.source).strip(), check
        assert str(check.subject), check
        if check.status == "not_checked":
            assert check.note.strip(), check


def test_every_number_follows_from_demand_and_capacity(design):
    for check in design.checks:
        if check.status == "not_checked":
            assert check.utilisation is None or check.note
            continue
        assert check.demand is not None
        assert check.capacity is not None
        want = check.demand / check.capacity if check.capacity else math.inf
        assert check.utilisation == pytest.approx(want) or check.demand == 0.0
        assert (check.utilisation <= 1.0) == (check.status == "pass"), check


def test_strength_says_its_format_and_keeps_to_that_of_its_combination(design):
    formats = {one.name: one.format for one in design.judgement.strength.combinations}
    made = [c for c in design.checks if c.code in STRENGTH and c.status != "not_checked"]
    assert any(check.combination in formats for check in made)
    for check in made:
        assert check.format in {"factored", "allowable"}, check
        assert formats.get(check.combination, check.format) == check.format, check


def test_a_check_with_numbers_that_do_not_fit_cannot_be_made(design):
    check = next(c for c in design.checks if c.status == "pass")
    with pytest.raises(ValueError, match="does not follow"):
        Check(
            check.code, check.subject, 2.0, 1.0, check.unit, check.combination, check.format,
            check.source, check.required, "pass",
        )  # fmt: skip
