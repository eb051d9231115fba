"""Every example brief gets the verdict that its job was written for."""

from pathlib import Path

import pytest

from strutwright.brief import read_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure import governing, verdict
from strutwright.structure.judge import judge
from strutwright.structure.uses import CLIMBING, SIGNED

EXAMPLES = Path(__file__).parents[2] / "examples"
BENDING = ("strut-section", "strut-buckling")
WANTED = {
    "mosswick-seedling-house": "passes",
    "mosswick-two-frequency": "fails",
    "long-ambery-tunnel": "fails",
    "long-ambery-steel": "passes",
    "dunmarrow-climber": "refused",
    "tallow-cross-stall": "passes",
    "upper-hollin-hall": "engineer to sign",
    "port-sarrow-cane-house": "engineer to sign",
    "corvane-observatory": "decided by the checks",
    "slantgarth-dome": "decided by the checks",
    "brannoch-hubs": "decided by the checks",
    "pellbrook-repair": "decided by the checks",
    "oldmere-old-dome": "decided by the checks",
}


def judged(name):
    brief = read_brief(EXAMPLES / f"{name}.toml")
    return judge(make_kit(make_shell(brief), brief), brief, limits=False).checks


def test_every_example_has_a_wanted_verdict():
    assert {path.stem for path in EXAMPLES.glob("*.toml")} == set(WANTED)


@pytest.mark.whole
@pytest.mark.parametrize("name", WANTED)
def test_example_gets_its_verdict(name):
    checks, wanted = judged(name), WANTED[name]
    decides = governing(checks)
    assert decides is not None
    assert all(c.note for c in checks if c.status == "not_checked")
    codes = {c.code for c in checks}
    if wanted == "refused":
        assert CLIMBING in codes
    assert (SIGNED in codes) == (wanted == "engineer to sign")
    if wanted == "passes":
        assert verdict(checks) == "passes"
    elif wanted == "decided by the checks":
        assert decides.utilisation is not None
    else:
        assert verdict(checks) != "passes"


@pytest.mark.whole
@pytest.mark.parametrize("name", ["mosswick-two-frequency", "long-ambery-tunnel"])
def test_long_thin_struts_fail_by_bending_between_hubs(name):
    worst = governing(judged(name))
    assert worst.code in BENDING
    assert 1.5 < worst.utilisation < 1000
