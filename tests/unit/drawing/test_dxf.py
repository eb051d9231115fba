import io
import math
import os
import subprocess
import sys
import time

import ezdxf
import pytest

from strutwright.drawing import (
    Arc,
    Circle,
    Line,
    Pen,
    Polygon,
    Polyline,
    Sheet,
    Text,
    dxf,
    dxf_bytes,
    new_dxf,
)
from strutwright.errors import ResultError

SHEET = Sheet(
    100,
    80,
    (
        Line((10, 10), (20, 10), Pen(0.5), "struts"),
        Polyline(((1, 1), (2, 5), (3, 1))),
        Polygon(((0, 0), (5, 0), (5, 5)), fill="#b28d1b", pen=Pen()),
        Circle((30, 30), 4, fill="#ffffff", pen=Pen(0.13)),
        Arc((50, 50), 10, 0.0, math.pi / 2),
        Text((5, 40), "Kuppel ø 6 m ⅜", level="middle", align="end"),
    ),
)


def read(data):
    return ezdxf.read(io.StringIO(data.decode("utf8")))


def test_a_sheet_becomes_dxf_in_millimetres_that_passes_the_audit():
    document = read(dxf(SHEET))
    assert not document.audit().errors
    assert document.units == 4
    kinds = sorted(entity.dxftype() for entity in document.modelspace())
    assert kinds == sorted(
        ["LINE", "LWPOLYLINE", "HATCH", "LWPOLYLINE", "HATCH", "CIRCLE", "ARC", "TEXT"]
    )


def test_marks_keep_place_layer_width_and_words():
    space = read(dxf(SHEET)).modelspace()
    (line,) = space.query("LINE")
    assert (line.dxf.layer, line.dxf.lineweight) == ("struts", 50)
    assert line.dxf.end.x == pytest.approx(20)
    (arc,) = space.query("ARC")
    assert (arc.dxf.start_angle, arc.dxf.end_angle) == pytest.approx((0, 90))
    (text,) = space.query("TEXT")
    assert text.dxf.text == "Kuppel ø 6 m ⅜"


def test_the_same_sheet_gives_the_same_bytes_later():
    first = dxf(SHEET)
    time.sleep(1.1)  # past the second that a time stamp counts
    assert dxf(SHEET) == first


@pytest.mark.parametrize("seed", ["1", "4"])
def test_the_same_sheet_gives_the_same_bytes_in_another_process(seed):
    code = (
        "import sys; from strutwright.drawing import *; "
        "s = Sheet(9, 9, (Line((1, 1), (2, 2), layer='b'), Text((1, 1), 'x', layer='a')));"
        "sys.stdout.buffer.write(dxf(s))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        check=True,
        env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    here = Sheet(9, 9, (Line((1, 1), (2, 2), layer="b"), Text((1, 1), "x", layer="a")))
    assert done.stdout == dxf(here)


def test_a_document_that_the_audit_refuses_is_not_written():
    document = new_dxf(4)
    document.modelspace().add_line((0, 0), (1, 1), dxfattribs={"linetype": "NOWHERE"})
    with pytest.raises(ResultError, match="dxf-not-sound"):
        dxf_bytes(document)
