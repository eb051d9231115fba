import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.exports.shell_dxf import shell_dxf
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.measure import node_lengths
from strutwright.shape.outer import measures
from strutwright.shape.stretch import LongDomeSpec, long_dome


def brief(tmp_path, name, more="", size=""):
    shape = f'family = "imported"\nfile = "{name}"\n{more}\n'
    text = f'[project]\nname = "Old"\n[size]\n{size}\n[shape]\n{shape}'
    return parse_brief(text, str(tmp_path / "old.toml"))


def write_csv(path, shell, step=1e-3):
    places = np.round(shell.hubs / step).astype(int)
    rows = ["hub,x,y,z", *(f"{k},{x},{y},{z}" for k, (x, y, z) in enumerate(places))]
    rows += ["from,to", *(f"{i},{j}" for i, j in shell.struts)]
    path.write_text("\n".join(rows) + "\n")


@pytest.mark.parametrize(
    ("division", "types"),
    [
        ((2, 0), [35, 30]),
        ((3, 0), None),
        ((2, 1), None),
        # two lengths 1.8 mm apart cannot be told from places to the millimetre: 30 + 60
        ((4, 0), [30, 70, 30, 90, 30]),
    ],
)
def test_an_old_dome_measured_to_the_millimetre_becomes_a_kit_again(tmp_path, division, types):
    level = "ring" if division == (2, 1) else "whole"
    was = dome(DomeSpec(radius=2.6, division=division, level_base=level))
    write_csv(tmp_path / "kit.csv", was)
    wish = brief(tmp_path, "kit.csv", 'unit = "mm"')
    shell = make_shell(wish)
    assert (len(shell.hubs), len(shell.faces)) == (len(was.hubs), len(was.faces))
    own, old = np.sort(node_lengths(shell)), np.sort(node_lengths(was))
    assert own == pytest.approx(old, abs=2e-3)
    assert measures(shell).width == pytest.approx(measures(was).width, abs=3e-3)
    kit = make_kit(shell, wish)
    if types:
        assert [t.quantity for t in kit.strut_types] == types
    for kind in kit.strut_types:
        assert np.ptp(node_lengths(shell)[kind.struts]) <= 5e-3


def test_a_kit_of_our_own_comes_back_from_its_drawing(tmp_path):
    was = dome(DomeSpec(radius=2.0, division=(3, 0), truncation=4, level_base="whole"))
    (tmp_path / "shell.dxf").write_bytes(shell_dxf(was, np.full(len(was.struts), "A")))
    shell = make_shell(brief(tmp_path, "shell.dxf"))
    assert np.sort(node_lengths(shell)) == pytest.approx(np.sort(node_lengths(was)), abs=1e-6)
    assert "import-read" in [note.code for note in shell.recipe.notes]


def test_a_long_kit_is_turned_so_that_its_length_lies_along_x():
    was = long_dome(LongDomeSpec(width=4.0, bays=3))
    turn = np.radians(35.0)
    lines = was.hubs[was.struts].copy()
    lines[..., :2] = lines[..., :2] @ np.array(
        [[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]
    )
    shell = shell_from_lines(lines + np.array([3.0, -2.0, 0.7]))
    assert measures(shell).width == pytest.approx(4.0)
    assert measures(shell).length == pytest.approx(measures(was).length)
    (note,) = [n for n in shell.recipe.notes if n.code == "import-turned"]
    assert "-35.0°" in note.text


def test_an_odd_ring_is_centred_on_its_circle():
    was = dome(DomeSpec(radius=2.0, division=(1, 0), truncation=1, level_base="none"))
    shell = shell_from_lines(was.hubs[was.struts] + [5.0, 1.0, 0.0])
    reach = np.hypot(*shell.hubs[shell.base, :2].T)
    assert len(reach) == 5
    assert np.ptp(reach) < 1e-9
    assert measures(shell).width == pytest.approx(measures(was).width)


def test_a_bundle_of_struts_is_recognised_and_built(tmp_path):
    was = dome(DomeSpec(radius=2.6, division=(3, 0), truncation=4, level_base="none"))
    sizes, counts = np.unique(np.round(node_lengths(was) - 0.036, 4), return_counts=True)
    rows = [f"{length:.4f} m,{n}" for length, n in zip(sizes, counts, strict=True)]
    (tmp_path / "bundle.csv").write_text("length,count\n" + "\n".join(rows) + "\n")
    shell = make_shell(brief(tmp_path, "bundle.csv"))
    assert shell.recipe.family == "dome"
    assert len(shell.struts) == len(was.struts)
    assert np.sort(node_lengths(shell)) == pytest.approx(np.sort(node_lengths(was)), abs=1e-3)
    (note,) = [n for n in shell.recipe.notes if n.code == "import-recognised"]
    assert "division [3, 0]" in note.text
    assert "18 mm an end" in note.text


def test_a_bundle_that_is_no_dome_is_refused_with_its_file(tmp_path):
    (tmp_path / "bundle.csv").write_text("length,count\n1 m,7\n2 m,3\n")
    with pytest.raises(InputError) as caught:
        make_shell(brief(tmp_path, "bundle.csv"))
    assert caught.value.code == "recognise-nothing"
    assert "bundle.csv" in caught.value.where


def test_a_size_that_the_old_kit_has_not_is_refused(tmp_path):
    write_csv(tmp_path / "kit.csv", dome(DomeSpec(radius=2.6, division=(2, 0))))
    assert make_shell(brief(tmp_path, "kit.csv", 'unit = "mm"', 'width = "5.2 m"'))
    with pytest.raises(InputError, match=r"width 5200 mm .*, but 6000 mm") as caught:
        make_shell(brief(tmp_path, "kit.csv", 'unit = "mm"', 'width = "6 m"'))
    assert caught.value.code == "size-contradiction"


def test_lines_that_are_no_shell_are_refused_with_their_file(tmp_path):
    (tmp_path / "kit.csv").write_text("x1,y1,z1,x2,y2,z2\n0 m,0 m,0 m,1 m,0 m,0 m\n")
    with pytest.raises(InputError) as caught:
        make_shell(brief(tmp_path, "kit.csv"))
    assert caught.value.code == "import-ends"
    assert "kit.csv" in caught.value.where
