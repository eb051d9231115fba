"""Cross-sections: areas and moments worked out from the dimensions."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, pi, sqrt
from typing import Literal

from strutwright.errors import InputError

__all__ = ["Section", "rectangle", "rod", "tube"]


@dataclass(frozen=True)
class Section:
    """A cross-section; y is its axis along the shell's surface, z the one square to it.

    Bending out of the surface turns about y, bending in the surface about z.

    Parameters
    ----------
    shape : str
        ``tube`` (round), ``rod`` (solid round) or ``rectangle``.
    depth, width : float, m
        Of a rectangle square to the surface and along it; of a round section the diameter.
    wall : float, m
        Of a tube; half the diameter of a rod; 0 of a rectangle.
    area : float, m2
    inertia_y, inertia_z, torsion : float, m4
    modulus_y, modulus_z, plastic_y, plastic_z : float, m3
        Elastic and plastic section modulus.
    """

    shape: Literal["tube", "rod", "rectangle"]
    depth: float
    width: float
    wall: float
    area: float
    inertia_y: float
    inertia_z: float
    torsion: float
    modulus_y: float
    modulus_z: float
    plastic_y: float
    plastic_z: float

    @property
    def radius_y(self) -> float:
        """Radius of gyration about y, m."""
        return sqrt(self.inertia_y / self.area)

    @property
    def radius_z(self) -> float:
        """Radius of gyration about z, m."""
        return sqrt(self.inertia_z / self.area)

    @property
    def least_radius(self) -> float:
        """Smaller radius of gyration, about which a pin-ended strut buckles, m."""
        return min(self.radius_y, self.radius_z)

    @property
    def outside(self) -> float:
        """Largest dimension across, m: what a socket or a hole must take."""
        return self.depth if self.shape != "rectangle" else sqrt(self.depth**2 + self.width**2)


def _positive(value: float, what: str, where: str) -> None:
    if not 0 < value < 10:
        raise InputError(
            "section-size",
            f"{what} is {value * 1000:g} mm; it must be above 0 and below 10 m",
            where,
            "give the dimension with its unit",
        )


def tube(diameter: float, wall: float, where: str = "struts.stock") -> Section:
    """Return the round tube of outside `diameter` and `wall`, m.

    Raises
    ------
    InputError
        ``section-wall``: the wall is thicker than half the diameter; ``section-size``: a
        dimension is not positive.
    """
    _positive(diameter, "diameter", where)
    _positive(wall, "wall", where)
    if 2 * wall > diameter:
        raise InputError(
            "section-wall",
            f"a wall of {wall * 1000:g} mm is more than half the diameter of "
            f"{diameter * 1000:g} mm",
            where,
            "check both; a solid bar is a rod, not a tube",
        )
    inner = diameter - 2 * wall
    inertia = pi * (diameter**4 - inner**4) / 64
    plastic = (diameter**3 - inner**3) / 6
    return Section(
        shape="tube",
        depth=diameter,
        width=diameter,
        wall=wall,
        area=pi * (diameter**2 - inner**2) / 4,
        inertia_y=inertia,
        inertia_z=inertia,
        torsion=2 * inertia,
        modulus_y=2 * inertia / diameter,
        modulus_z=2 * inertia / diameter,
        plastic_y=plastic,
        plastic_z=plastic,
    )


def rod(diameter: float, where: str = "struts.stock") -> Section:
    """Return the solid round bar of `diameter`, m."""
    _positive(diameter, "diameter", where)
    inertia, plastic = pi * diameter**4 / 64, diameter**3 / 6
    return Section(
        shape="rod",
        depth=diameter,
        width=diameter,
        wall=diameter / 2,
        area=pi * diameter**2 / 4,
        inertia_y=inertia,
        inertia_z=inertia,
        torsion=2 * inertia,
        modulus_y=2 * inertia / diameter,
        modulus_z=2 * inertia / diameter,
        plastic_y=plastic,
        plastic_z=plastic,
    )


def rectangle(depth: float, width: float, where: str = "struts.stock") -> Section:
    """Return the solid rectangle of `depth` square to the shell and `width` along it, m."""
    _positive(depth, "depth", where)
    _positive(width, "width", where)
    return Section(
        shape="rectangle",
        depth=depth,
        width=width,
        wall=0.0,
        area=depth * width,
        inertia_y=width * depth**3 / 12,
        inertia_z=depth * width**3 / 12,
        torsion=_rectangle_torsion(max(depth, width), min(depth, width)),
        modulus_y=width * depth**2 / 6,
        modulus_z=depth * width**2 / 6,
        plastic_y=width * depth**2 / 4,
        plastic_z=depth * width**2 / 4,
    )


def _rectangle_torsion(long: float, short: float) -> float:
    """Return the torsion constant, m4: the exact series of Saint-Venant, six terms.

    Source: Timoshenko and Goodier, Theory of Elasticity, art. 109 (recalled).
    """
    total = 0.0
    for n in (1, 3, 5, 7, 9, 11):
        # tanh by exponentials of negative arguments: no overflow for slender rectangles
        fall = exp(-n * pi * long / short)
        total += (1 - fall) / (1 + fall) / n**5
    return long * short**3 / 3 * (1 - 192 * short / (pi**5 * long) * total)
