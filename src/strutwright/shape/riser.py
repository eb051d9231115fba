"""A riser: legs that lift the base ring off the ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape.edit import assemble, loosen, pair
from strutwright.shape.shell import Shell
from strutwright.values import Floats, Indices

__all__ = ["feet_of", "raise_on_legs"]


def raise_on_legs(shell: Shell, height: float | Floats) -> Shell:
    """Return `shell` on an upright leg under every base hub, braced by ties.

    z = 0 stays at the base ring; the feet lie below it. Between neighbouring legs one diagonal
    tie leans alternately to either side. Where a door cuts the base ring, its two legs are tied
    at the ground instead and the bay is left open.

    Parameters
    ----------
    shell : Shell
    height : float or (B,) array, m
        Length of every leg, or of each in the order of the base (sloping ground).

    Raises
    ------
    InputError
        ``riser-height``: a leg of no length.
    """
    heights = np.broadcast_to(np.asarray(height, dtype=float), (len(shell.base),))
    if not (np.isfinite(heights).all() and heights.min() > 0):
        raise InputError(
            "riser-height",
            f"a leg of {float(heights.min()):.3f} m is not longer than nothing",
            "site.riser",
            "leave the riser out, or give a height above zero",
        )
    net = loosen(shell)
    under = shell.hubs[shell.base] - np.column_stack([np.zeros((len(heights), 2)), heights])
    feet = net.add_hubs(under, np.full(len(heights), -1))
    known = {tuple(row) for row in shell.struts.tolist()}
    base = shell.base.tolist()
    for hub, foot in zip(base, feet, strict=True):
        net.set_role(hub, foot, "leg")
    cut = 0
    for k in range(len(base)):
        after = (k + 1) % len(base)
        if pair(base[k], base[after]) not in known:
            net.set_role(feet[k], feet[after], "tie")
            cut += 1
        elif k % 2:
            net.set_role(base[k], feet[after], "tie")
        else:
            net.set_role(feet[k], base[after], "tie")
    net.hub_groups["feet"] = feet
    step = f"riser: legs of {float(heights.min()):.3f} to {float(heights.max()):.3f} m"
    said = note("riser-legs", legs=len(feet), ties=len(base) - cut)
    recipe = replace(
        shell.recipe,
        steps=(*shell.recipe.steps, step),
        notes=(*shell.recipe.notes, said),
    )
    return assemble(net, recipe)


def feet_of(shell: Shell) -> Indices:
    """Return the hubs that meet the ground: the feet of legs, or the base hubs without any."""
    return shell.groups.get("hubs.feet", shell.base)
