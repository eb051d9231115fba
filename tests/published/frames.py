"""Small plane and space frames that the textbook cases share."""

import numpy as np

from strutwright.frame import FrameModel, Loads, Sections, divide_loads, subdivide

IN = (0, 2, 4)
"""Freedoms of a node in the plane of x and z."""


def plain(area=1e6, inertia=1.0, torsion=1.0, modulus=1.0, shear_modulus=1.0):
    """A section of the same second moment both ways; by default it hardly stretches."""
    return Sections(area, inertia, inertia, torsion, modulus, shear_modulus)


def flat(nodes, members, held, table=None, **more):
    """A frame in the plane of x and z; `held` gives the freedoms of the nodes that are held."""
    fixed = np.zeros((len(nodes), 6), dtype=bool)
    fixed[:, [1, 3, 5]] = True
    for node, freedoms in held.items():
        fixed[node, list(freedoms)] = True
    points = np.insert(np.asarray(nodes, dtype=float), 1, 0.0, axis=1)
    return FrameModel(points, members, table or plain(), fixed=fixed, **more)


def forces(count, *parts):
    """Loads on nodes from triples of node, freedom and value."""
    out = np.zeros((count, 6))
    for node, freedom, value in parts:
        out[node, freedom] += value
    return Loads(out)


def cut(model, loads, pieces):
    """The model and its loads with `pieces` elements a member."""
    division = subdivide(model, pieces)
    return division.model, divide_loads(division, loads)


def chain(count):
    """Members of a chain of `count` nodes."""
    return np.column_stack([np.arange(count - 1), np.arange(1, count)])
