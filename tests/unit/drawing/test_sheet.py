import math
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont  # ezdxf brings it

import strutwright
from strutwright.drawing import (
    POINT,
    SMALLEST_TEXT,
    Arc,
    Circle,
    Line,
    Pen,
    Polygon,
    Polyline,
    Sheet,
    Text,
    TitleBlock,
    extent,
    frame_box,
    moved,
    page,
    paper,
    svg,
    text_corners,
    text_width,
)
from strutwright.errors import InputError

FONTS = Path(strutwright.__file__).parent / "documents" / "fonts"
MARKS = (
    Line((10, 10), (20, 10), Pen(dash=(2, 1))),
    Polyline(((1, 1), (2, 5), (3, 1))),
    Polygon(((0, 0), (5, 0), (5, 5)), fill="#b28d1b"),
    Circle((30, 30), 4, pen=Pen(0.5)),
    Arc((50, 50), 10, 0.0, math.pi / 2),
    Text((5, 40), "A <& 3", halo=0.4, level="middle"),
)


def tags(sheet):
    return [element.tag.split("}")[1] for element in ET.fromstring(svg(sheet))]


def test_a_sheet_becomes_svg_in_millimetres_with_its_words():
    sheet = Sheet(100, 80, MARKS, "Plan", "A plan of marks.")
    root = ET.fromstring(svg(sheet))
    assert (root.get("width"), root.get("viewBox")) == ("100mm", "0 0 100 80")
    assert tags(sheet) == [
        *("title", "desc", "line", "polyline", "polygon", "circle", "path"),
        *("polygon", "text"),  # white behind the letters, then the letters
    ]
    assert root[-1].text == "A <& 3"
    assert b"opacity" not in svg(sheet)


def test_y_runs_up_on_paper_and_down_in_svg():
    assert b'x1="10" y1="70" x2="20" y2="70"' in svg(Sheet(100, 80, MARKS))


def test_the_same_sheet_gives_the_same_bytes_without_long_numbers():
    sheet = Sheet(100, 80, (Line((1 / 3, -1e-9), (2 / 3, 1)),))
    assert svg(sheet) == svg(sheet)
    assert b'x1="0.33" y1="80" x2="0.67" y2="79"' in svg(sheet)


def test_an_arc_goes_anticlockwise_from_start_to_end():
    assert b'd="M60,30 A10 10 0 0 0 50,20"' in svg(Sheet(100, 80, (MARKS[4],)))


def test_extent_of_an_arc_counts_only_the_part_that_is_drawn():
    assert extent([MARKS[4]]) == pytest.approx((50, 50, 60, 60))
    half = Arc((0, 0), 10, math.pi / 4, math.pi * 5 / 4)
    assert extent([half])[0] == pytest.approx(-10)


def test_moved_marks_have_a_moved_extent():
    left, low, right, top = extent(MARKS)
    assert extent(moved(MARKS, 3, 4)) == pytest.approx((left + 3, low + 4, right + 3, top + 4))


@pytest.mark.parametrize(("weight", "bold"), [("Regular", False), ("Bold", True)])
def test_text_widths_are_those_of_the_shipped_font(weight, bold):
    font = TTFont(FONTS / f"SourceSans3-{weight}.ttf")
    cmap, advances = font.getBestCmap(), font["hmtx"]
    for char in "Ai0 W°×ø½":
        width = advances[cmap[ord(char)]][0] / font["head"].unitsPerEm
        assert text_width(char, 10.0, bold=bold) == pytest.approx(10 * width, abs=0.006)


def test_figures_of_the_shipped_font_are_all_equally_wide():
    assert len({round(text_width(figure, 3), 6) for figure in "0123456789"}) == 1


def test_an_unknown_character_is_taken_as_a_wide_one():
    assert text_width("黑", 3.0) == 3.0


def test_turned_text_has_turned_corners():
    flat = text_corners(Text((0, 0), "AB", 4.0, align="middle"))
    upright = text_corners(Text((0, 0), "AB", 4.0, align="middle", angle=math.pi / 2))
    for (x, y), (u, v) in zip(flat, upright, strict=True):
        assert (u, v) == pytest.approx((-y, x))


def test_a_page_keeps_the_holes_free_and_says_what_it_is():
    block = TitleBlock("Seedling house", "Plan", sheet="1 of 3", verdict="NOT CHECKED")
    sheet = page(paper("A4"), block, ())
    assert extent(sheet.marks)[0] >= 20
    words = {mark.text for mark in sheet.marks if isinstance(mark, Text)}
    assert {"Seedling house", "Plan", "1 of 3", "NOT CHECKED", "not to scale"} <= words
    assert min(m.size for m in sheet.marks if isinstance(m, Text)) >= SMALLEST_TEXT
    left, low, right, top = frame_box(paper("A4"))
    assert right - left == pytest.approx(180)
    assert top - low > 200


def test_the_title_block_fits_on_every_paper():
    block = TitleBlock(
        "Mosswick seedling house", "Base ring", "0.1.0", "2026-05-01", "12 of 14", "mm", "1:50",
        "FAILS AT SITE LOADS",
    )  # fmt: skip
    for name in ("A4", "Letter", "A3", "Tabloid"):
        for turned in (False, True):
            size = paper(name, turned=turned)
            left, _, right, _ = extent(page(size, block, ()).marks)
            assert left >= size.margins.left
            assert right <= size.width - size.margins.right + 1e-9


def test_a_paper_that_is_not_there_is_refused_with_those_that_are():
    with pytest.raises(InputError, match=re.escape("paper-unknown")) as caught:
        paper("foolscap")
    assert "A4" in caught.value.mend


def test_smallest_text_is_seven_points():
    assert pytest.approx(7 * POINT) == SMALLEST_TEXT
