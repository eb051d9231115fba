from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from strutwright.catalogue import rectangle, rod, tube
from strutwright.errors import InputError


def test_a_wall_thicker_than_half_the_diameter_is_refused():
    with pytest.raises(InputError) as caught:
        tube(0.025, 0.030, "struts.stock.wall")
    assert caught.value.code == "section-wall"
    assert "30 mm" in caught.value.what
    assert "25 mm" in caught.value.what
    assert caught.value.where == "struts.stock.wall"


@pytest.mark.parametrize("bad", [0.0, -0.01, float("nan"), 11.0])
def test_a_dimension_out_of_bounds_is_refused(bad):
    for make in (lambda: tube(bad, 0.001), lambda: rod(bad), lambda: rectangle(0.045, bad)):
        with pytest.raises(InputError) as caught:
            make()
        assert caught.value.code == "section-size"


def test_a_tube_all_wall_is_a_rod():
    a, b = tube(0.05, 0.025), rod(0.05)
    for name in ("area", "inertia_y", "torsion", "plastic_y", "modulus_y", "radius_y"):
        assert getattr(a, name) == pytest.approx(getattr(b, name), rel=1e-12)


@given(st.floats(0.01, 0.2), st.floats(0.001, 0.099))
def test_thin_tube_approaches_its_line_formulae(diameter, share):
    # A = pi Dm t exactly; I = pi Dm t (Dm^2 + t^2) / 8
    wall = share * diameter
    made = tube(diameter, wall)
    mean = diameter - wall
    assert made.area == pytest.approx(pi * mean * wall, rel=1e-9)
    assert made.inertia_y == pytest.approx(pi * mean * wall * (mean**2 + wall**2) / 8, rel=1e-9)
    assert made.radius_y == pytest.approx((made.inertia_y / made.area) ** 0.5)


@pytest.mark.parametrize(
    ("ratio", "constant"), [(1.0, 0.1406), (1.5, 0.196), (2.0, 0.229), (3.0, 0.263), (10.0, 0.312)]
)
def test_rectangle_torsion_is_that_of_timoshenko(ratio, constant):
    # Timoshenko and Goodier, Theory of Elasticity, table of art. 109, recalled: k1 to 3 digits
    made = rectangle(0.02 * ratio, 0.02)
    assert made.torsion == pytest.approx(constant * 0.02**4 * ratio, rel=3e-3)


def test_rectangle_turned_swaps_its_axes():
    upright, flat = rectangle(0.070, 0.045), rectangle(0.045, 0.070)
    assert upright.inertia_y == pytest.approx(0.045 * 0.07**3 / 12)
    assert upright.modulus_y == pytest.approx(0.045 * 0.07**2 / 6)
    assert upright.plastic_y / upright.modulus_y == pytest.approx(1.5)
    assert upright.radius_z == pytest.approx(0.045 / 12**0.5)
    assert (flat.inertia_y, flat.inertia_z) == (upright.inertia_z, upright.inertia_y)
    assert flat.torsion == pytest.approx(upright.torsion)
    assert flat.least_radius == upright.least_radius == pytest.approx(upright.radius_z)
