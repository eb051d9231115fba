"""Every code that the program can say has its page."""

import re
from pathlib import Path

from strutwright.cli.explain import codes

PACKAGE = Path(__file__).parents[2] / "src" / "strutwright"
SAID = re.compile(
    r"(?:InputError|ResultError|MechanismError|Problem|Note|Check\.made|Check\.not_made|Refusal"
    r"|MemberUse)\(\s*\"([a-z0-9-]+)\"",
    re.S,
)


def test_every_code_said_has_a_page():
    said = {
        code
        for path in PACKAGE.rglob("*.py")
        for code in SAID.findall(path.read_text(encoding="utf-8"))
    }
    assert len(said) > 100
    assert said - set(codes()) == set()


def test_pages_stand_once_and_in_order():
    text = (PACKAGE / "codes.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (.+)$", text, re.M)
    assert heads == sorted(set(heads))
