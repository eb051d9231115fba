import io

import ezdxf
import numpy as np
import pytest

from strutwright.brief import parse_brief, read_old_kit
from strutwright.errors import InputError

TRIANGLE = np.array([[0.0, 0, 0], [2, 0, 0], [0, 1.5, 0.5]])


def file(tmp_path, name, text):
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def sides(lines):
    return sorted(np.linalg.norm(lines[:, 0] - lines[:, 1], axis=1))


EXPECTED = sides(TRIANGLE[[[0, 1], [0, 2], [1, 2]]])


def test_lines_in_csv_with_units_and_without(tmp_path):
    own = "x1,y1,z1,x2,y2,z2\n0 m,0 m,0 m,2 m,0 m,0 m\n# remark\n\n0 m,0 m,0 m,0 m,1500 mm,50 cm\n"
    assert sides(read_old_kit(file(tmp_path, "a.csv", own)).lines) == pytest.approx(EXPECTED[:2])
    bare = "X1,Y1,Z1,X2,Y2,Z2\n0,0,0,2000,0,0\n0,0,0,0,1500,500.0\n2e3,0,0,0,1.5e3,500\n"
    found = read_old_kit(file(tmp_path, "b.csv", bare), unit="mm")
    assert sides(found.lines) == pytest.approx(EXPECTED)


def test_hubs_and_struts_in_csv(tmp_path):
    text = "hub,x,y,z\na,0 mm,0 mm,0 mm\nb,2000 mm,0 mm,0 mm\nc,0 mm,1500 mm,500 mm\n"
    text += "from,to\na,b\na,c\nb,c\n"
    found = read_old_kit(file(tmp_path, "a.csv", text))
    assert sides(found.lines) == pytest.approx(EXPECTED)
    assert found.lengths == ()


def test_negative_places_and_the_axis_that_points_up(tmp_path):
    text = "x1,y1,z1,x2,y2,z2\n-1,2,-3,1,-2,3\n"
    path = file(tmp_path, "a.csv", text)
    assert read_old_kit(path, unit="m").lines.tolist() == [[[-1, 2, -3], [1, -2, 3]]]
    assert read_old_kit(path, unit="m", up="y").lines.tolist() == [[[-1, 3, 2], [1, -3, -2]]]


def test_lengths_and_counts(tmp_path):
    found = read_old_kit(file(tmp_path, "a.csv", 'length,count\n47 1/4 in,30\n"1385 mm",35\n'))
    assert [n for _, n in found.lengths] == [30, 35]
    assert [x for x, _ in found.lengths] == pytest.approx([47.25 * 0.0254, 1.385])
    assert len(found.lines) == 0


@pytest.mark.parametrize(("units", "unit", "scale"), [(4, None, 0.001), (0, "in", 0.0254)])
def test_lines_and_polylines_of_a_drawing(tmp_path, units, unit, scale):
    drawing = ezdxf.new()
    drawing.header["$INSUNITS"] = units
    space = drawing.modelspace()
    space.add_line(TRIANGLE[0] / scale, TRIANGLE[1] / scale)
    space.add_polyline3d(TRIANGLE[[1, 2, 0]] / scale)
    space.add_circle((0, 0), 3)
    stream = io.StringIO()
    drawing.write(stream)
    found = read_old_kit(file(tmp_path, "a.dxf", stream.getvalue()), unit=unit)
    assert sides(found.lines) == pytest.approx(EXPECTED)


def test_lines_and_faces_of_an_obj_each_edge_once(tmp_path):
    text = "v 0 0 0\nv 2 0 0 # right\nv 0 1.5 0.5\nvt 0 0\nf 1/1 2/1 3/1\nl -1 -2\nl 1 2\n"
    found = read_old_kit(file(tmp_path, "a.obj", text), unit="m")
    assert sides(found.lines) == pytest.approx(EXPECTED)


BAD = {
    "no-such.csv": None,
    "a.txt": "x",
    "empty.csv": "",
    "head.csv": "x1,y1,z1,x2,y2,z2\n",
    "binary.csv": bytes(range(256)),
    "binary.obj": bytes(range(256)),
    "binary.dxf": bytes(range(256)),
    "empty.dxf": "",
    "empty.obj": "",
    "bare.obj": "v 1 2 3\n",
    "point.obj": "v 1 2\n",
    "beyond.obj": "v 1 m 2\nl 1 9\n",
    "nan.csv": "length,count\nnan,5\n",
    "inf.csv": "x1,y1,z1,x2,y2,z2\n1e400,0,0,0,0,0\n",
    "zero.csv": "length,count\n0 m,5\n",
    "count.csv": "length,count\n1 m,2.5\n",
    "mixed.csv": "length,count\n1 m,2\nhub,x,y,z\n1,0 m,0 m,0 m\n",
    "twice.csv": "hub,x,y,z\n1,0 m,0 m,0 m\n1,1 m,0 m,0 m\n",
    "dangling.csv": "hub,x,y,z\n1,0 m,0 m,0 m\nfrom,to\n1,2\n",
    "short.csv": "x1,y1,z1,x2,y2,z2\n1 m,2 m\n",
    "headless.csv": "1 m,2 m,3 m,4 m,5 m,6 m\n",
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_is_a_clear_error(tmp_path, name):
    path = tmp_path / name
    if BAD[name] is not None:
        file(tmp_path, name, BAD[name])
    unit = "m" if name in {"nan.csv", "inf.csv"} else None
    with pytest.raises(InputError) as caught:
        read_old_kit(path, unit=unit)
    codes = {"import-file", "import-empty", "import-row", "import-unit"}
    assert {problem.code for problem in caught.value.problems} <= codes | {"number-missing"}
    assert all(problem.mend and name in problem.where for problem in caught.value.problems)


def test_a_folder_is_no_file(tmp_path):
    (tmp_path / "kit.csv").mkdir()
    with pytest.raises(InputError, match="cannot be read"):
        read_old_kit(tmp_path / "kit.csv")


def test_every_bad_line_is_told_with_its_number(tmp_path):
    text = (
        "x1,y1,z1,x2,y2,z2\n1 m,0 m,0 m,x,0 m,0 m\n0 m,0 m,0 m,1 m,0 m,0 m\n3,0 m,0 m,1 m,0 m,0 m\n"
    )
    with pytest.raises(InputError) as caught:
        read_old_kit(file(tmp_path, "a.csv", text))
    assert [problem.where for problem in caught.value.problems] == [
        "a.csv (line 2)", "a.csv (line 4)",
    ]  # fmt: skip


def brief(shape, size=""):
    return parse_brief(f'[project]\nname = "Old"\n[size]\n{size}\n[shape]\n{shape}\n', "old.toml")


@pytest.mark.parametrize(
    ("shape", "code"),
    [
        ('family = "imported"', "import-file"),
        ('family = "imported"\nfile = "../kit.csv"', "import-file"),
        ('family = "imported"\nfile = "/kit.csv"', "import-file"),
        ('family = "imported"\nfile = "kit.csv"\ndivision = [2, 0]', "shape-key"),
        ('family = "imported"\nfile = "kit.csv"\nbays = 2', "shape-key"),
        ('family = "dome"\nfile = "kit.csv"', "shape-key"),
        ('family = "imported"\nfile = "kit.csv"\nunit = "furlong"', "brief-unknown-word"),
    ],
)
def test_keys_that_do_not_go_together_are_refused(shape, code):
    with pytest.raises(InputError) as caught:
        brief(shape, 'width = "5 m"')
    assert [problem.code for problem in caught.value.problems] == [code]


def test_an_old_kit_needs_no_size():
    wish = brief('family = "imported"\nfile = "kit.csv"\nunit = "mm"')
    assert (wish.shape.file, wish.shape.unit, wish.shape.join) == ("kit.csv", "mm", 0.005)
