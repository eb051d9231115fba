"""Covers with exact answers: offset surfaces, gaps, film strips, bevels, the sheet draped over."""

import numpy as np
import pytest

from strutwright.catalogue import Source
from strutwright.cover import PanelWish, offset_points, panel_plan
from strutwright.cover.extras import drape, layer_gap
from strutwright.cover.fixing import fixing
from strutwright.loads.film import FilmPressure
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import dihedrals
from strutwright.shape.vault import VaultSpec, vault


def half_octahedron(radius=2.0):
    return dome(DomeSpec(radius=radius, division=(1, 0), seed="octahedron"))


def test_the_top_of_an_octahedron_moves_out_by_root_three():
    """Four faces with normals (±1, ±1, 1)/√3 moved by h meet at z + h √3."""
    shell = half_octahedron()
    top = int(np.argmax(shell.hubs[:, 2]))
    moved = offset_points(shell, 0.1)[top] - shell.hubs[top]
    assert moved == pytest.approx([0, 0, 0.1 * np.sqrt(3)], abs=1e-12)


def test_air_between_layers_is_least_over_struts():
    shell = half_octahedron()
    gap = layer_gap(shell, 0.02, -0.05)
    assert gap.at_strut == pytest.approx(0.07)
    assert gap.at_hub.max() == pytest.approx(0.07 * np.sqrt(3))


def pressed(wind, snow=0.0, factor=1.5):
    wind, snow = np.full(4, wind), np.full(4, snow)
    strength = factor * np.maximum(wind, snow)
    return FilmPressure(wind, snow, strength, Source("test"))


def test_film_strip_in_the_wind():
    """T^3 = J a^2 p^2/(24 (1 - nu^2)) and T = p a^2/(8 s), by statics; a: the circle's diameter."""
    shell = half_octahedron()
    a = 2 * 2 * np.sqrt(2) / (2 * np.sqrt(3))  # in an equilateral triangle the radius is L/(2 √3)
    p, stiffness = 800.0, 36e3
    found = fixing(shell, pressed(p), stiffness, holds=1e6)
    tension = (stiffness / (1 - 0.45**2) * p**2 * a**2 / 24) ** (1 / 3)
    assert found.tension == pytest.approx(tension)
    assert found.tension_strength == pytest.approx(tension * 1.5 ** (2 / 3))
    assert found.sag == pytest.approx(p * a**2 / (8 * tension))
    assert found.demand == pytest.approx(tension * 0.6)
    assert found.demand_edge == pytest.approx(tension * 1.5 ** (2 / 3) * 0.3)


def test_fixings_stand_as_close_as_it_takes_for_each_to_hold():
    shell = half_octahedron()
    found = fixing(shell, pressed(300.0), 36e3, holds=200.0)
    assert found.demand <= 200.0 < found.demand / found.spacing * (found.spacing + 0.01)
    assert found.demand_edge <= 200.0
    assert found.spacing_edge < found.spacing
    weak = fixing(shell, pressed(300.0), 36e3, holds=10.0)
    assert weak.spacing == pytest.approx(0.1)  # one clamp beside the next: it does not hold
    assert weak.demand > 10.0


def test_more_snow_than_wind_rules_the_film_and_is_no_local_wind():
    shell = half_octahedron()
    found = fixing(shell, pressed(100.0, 900.0), 36e3)
    assert found.tension == pytest.approx(fixing(shell, pressed(900.0), 36e3).tension)
    assert found.demand_edge / found.spacing_edge == pytest.approx(found.tension)


def test_bevels_are_half_the_fold_and_edges_keep_half_the_gap_from_the_ridge():
    """Planes h outside the hubs meet h tan(f/2) beyond the strut's line; half the gap is left."""
    shell, h = half_octahedron(), 0.04
    plan = panel_plan(shell, PanelWish(h, (4.0, 6.0), False, 0.0, 0.0, 0.3))
    fold = np.pi - np.arccos(-1 / 3)
    (kind,) = plan.types
    assert np.sort(kind.bevels) == pytest.approx([0, fold / 2, fold / 2])
    assert np.sort(kind.setbacks) == pytest.approx(
        np.sort([0, *[plan.gap / 2 - h * np.tan(fold / 2)] * 2])
    )
    assert fold == pytest.approx(np.pi - np.nanmin(dihedrals(shell)))


def test_panel_gap_takes_up_what_the_sheet_grows():
    """65e-6 per K over 50 K is 3.25 mm a metre of the longest edge (4 mm stay for the seal)."""
    shell = half_octahedron()
    plan = panel_plan(shell, PanelWish(0.0, (4.0, 6.0), True, 65e-6, 50.0, 0.3))
    assert plan.gap == pytest.approx(0.004 + 65e-6 * 50 * 2 * np.sqrt(2))


def test_a_sheet_draped_over_an_octahedron_reaches_over_two_struts():
    """Cut through the top the way over is two struts of R √2, and a hem at both ends."""
    sheet = drape(half_octahedron(), 0.3)
    assert sheet.width == pytest.approx(2 * 2 * np.sqrt(2) + 0.6, rel=1e-6)
    assert sheet.length == pytest.approx(2 * 2 * np.sqrt(2) + 0.6, rel=1e-6)


def test_a_cylinder_lies_flat_under_its_sheet():
    shell = vault(VaultSpec(4.0, None, 2.0, 3, profile="circle", ends="open"))
    assert drape(shell, 0.0).pleats.max() < 1e-6


def test_pleats_of_an_octahedron():
    """Four angles of 60 degrees leave 120 to be folded away."""
    shell = half_octahedron()
    sheet = drape(shell, 0.3)
    assert sheet.pleats.max() == pytest.approx(np.radians(120))
    assert sheet.folds.max() == pytest.approx(np.radians(120) * 2 * np.sqrt(2))
