import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.errors import ResultError
from strutwright.frame import factor
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.rigidity import count_mechanisms
from strutwright.shape.riser import feet_of
from strutwright.structure.model import make_model
from strutwright.structure.movement import extra_struts, mechanism_check, movement_words

BRIEF = """
[project]
name = "Test dome"
[size]
width = "8.0 m"
[shape]
family = "dome"
division = [4, 0]
[struts]
stock = "emt-1"
[hubs]
connector = "flattened-bolt"
[[openings]]
kind = "door"
width = "0.9 m"
height = "1.9 m"
facing = "south"
"""


@pytest.fixture(scope="module")
def shell():
    """Return a dome whose door jamb is loose, as doors stood before posts and strips held them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "strutwright.shape.corridor._loose_cost",
            lambda _, outer, inner: np.zeros((len(outer), len(inner))),
        )
        patch.setattr("strutwright.shape.openings.steadied", lambda _before, after, *_: after)
        return make_shell(parse_brief(BRIEF, "test.toml"))


def mechanisms(shell, struts):
    fixed = np.zeros((len(shell.hubs), 3), dtype=bool)
    fixed[feet_of(shell)] = True
    return count_mechanisms(shell.hubs, struts, fixed).mechanisms


def test_extra_struts_hold_a_shell_whose_door_jamb_is_loose(shell):
    assert mechanisms(shell, shell.struts) > 0
    more = extra_struts(shell)
    assert more
    assert mechanisms(shell, np.vstack([shell.struts, more])) == 0


def test_no_extra_strut_bars_the_door(shell):
    frame = set(shell.groups["hubs.door_1.frame"].tolist())
    for i, j in extra_struts(shell):
        assert not {i, j} <= frame


def test_a_loose_hub_is_named_with_its_door_and_its_mend(shell):
    brief = parse_brief(BRIEF, "test.toml")
    model = make_model(make_kit(shell, brief), "staked", duration="gust", temperature=20.0)
    with pytest.raises(ResultError) as caught:
        factor(model.frame)
    check = mechanism_check(shell, caught.value, joints="stiffer joints")
    assert check.status == "fail"
    assert "in the frame of door_1 can move sideways" in check.note
    assert "lie in one plane" in check.note
    assert "a strut more from hub" in check.note
    assert "stiffer joints" in check.note


def test_a_spreading_base_is_said_in_words():
    brief = parse_brief(
        BRIEF.replace('"dome"', '"long-dome"')
        .replace("division = [4, 0]", 'division = [1, 1]\ncap_symmetry = 6\nbays = 3')
        .replace('width = "8.0 m"', 'width = "5.0 m"\nlength = "11.0 m"')
        .split("[[openings]]")[0],
        "test.toml",
    )  # fmt: skip
    shell = make_shell(brief)
    mode = np.zeros((len(shell.hubs), 3))
    x, y = shell.hubs[:, 0], shell.hubs[:, 1]
    mode[:, 1] = np.sign(y) * np.cos(np.pi * x / 11.0) * (shell.hubs[:, 2] < 0.1)
    words = movement_words(shell, mode)
    assert words == "the base can spread at mid-length: stake it or add braces"
    mode[:, 1] = 1.0
    assert movement_words(shell, mode) == "the base can slide as a whole: stake it or lay ballast"
