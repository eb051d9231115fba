"""Labels: one for each piece and hub, within its place on the sheet; pages at their true size."""

import io

import pypdf
import pytest
import segno

from strutwright.brief import parse_brief
from strutwright.catalogue import label_sheet, label_sheet_ids
from strutwright.design import kit_number
from strutwright.documents import build_labels
from strutwright.documents.full_size import check_bar
from strutwright.documents.labels import label_pages
from strutwright.drawing import PAPERS, Line, Polygon, Text, extent
from strutwright.parts import make_kit
from strutwright.shape import make_shell

TEXT = """
[project]
name = "Label dome"
[size]
width = "4 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""


@pytest.fixture(scope="module")
def made():
    brief = parse_brief(TEXT, "label-dome.toml")
    return make_kit(make_shell(brief), brief), brief


@pytest.mark.parametrize("name", label_sheet_ids())
def test_every_piece_and_hub_has_a_label_in_its_place(made, name):
    kit, brief = made
    sheet = label_sheet(name)
    pages = label_pages(kit, brief, sheet, skip=5)
    wanted = {p.label: p.quantity for kind in kit.strut_types for p in kind.pieces}
    wanted |= {hub.label: hub.quantity for hub in kit.hub_types}
    said = [m.text for page in pages for m in page.marks if isinstance(m, Text) and m.bold]
    assert {label: said.count(label) for label in set(said)} == wanted
    width, height = PAPERS[sheet.paper]
    for page in pages:
        assert (page.width, page.height) == (width, height)
        left, low, right, top = extent(page.marks)
        assert 0 < left < right < width
        assert 0 < low < top < height
    # the first five places stay empty: nothing lies left of the sixth in its row, or above it
    first = 1000 * sheet.corner(5)[1]
    assert extent(pages[0].marks)[3] < height - first


@pytest.mark.parametrize("name", label_sheet_ids())
def test_the_last_label_lies_on_the_paper(name):
    sheet = label_sheet(name)
    left, top = sheet.corner(sheet.rows * sheet.columns - 1)
    width, height = PAPERS[sheet.paper]
    assert 1000 * (left + sheet.width) <= width + 1e-6
    assert 1000 * (top + sheet.height) <= height + 1e-6
    assert sheet.across >= sheet.width
    assert sheet.down >= sheet.height


def test_the_code_has_the_modules_of_its_identity(made):
    kit, brief = made
    page = label_pages(kit, brief, label_sheet("a4-2x7"))[0]
    label = kit.strut_types[0].pieces[0].label
    rows = segno.make(f"{kit_number(brief)}/{label}", error="m", micro=False).matrix
    runs = [m.points for m in page.marks if isinstance(m, Polygon) and m.layer == "code"]
    left = min(points[0][0] for points in runs)
    top = max(points[2][1] for points in runs)
    unit = min(points[1][0] - points[0][0] for points in runs)
    n = len(rows)
    read = [[0] * n for _ in rows]
    for (start, _), (end, _), (_, high), _ in runs:
        row, column = round((top - high) / unit), round((start - left) / unit)
        if row < n and column < n:  # of the first label; the others lie beyond
            for k in range(column, column + round((end - start) / unit)):
                read[row][k] = 1
    assert read == [list(row) for row in rows]


def test_labels_that_are_alike_are_drawn_once(made):
    kit, brief = made
    pages = label_pages(kit, brief, label_sheet("a4-2x7"))
    drawn = {id(sheet) for page in pages for sheet, _ in page.placed}
    assert len(drawn) == len(kit.strut_types) + len(kit.hub_types)
    assert sum(len(page.placed) for page in pages) == len(kit.shell.struts) + len(kit.shell.hubs)


def test_pages_have_the_size_of_their_paper(made):
    kit, brief = made
    for name in ("a4-3x8", "letter-2x5"):
        sheet = label_sheet(name)
        pdf = pypdf.PdfReader(io.BytesIO(build_labels(kit, brief, sheet)))
        box = pdf.pages[0].mediabox
        millimetres = (float(box.width) * 25.4 / 72, float(box.height) * 25.4 / 72)
        assert millimetres == pytest.approx(PAPERS[sheet.paper], abs=0.02)


def test_the_check_bar_is_as_long_as_it_says():
    long = [m for m in check_bar((7.0, 9.0), "measure") if isinstance(m, Line)]
    lengths = sorted({round(abs(m.end[0] - m.start[0]), 6) for m in long})
    assert lengths == [0.0, 100.0, 101.6]
