"""Setting out against Thales' theorem and the closed forms of tape work, computed."""

import numpy as np
import pytest

from strutwright.adjust import Network, Observation, adjust, ellipse
from strutwright.shape import Recipe, Shell, topology
from strutwright.site import (
    sag_correction,
    set_out,
    skew_from_diagonals,
    skew_of,
    slope_correction,
    temperature_correction,
)


def cone(ring):
    """A ring of base hubs and one hub above: the smallest shell with that base."""
    n = len(ring)
    hubs = np.vstack([np.column_stack([ring, np.zeros(n)]), [[0, 0, 2.0]]])
    faces = np.array([[k, (k + 1) % n, n] for k in range(n)])
    struts = topology.struts_of(faces)
    role = np.full(len(struts), "shell")
    course = np.array([0] * n + [1])
    return Shell(hubs, struts, role, faces, course, np.arange(n), {}, Recipe("dome"))


def circle(n, radius=3.0):
    turn = 2 * np.pi * np.arange(n) / n
    return radius * np.column_stack([np.cos(turn), np.sin(turn)])


def long_ring():
    sides = [(x, -2.5) for x in np.linspace(-3, 3, 4)] + [(5.5, 0.0)]
    return np.array(sides + [(-x, -y) for x, y in sides])


def worksheet(ring, tape=0.003, play=0.001):
    shell = cone(ring)
    return set_out(shell, shell.base, tape=tape, play=play)


def test_round_base_is_taped_from_the_ends_of_a_diameter():
    """Two-tape distances of a ring of 10, R = 3 m (Thales; computed)."""
    rows = worksheet(circle(10)).rows
    expected = [
        (0, 6),
        (1.8541, 5.7063),
        (3.5267, 4.8541),
        (4.8541, 3.5267),
        (5.7063, 1.8541),
        (6, 0),
    ]
    for row, (a, b) in zip(rows, expected, strict=False):
        assert (row.from_a, row.from_b) == pytest.approx((a, b), abs=1e-4)
    for row in rows[1:5]:
        assert row.crossing == pytest.approx(np.pi / 2)
        assert row.from_a**2 + row.from_b**2 == pytest.approx(36.0)
        assert row.ellipse[:2] == pytest.approx((0.003, 0.003))


def test_an_odd_ring_gets_an_auxiliary_peg_and_still_right_angles():
    sheet = worksheet(circle(15))
    assert sheet.pegs[1].hub is None
    assert all(r.crossing == pytest.approx(np.pi / 2) for r in sheet.rows[1:])


@pytest.mark.parametrize("ring", [circle(10), circle(7), long_ring()], ids=["even", "odd", "long"])
def test_error_ellipses_agree_with_the_network_adjustment(ring):
    sheet = worksheet(ring)
    pegs = {peg.name: (peg.x, peg.y) for peg in sheet.pegs}
    for row in sheet.rows:
        if row.crossing == 0:
            continue
        points = np.array([pegs[row.a], pegs[row.b], (row.x, row.y)])
        held = np.array([[True, True], [True, True], [False, False]])
        seen = (
            Observation("distance", (0, 2), row.from_a, 0.003),
            Observation("distance", (1, 2), row.from_b, 0.003),
        )
        a, b, direction = ellipse(adjust(Network(points, held, seen)).cofactor[4:, 4:])
        assert row.ellipse[:2] == pytest.approx((a, b))
        if a > b * 1.001:
            assert abs(np.sin(row.ellipse[2] - direction)) < 1e-6


def test_long_base_is_taped_from_a_rectangle_and_its_widths_are_checked():
    sheet = worksheet(long_ring())
    assert [peg.name for peg in sheet.pegs] == list("PQRS")
    assert all(np.sin(row.crossing) > 0.5 or row.crossing == 0 for row in sheet.rows)
    widths = [span for span in sheet.spans if span.kind == "width"]
    assert len(widths) == 4
    assert [span.length for span in widths] == pytest.approx([5.0] * 4)
    lengths = dict(((p, q), d) for p, q, d in sheet.frame)
    assert lengths["P", "R"] == pytest.approx(lengths["Q", "S"])


def test_widths_of_the_ends_are_taken_too():
    """A round end is narrower: its facing hubs get a width, those by the middle line none."""
    sides = [(-3, -2.5), (0, -2.5), (3, -2.5), (4.6, -1.6), (5.4, -0.2)]
    ring = np.array([*sides, *((x, -y) for x, y in reversed(sides)), (-5.5, 0.0)])
    widths = [span for span in worksheet(ring).spans if span.kind == "width"]
    assert [span.length for span in widths] == pytest.approx([5.0, 5.0, 5.0, 3.2])
    assert [(span.i, span.j) for span in widths] == [(0, 9), (1, 8), (2, 7), (3, 6)]


def test_skew_of_the_pegs_is_that_of_their_rectangle():
    sheet = worksheet(long_ring())
    assert skew_of(sheet, 0.01) == pytest.approx(skew_from_diagonals(11, 5, 0.01))
    assert skew_of(worksheet(circle(10)), 0.01) is None


def test_every_hub_stands_in_a_check_diagonal_and_bands_grow_with_play():
    sheet = worksheet(circle(11))
    diagonals = [span for span in sheet.spans if span.kind == "diagonal"]
    assert {hub for span in diagonals for hub in (span.i, span.j)} == set(range(11))
    tight, loose = worksheet(circle(11), play=0.0), worksheet(circle(11), play=0.002)
    assert tight.rows[0].band == pytest.approx(1.959964 * 0.003)
    assert loose.rows[0].band == pytest.approx(2 * 0.002 + 1.959964 * 0.003)


@pytest.mark.parametrize(
    ("length", "height", "millimetres"),
    [(6.0, 0.36, 10.81), (1.854, 0.111, 3.33), (11, 0.66, 19.82)],
)
def test_slope_correction(length, height, millimetres):
    """en.wikipedia.org, Tape correction (surveying), read; numbers computed."""
    assert slope_correction(length, height) * 1000 == pytest.approx(millimetres, abs=0.01)


def test_sag_temperature_and_skew():
    assert sag_correction(6, 0.18, 20) * 1000 == pytest.approx(0.729, abs=1e-3)  # recalled formula
    assert temperature_correction(11, 30, 11.6e-6) * 1000 == pytest.approx(3.8, abs=0.05)
    assert skew_from_diagonals(11, 5, 0.01) == pytest.approx(0.018207, abs=1e-5)
