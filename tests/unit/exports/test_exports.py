import csv
import importlib.util
import io
import os
import subprocess
import sys
import time
from pathlib import Path

import ezdxf
import numpy as np
import openpyxl
import pytest
import trimesh

from strutwright.errors import InputError
from strutwright.exports import (
    FORMATS,
    Order,
    Table,
    csv_bytes,
    cut_plan_csv,
    export,
    label_of,
    parts_csv,
    parts_xlsx,
    shell_dxf,
    shell_glb,
)

HERE = Path(__file__).parent
spec = importlib.util.spec_from_file_location("kits", HERE / "kits.py")
kits = importlib.util.module_from_spec(spec)
sys.modules["kits"] = kits
spec.loader.exec_module(kits)


@pytest.fixture(scope="module")
def kit():
    return kits.kit_of(2)


def rows(data):
    return list(csv.reader(io.StringIO(data.decode("utf8"), newline="")))


@pytest.mark.parametrize(("unit", "code", "factor"), [("m", 6, 1), ("mm", 4, 1000)])
def test_dxf_holds_every_strut_on_the_layer_of_its_type(kit, unit, code, factor):
    document = ezdxf.read(io.StringIO(shell_dxf(kit.shell, label_of(kit), unit=unit).decode()))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.units == code
    lines = document.modelspace().query("LINE")
    assert len(lines) == len(kit.shell.struts)
    for kind in kit.strut_types:
        mine = [line for line in lines if line.dxf.layer == f"STRUT-{kind.label}"]
        assert len(mine) == kind.quantity
        for line in mine:
            length = line.dxf.start.distance(line.dxf.end)
            assert length == pytest.approx(kind.node_length * factor, abs=1e-6 * factor)
    numbers = document.modelspace().query("TEXT")
    for text in numbers:
        hub = kit.shell.hubs[int(text.dxf.text)]
        assert tuple(text.dxf.insert) == pytest.approx(tuple(hub * factor))
    assert len(numbers) == len(kit.shell.hubs)


def test_dxf_refuses_a_unit_it_does_not_know(kit):
    with pytest.raises(InputError, match="dxf-unit"):
        shell_dxf(kit.shell, label_of(kit), unit="ft")


def loaded(kit):
    data = shell_glb(kit.shell, label_of(kit), 0.023, kit.allowances)
    return trimesh.load(io.BytesIO(data), file_type="glb")


def test_glb_has_a_watertight_mesh_for_each_strut_type_and_the_hubs(kit):
    scene = loaded(kit)
    assert set(scene.geometry) == {*(f"strut {k.label}" for k in kit.strut_types), "hubs"}
    for mesh in scene.geometry.values():
        assert mesh.is_watertight
        assert mesh.volume > 0


def test_struts_in_glb_have_their_true_diameter_and_cut_length(kit):
    scene = loaded(kit)
    # A bar of 12 sides has the area of a regular 12-gon: 3 r^2 (exact).
    for kind in kit.strut_types:
        volume = scene.geometry[f"strut {kind.label}"].volume
        want = 3 * 0.0115**2 * kind.cut_length * kind.quantity
        assert volume == pytest.approx(want, rel=1e-4)  # single precision in the file
        bodies = scene.geometry[f"strut {kind.label}"].split()
        assert len(bodies) == kind.quantity


def test_glb_stands_upright_with_y_up_and_is_not_mirrored(kit):
    hubs = loaded(kit).geometry["hubs"].split()
    centres = np.array([ball.centroid for ball in hubs])
    want = kit.shell.hubs
    found = np.stack([centres[:, 0], -centres[:, 2], centres[:, 1]], axis=1)
    for hub in want:
        assert np.linalg.norm(found - hub, axis=1).min() < 1e-5
    assert centres[:, 1].min() > -1e-5


def test_parts_csv_sums_to_the_shell(kit):
    head, *body = rows(parts_csv(kit))
    assert "cut length (m)" in head
    struts = [dict(zip(head, row, strict=True)) for row in body if row[0] == "strut"]
    hubs = [dict(zip(head, row, strict=True)) for row in body if row[0] == "hub"]
    assert sum(int(row["quantity"]) for row in struts) == len(kit.shell.struts)
    assert sum(int(row["quantity"]) for row in hubs) == len(kit.shell.hubs)
    for row, kind in zip(struts, kit.strut_types, strict=True):
        assert float(row["cut length (m)"]) == pytest.approx(kind.cut_length, abs=1e-6)
        assert row["cut length"].endswith("mm")
    assert body[-1][1:3] == ["bolt M8 x 60", "26"]


def test_parts_csv_shows_feet_and_inches_when_asked(kit):
    head, *body = rows(parts_csv(kit, "imperial"))
    shown = body[0][head.index("cut length")]
    assert "'" in shown
    assert '"' in shown


def test_cells_with_commas_and_quotes_come_back_whole():
    table = Table("x", ("a", "b"), (("7' 10 1/2\"", "a, b"), (None, 0.5)))
    assert rows(csv_bytes(table)) == [["a", "b"], ["7' 10 1/2\"", "a, b"], ["", "0.500000"]]


def test_cut_plan_runs_bar_by_bar_and_ends_in_the_offcut():
    head, *body = rows(cut_plan_csv(kits.BARS))
    assert [(row[0], row[4]) for row in body] == [
        ("1", "A"), ("1", "B"), ("1", "offcut"), ("2", "A"), ("2", "offcut"),
    ]  # fmt: skip
    assert body[2][head.index("length (m)")] == "0.044000"


def test_the_spreadsheet_reads_back_with_numbers_as_numbers(kit):
    data = parts_xlsx(kit, kits.BARS, remark="NOT CHECKED")
    book = openpyxl.load_workbook(io.BytesIO(data))
    assert book.sheetnames == [
        "strut types",
        "struts",
        "hub types",
        "hubs",
        "fasteners",
        "cut plan",
    ]
    kinds = list(book["strut types"].iter_rows(values_only=True))
    column = kinds[0].index("cut length (m)")
    assert [row[column] for row in kinds[1:]] == pytest.approx(
        [kind.cut_length for kind in kit.strut_types]
    )
    assert book["struts"].max_row == 1 + len(kit.shell.struts)
    assert book["hubs"].max_row == 1 + len(kit.shell.hubs)
    assert book["hubs"].oddFooter.left.text == "NOT CHECKED"
    places = list(book["hubs"].iter_rows(min_row=2, values_only=True))
    assert np.array([row[3:] for row in places], dtype=float) == pytest.approx(kit.shell.hubs)


def test_without_a_cutting_plan_there_is_no_file_and_no_sheet_of_it(kit):
    assert "cut-plan.csv" not in export(Order(kit))
    book = openpyxl.load_workbook(io.BytesIO(parts_xlsx(kit)))
    assert "cut plan" not in book.sheetnames


def test_the_same_kit_gives_the_same_bytes_later(kit):
    first = export(Order(kit, kits.BARS))
    assert sorted(first) == sorted(FORMATS)
    time.sleep(2.1)  # past the two seconds that a zip archive counts
    assert export(Order(kit, kits.BARS)) == first


def test_the_same_kit_gives_the_same_bytes_in_another_process():
    code = (
        "import sys, hashlib; sys.path.insert(0, sys.argv[1]); import kits;"
        "from strutwright.exports import *;"
        "files = export(Order(kits.kit_of(2), kits.BARS));"
        "print({name: hashlib.sha256(data).hexdigest() for name, data in files.items()})"
    )
    shown = set()
    for seed in ("1", "4"):
        done = subprocess.run(
            [sys.executable, "-c", code, str(HERE)],
            capture_output=True,
            check=True,
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
        )
        shown.add(done.stdout)
    assert len(shown) == 1
