import math

import pytest

from strutwright.catalogue import Source
from strutwright.structure import Check, Subject, governing, verdict

RULE = Source("a rule of this test", how="judgement")
STRUT = Subject("strut", 3)


def made(demand, capacity, *, required=True):
    return Check.made(
        "strut-bending", STRUT, demand, capacity, unit="Nm", source=RULE, required=required
    )


@pytest.mark.parametrize(
    ("demand", "capacity", "status"),
    [(0.5, 1, "pass"), (1, 1, "pass"), (1.0001, 1, "fail"), (1, 0, "fail"), (0, 0, "pass")],
)
def test_status_follows_from_the_numbers(demand, capacity, status):
    assert made(demand, capacity).status == status


@pytest.mark.parametrize(
    "change", [{"status": "pass", "demand": 2.0}, {"status": "fail"}, {"demand": math.nan}]
)
def test_a_status_that_does_not_follow_is_refused(change):
    fields = dict(vars(made(0.5, 1)), **change)
    with pytest.raises(ValueError, match="does not follow"):
        Check(**fields)


def test_a_check_not_made_says_why():
    with pytest.raises(ValueError, match="says why"):
        Check.not_made("strut-bending", STRUT, "", RULE)


def test_the_worst_required_check_governs():
    checks = [made(0.2, 1), made(0.9, 1), made(3, 1, required=False)]
    assert governing(checks) is checks[1]
    assert governing([]) is None


def test_verdicts():
    skipped = Check.not_made("strut-bending", STRUT, "no stiffness given", RULE)
    assert verdict([]) == "not checked"
    assert verdict([made(0.5, 1)]) == "passes"
    assert verdict([made(0.5, 1), skipped]) == "not checked"
    assert verdict([skipped, made(2, 1)]) == "fails"
    assert verdict([made(2, 1, required=False)]) == "not checked"
