import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.measure import node_lengths
from strutwright.shape.recognise import recognise

RNG_SEED = 7


def lines_of(shell, noise=0.0):
    lines = shell.hubs[shell.struts].copy()
    rng = np.random.default_rng(RNG_SEED)
    lines += rng.uniform(-noise, noise, lines.shape)
    order = rng.permutation(len(lines))
    lines = lines[order]
    turned = rng.random(len(lines)) < 0.5
    lines[turned] = lines[turned, ::-1]
    return lines


@pytest.fixture(scope="module")
def house():
    return dome(DomeSpec(radius=3.0, division=(4, 0)))


def test_a_drawn_dome_comes_back_whole(house):
    shell = shell_from_lines(lines_of(house) + np.array([10.0, -4, 1]))
    assert len(shell.hubs) == len(house.hubs)
    assert shell.struts.tolist() == house.struts.tolist()
    assert sorted(map(sorted, shell.faces.tolist())) == sorted(map(sorted, house.faces.tolist()))
    assert shell.hubs == pytest.approx(house.hubs, abs=1e-9)
    assert shell.course.tolist() == house.course.tolist()


def test_sloppy_ends_meet_within_the_tolerance(house):
    shell = shell_from_lines(lines_of(house, noise=0.001))
    assert len(shell.hubs) == len(house.hubs)
    assert np.sort(node_lengths(shell)) == pytest.approx(np.sort(node_lengths(house)), abs=0.003)
    assert shell.recipe.base == "level"


def test_an_inner_brace_is_no_face():
    house = dome(DomeSpec(radius=3.0, division=(4, 0)))
    ring = [h for h in range(len(house.hubs)) if abs(house.hubs[h, 1]) < 1e-9]
    ring.sort(key=lambda h: house.hubs[h, 0])
    brace = house.hubs[[ring[2], ring[4]]]
    shell = shell_from_lines(np.concatenate([lines_of(house), brace[None]]))
    assert (shell.role == "brace").sum() == 1
    assert len(shell.faces) == len(house.faces)


def test_a_line_drawn_twice_is_dropped_with_a_note(house):
    lines = lines_of(house)
    shell = shell_from_lines(np.concatenate([lines, lines[:1]]))
    assert [note.code for note in shell.recipe.notes] == ["import-lines-dropped"]


def broken(house, kind):
    lines = lines_of(house)
    if kind == "nothing":
        return lines[:0]
    if kind == "nan":
        lines[0, 0, 0] = np.nan
        return lines
    if kind == "open":
        return lines[:2]
    if kind == "two":
        return np.concatenate([lines, lines + np.array([20.0, 0, 0])])
    if kind == "fin":
        i, j = house.struts[100]
        tip = house.hubs[[i, j]].mean(axis=0) * 1.3
        fin = np.array([[house.hubs[i], tip], [house.hubs[j], tip]])
        return np.concatenate([lines, fin])
    return lines


@pytest.mark.parametrize(
    ("kind", "code"),
    [
        ("nothing", "import-empty"),
        ("nan", "import-empty"),
        ("open", "import-ends"),
        ("two", "import-not-a-shell"),
        ("fin", "import-not-a-shell"),
    ],
)
def test_lines_that_are_no_shell_are_refused(house, kind, code):
    with pytest.raises(InputError) as caught:
        shell_from_lines(broken(house, kind))
    assert caught.value.code == code


def types_of(spec, allowance):
    lengths = np.round(node_lengths(dome(spec)) - 2 * allowance, 4)
    return [
        (float(x), int(n)) for x, n in zip(*np.unique(lengths, return_counts=True), strict=True)
    ]


@pytest.mark.parametrize(
    ("spec", "allowance"),
    [
        (DomeSpec(radius=2.7, division=(4, 0)), 0.03),
        (DomeSpec(radius=4.0, division=(3, 0), truncation=5, level_base="none"), 0.025),
        (DomeSpec(radius=2.5, division=(2, 0)), 0.0),
        (DomeSpec(radius=5.0, seed="octahedron", division=(5, 0)), 0.04),
    ],
)
def test_lengths_and_numbers_tell_the_dome(spec, allowance):
    best = recognise(types_of(spec, allowance))[0]
    assert best.spec.seed == spec.seed
    assert best.spec.division == spec.division
    assert best.spec.radius == pytest.approx(spec.radius, rel=1e-3)
    assert best.allowance == pytest.approx(allowance, abs=1e-3)
    assert best.misfit < 1e-3


def test_lengths_of_no_dome_are_refused():
    with pytest.raises(InputError, match="recognise-nothing"):
        recognise([(1.0, 30), (2.0, 35)])
    with pytest.raises(InputError, match="recognise-lengths"):
        recognise([(-1.0, 3)])
