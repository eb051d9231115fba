"""Volume and headroom of shells with exact answers, openings and open ends among them."""

import numpy as np
import pytest

from strutwright.shape import topology
from strutwright.shape.headroom import contours, headroom_area
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.surface import volume

LONG, WIDE, HIGH = 6.0, 4.0, 2.5


def roof(*, gables):
    """A pitched roof, 6 by 4 by 2.5 m, with its upright gables or without."""
    x, y = LONG / 2, WIDE / 2
    hubs = np.array(
        [[x, y, 0], [-x, y, 0], [-x, -y, 0], [x, -y, 0], [-x, 0, HIGH], [x, 0, HIGH]], dtype=float
    )
    faces = [[0, 5, 1], [1, 5, 4], [2, 4, 3], [3, 4, 5]]
    if gables:
        faces += [[1, 4, 2], [3, 5, 0]]
    faces = np.array(faces)[:, ::-1]
    struts = topology.struts_of(faces)
    return Shell(
        hubs=hubs, struts=struts, role=np.array(["shell"] * len(struts)), faces=faces,
        course=np.array([0, 0, 0, 0, 1, 1]), base=np.arange(4), groups={},
        recipe=Recipe("imported"),
    )  # fmt: skip


@pytest.mark.parametrize("gables", [True, False])
def test_open_ends_leave_nothing_out(gables):
    shell = roof(gables=gables)
    assert volume(shell) == pytest.approx(LONG * WIDE * HIGH / 2)
    for height in (0.5, 1.2, 2.4):
        share = 1 - height / HIGH
        assert headroom_area(shell, height) == pytest.approx(LONG * WIDE * share)
        (outline,) = contours(shell, height)
        assert np.ptp(outline, axis=0) == pytest.approx([LONG, WIDE * share])


def test_a_missing_face_is_closed_by_a_flat_lid():
    """An octahedron's half without one of its faces encloses what it did: the lid is that face."""
    r = 2.0
    hubs = np.array([[r, 0, 0], [0, r, 0], [-r, 0, 0], [0, -r, 0], [0, 0, r]])
    faces = np.array([[0, 1, 4], [1, 2, 4], [2, 3, 4]])
    struts = topology.struts_of(faces)
    shell = Shell(
        hubs=hubs, struts=struts, role=np.array(["shell"] * len(struts)), faces=faces,
        course=np.array([0, 0, 0, 0, 1]), base=np.arange(4), groups={}, recipe=Recipe("imported"),
    )  # fmt: skip
    assert volume(shell) == pytest.approx(2 * r**3 / 3)
    # the level at half the height is met on both sides of the opening, and joined straight
    assert headroom_area(shell, r / 2) == pytest.approx(2 * r**2 / 4)
