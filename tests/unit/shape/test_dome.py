import numpy as np
import pytest

from strutwright.errors import InputError
from strutwright.shape import DomeSpec, Sizes, dome, measure
from strutwright.shape.courses import courses_kept
from strutwright.shape.sizing import measure_sizes


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"seed": "cube"}, "shape-seed"),
        ({"division": (0, 0)}, "shape-division"),
        ({"division": (1000, 0)}, "shape-division"),
        ({"division": (20, 5)}, "shape-division"),
        ({"division": (-1, 3)}, "shape-division"),
        ({"point_law": "guess"}, "shape-point-law"),
        ({"pose": "upside"}, "shape-pose"),
        ({"truncation": 0}, "shape-truncation"),
        ({"truncation": 6}, "shape-truncation"),
        ({"truncation": "3/2"}, "shape-truncation"),
        ({"truncation": "half"}, "shape-truncation"),
        ({"level_base": "flat"}, "shape-level-base"),
        ({"radius": 0.0}, "shape-radius"),
        ({"radius": float("nan")}, "shape-radius"),
        ({"radius": None}, "size-missing"),
        ({"radius": None, "sizes": Sizes(width=-1.0)}, "size-not-positive"),
    ],
)
def test_a_setting_that_cannot_be_built_is_refused(change, code):
    with pytest.raises(InputError) as caught:
        dome(DomeSpec(**change))
    assert caught.value.code == code
    assert caught.value.mend


def test_a_whole_levelling_against_symmetry_is_refused_with_the_spread():
    with pytest.raises(InputError, match=r"spread of 0\.0785") as caught:
        dome(DomeSpec(division=(2, 0), truncation=2, level_base="whole"))
    assert caught.value.code == "level-base-impossible"


def test_ring_levelling_moves_the_base_hubs_alone():
    rough = dome(DomeSpec(division=(4, 0), truncation=5, level_base="none"))
    flat = dome(DomeSpec(division=(4, 0), truncation=5, level_base="ring"))
    moved = np.linalg.norm(
        rough.hubs - rough.recipe.settings["sphere_centre"]
        - flat.hubs + flat.recipe.settings["sphere_centre"], axis=1
    )  # fmt: skip
    assert (np.flatnonzero(moved > 1e-12) < len(flat.base)).all()
    assert np.hypot(*flat.hubs[flat.base, :2].T) == pytest.approx(flat.hubs[0, 0])


def test_a_share_is_taken_to_the_nearest_course():
    assert courses_kept("1/2", 12) == (6, ())
    kept, notes = courses_kept("1/2", 9)
    assert kept == 5
    assert notes[0].code == "shape-truncation-rounded"
    assert courses_kept("4/9", 9) == (4, ())


@pytest.mark.parametrize("name", ["width", "rise", "floor_area", "longest_strut", "headroom"])
def test_any_one_size_gives_the_others_back(name):
    shell = dome(DomeSpec(2.7, division=(3, 0), truncation=5))
    found = measure_sizes(shell)
    wish = Sizes(**{name: getattr(found, name)})
    again = dome(DomeSpec(None, division=(3, 0), truncation=5, sizes=wish))
    assert again.recipe.radius == pytest.approx(2.7, rel=1e-5)


def test_sizes_that_disagree_are_named_with_their_numbers():
    with pytest.raises(
        InputError, match=r"width 6000 mm .* gives longest strut 1854 mm .*, but at most"
    ):
        dome(DomeSpec(None, sizes=Sizes(width=6.0, longest_strut=1.2)))
    with pytest.raises(
        InputError, match=r"width 6000 mm .* gives floor area 26\.5 m² .*, but floor area"
    ):
        dome(DomeSpec(None, sizes=Sizes(width=6.0, floor_area=30.0)))


def test_freedom_moves_the_size_to_keep_a_longest_strut():
    wish = Sizes(width=6.0, longest_strut=1.8, freedom=0.08)
    shell = dome(DomeSpec(None, sizes=wish))
    assert measure.node_lengths(shell).max() == pytest.approx(1.8)
    assert measure.width(shell) == pytest.approx(6.0 * 1.8 / 1.854102)
    assert shell.recipe.notes[-1].code == "size-moved"


def test_height_over_a_point_and_headroom_of_a_pyramid():
    shell = dome(DomeSpec(2.0, "octahedron", (1, 0)))
    heights = measure.height_at(shell, np.array([[0, 0], [1.0, 0], [0.5, 0.5], [1.5, 1.5]]))
    assert heights[:3] == pytest.approx([2.0, 1.0, 1.0])
    assert np.isnan(heights[3])
    assert measure.headroom_area(shell, 1.0) == pytest.approx(2.0)  # a quarter of 8 m²
    assert measure.headroom_area(shell, 0.0) == pytest.approx(8.0)
    (outline,) = measure.contours(shell, 1.0)
    assert sorted(map(tuple, np.round(outline, 9).tolist())) == [(-1, 0), (0, -1), (0, 1), (1, 0)]
    assert measure.headroom_area(shell, 2.5) == 0


def test_half_of_a_class_ii_dome_is_cut_by_height_and_levelled():
    shell = dome(DomeSpec(division=(3, 3), level_base="ring"))
    assert "shape-cut-by-height" in [note.code for note in shell.recipe.notes]
    assert shell.recipe.base == "level"
    assert shell.hubs[:, 2].max() == pytest.approx(1.0, abs=0.08)
    counted = dome(DomeSpec(division=(3, 3), truncation=8, level_base="none"))
    assert counted.recipe.settings["courses"] == 8


@pytest.mark.parametrize("seed", ["icosahedron", "octahedron", "tetrahedron"])
@pytest.mark.parametrize("pose", ["vertex", "edge", "face"])
@pytest.mark.parametrize("division", [(3, 0), (4, 0), (2, 2)])
def test_a_mirror_through_a_base_hub_is_the_xz_plane(seed, pose, division):
    def is_mirror(shell, azimuth):
        c, s = np.cos(2 * azimuth), np.sin(2 * azimuth)
        image = shell.hubs @ np.array([[c, s, 0], [s, -c, 0], [0, 0, 1]])
        return np.linalg.norm(shell.hubs[:, None] - image, axis=2).min(axis=1).max() < 1e-8

    for courses in (1, 2):
        try:
            spec = DomeSpec(1.0, seed, division, "flat", pose, courses, "none")
            shell = dome(spec)
        except InputError:
            continue
        azimuths = np.arctan2(shell.hubs[shell.base, 1], shell.hubs[shell.base, 0])
        assert is_mirror(shell, 0.0) == any(is_mirror(shell, a) for a in azimuths)
