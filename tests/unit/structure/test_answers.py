"""From load cases to forces along the struts."""

from types import SimpleNamespace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.catalogue import Source
from strutwright.loads import Combination, LoadCase
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.measure import node_lengths
from strutwright.structure.analyse import analyse
from strutwright.structure.answers import Setting, added, answer_cases
from strutwright.structure.model import make_model

BRIEF = """
[project]
name = "Test dome"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-1"
[hubs]
connector = "{connector}"
"""
TEST = Source("test")


def kit_with(connector):
    brief = parse_brief(BRIEF.format(connector=connector), "test.toml")
    return make_kit(make_shell(brief), brief)


def forces_of(kit, hubs, lines):
    case = LoadCase("load", "snow", hubs, lines, "season", TEST)
    combo = Combination("one", "factored", "STR", (("load", 1.0),), TEST)
    setting = Setting("staked", "en", 20.0)
    solved = answer_cases(kit, (case,), (combo,), setting).solved["gust"]
    shares = np.ones(len(solved.forces))
    forces, _, (moved,) = added(solved, shares[None])
    return SimpleNamespace(forces=forces, moved=moved)


def test_a_line_load_bends_a_hinged_strut():
    # Exact: w L2/8 in the middle of a strut hinged at both ends, of the part across it.
    kit = kit_with("flattened-bolt")
    shell = kit.shell
    strut = int(np.argmax(shell.hubs[shell.struts][:, :, 2].mean(axis=1)))
    lines = np.zeros((len(shell.struts), 3))
    lines[strut, 2] = -200.0
    found = forces_of(kit, np.zeros((len(shell.hubs), 3)), lines)
    along = np.diff(shell.hubs[shell.struts[strut]], axis=0)[0]
    length = node_lengths(shell)[strut]
    across = 200.0 * np.hypot(*along[:2]) / length
    assert found.forces.moment[strut].max() == pytest.approx(across * length**2 / 8, rel=1e-9)


def test_a_strut_is_sprung_at_both_ends():
    # The connector's least kL/EI on either side; closed form of the model's input.
    kit = kit_with("socket-pin")
    model = make_model(kit, "staked", duration="gust", temperature=20.0)
    stiff = model.frame.end_rotation[:, :, 1:]
    kappa = kit.connector.fixity[0]
    rigidity = kit.stock.material.modulus * kit.stock.section.inertia_z
    wanted = kappa * rigidity / node_lengths(kit.shell)
    plain = kit.shell.role != "tie"
    for end in (0, 1):
        for axis in (0, 1):
            assert stiff[plain, end, axis] == pytest.approx(wanted[plain])


def test_answers_keep_the_symmetry_of_the_dome():
    kit = kit_with("socket-pin")
    shell = kit.shell
    crown = int(np.argmax(shell.hubs[:, 2]))
    hubs = np.zeros((len(shell.hubs), 3))
    hubs[crown, 2] = -1000.0
    found = forces_of(kit, hubs, np.zeros((len(shell.struts), 3)))
    first = shell.struts[(shell.struts == crown).any(axis=1)]
    ring = np.setdiff1d(first.ravel(), [crown])
    sunk = found.moved[ring, 2]
    assert np.ptp(sunk) < 1e-9 * np.abs(found.moved).max()


@pytest.mark.parametrize("standard", ["en", "us"])
def test_many_combinations_at_once_are_used_as_one_by_one(standard):
    kit = kit_with("flattened-bolt")
    rng = np.random.default_rng(7)
    hubs = rng.normal(0.0, 300.0, (3, len(kit.shell.hubs), 3))
    lines = rng.normal(0.0, 60.0, (3, len(kit.shell.struts), 3))
    cases = tuple(
        LoadCase(
            name, *(("wind", h, line, "gust") if name == "c" else ("snow", h, line, "season")), TEST
        )
        for name, h, line in zip("abc", hubs, lines, strict=True)
    )
    mixed = [("a", 1.0), ("b", 1.0)], [("a", 0.5), ("c", -1.0)], [("b", 2.0)], [("c", 1.5)]
    combos = [
        Combination(f"{k}", "factored", "STR", tuple(factors), TEST)
        for k, factors in enumerate(mixed)
    ]
    setting = Setting("staked", standard, 20.0)
    answers = answer_cases(kit, cases, combos, setting)
    together = analyse(kit, answers, combos, setting)
    alone = [analyse(kit, answers, [combo], setting) for combo in combos]
    assert together.uses
    for k, use in enumerate(together.uses):
        each = np.stack([one.uses[k].worst for one in alone])
        assert use.worst == pytest.approx(each.max(axis=0))
        assert each[use.combination, np.arange(each.shape[1])] == pytest.approx(use.worst)
    for name in ("reactions", "displacements", "sag", "held"):
        rows = np.concatenate([getattr(one, name) for one in alone])
        assert getattr(together, name) == pytest.approx(rows)
