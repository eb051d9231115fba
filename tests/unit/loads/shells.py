"""Shells for the tests of loads, made here by plain formulas."""

import numpy as np

from strutwright.loads import LoadSite, Masses
from strutwright.shape import Recipe, Shell, topology
from strutwright.shape.dome import DomeSpec, dome


def hemisphere(frequency=4, radius=3.0):
    return dome(DomeSpec(radius=radius, division=(frequency, 0)))


def vault(span=6.0, rise=3.0, length=8.0, around=8, along=5):
    """A circular barrel of right-angled triangles along x, open at its ends."""
    radius = (span**2 / 4 + rise**2) / (2 * rise)
    half = np.arcsin(min(1.0, span / 2 / radius))
    half = half if rise <= radius else np.pi - half
    angle = np.linspace(-half, half, around + 1)
    x = np.linspace(-length / 2, length / 2, along + 1)
    section = np.stack([radius * np.sin(angle), radius * np.cos(angle) - radius + rise], axis=1)
    section[[0, -1], 1] = 0
    hubs = np.array([[xi, y, z] for y, z in section for xi in x])
    n = along + 1
    faces = []
    for j in range(around):
        for i in range(along):
            a, b, c, d = j * n + i, j * n + i + 1, (j + 1) * n + i, (j + 1) * n + i + 1
            faces += [[a, b, d], [a, d, c]] if (i + j) % 2 else [[a, b, c], [b, d, c]]
    faces = np.array(faces)
    struts = topology.struts_of(faces)
    course = np.repeat(np.minimum(np.arange(around + 1), around - np.arange(around + 1)), n)
    base = np.concatenate([np.arange(n), around * n + np.arange(n)[::-1]])
    return Shell(
        hubs, struts, np.full(len(struts), "shell"), faces, course, base, {}, Recipe("vault")
    )


def plan_area(shell):
    """Area inside the base ring, m2."""
    x, y = shell.hubs[shell.base, :2].T
    return (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def masses(shell, cover=0.18, film=None):
    s, h = len(shell.struts), len(shell.hubs)
    return Masses(np.full(s, 0.7), np.full(s, 0.0234), np.full(h, 0.3), cover, film)


def site(standard="en", **changes):
    asce = standard != "en"
    values = {
        "standard": standard,
        "ground_snow": 700.0,
        "basic_wind": 45.0 if asce else 24.0,
        "wind_basis": "3 s gust" if asce else "10 min mean",
        "exposure": "C" if asce else "II",
        "consequence": "II" if asce else "CC1",
    }
    return LoadSite(**{**values, **changes})
