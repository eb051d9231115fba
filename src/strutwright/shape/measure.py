"""Lengths of a shell: node lengths and chord factors."""

from __future__ import annotations

import numpy as np

from strutwright.shape.shell import Shell
from strutwright.values import Floats

__all__ = ["chord_factors", "node_lengths"]


def node_lengths(shell: Shell) -> Floats:
    """Return the (S,) distances from hub centre to hub centre, m."""
    ends = shell.hubs[shell.struts]
    return np.asarray(np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1))


def chord_factors(shell: Shell) -> Floats:
    """Return the (S,) node lengths as shares of the sphere's radius.

    Raises
    ------
    ValueError
        The shell has no radius.
    """
    if shell.recipe.radius is None:
        msg = "a shell without a radius has no chord factors"
        raise ValueError(msg)
    return node_lengths(shell) / shell.recipe.radius
