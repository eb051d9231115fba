"""Members that move and turn far while bending little: forces and tangent, many at once.

Each element keeps its stiffness, end springs and all, in axes that follow its chord;
large displacements come from following the axes exactly.
Source: Battini and Pacoste (2002), Comput. Methods Appl. Mech. Engrg. 191, 1755 (recalled; the
terms were derived again and are held against differences of the forces in the tests).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.divide import refuse_uncut
from strutwright.frame.element import elements, shape_inside
from strutwright.frame.model import Flags, FrameModel
from strutwright.frame.rotation import change_of_turning, rotation_vector, skew, turning_inverse
from strutwright.values import Floats

__all__ = ["Followed", "Moving", "followed", "moving_elements"]

NATURAL = (6, 3, 4, 5, 9, 10, 11)
"""Local freedoms that deform an element in its own axes: stretch, turns of both ends."""


@dataclass(frozen=True, eq=False)
class Moving:
    """What of an element stays the same while it moves.

    Parameters
    ----------
    length : (M,) array, m
        Unloaded.
    axes : (M, 3, 3) array
        Unloaded local axes, as rows.
    stiffness : (M, 7, 7) array
        Of stretch and end turns in the element's own axes.
    bow : (M, 6, 6) array, m
        Q of the shortening t.Q t/2 of the chord by end turns t; zero for a straight element.
    bars : (M,) bool array
        Elements whose ends turn freely.
    """

    length: Floats
    axes: Floats
    stiffness: Floats
    bow: Floats
    bars: Flags


@dataclass(frozen=True, eq=False)
class Followed:
    """Forces of displaced elements upon their nodes' freedoms, and the tangent.

    Parameters
    ----------
    forces : (M, 12) array
        On the node freedoms, global axes.
    tangent : (M, 12, 12) array
        Symmetric part.
    natural : (M, 7) array
        Axial force (tension positive) and end moments in the element's own axes.
    axes : (M, 3, 3) array
        Present local axes, as columns.
    ends : (M, 12) array
        Forces on the flexible ends in the present local axes.
    stretching : (M, 12) array, N/m
        Change of `forces` with the stretch of the element.
    """

    forces: Floats
    tangent: Floats
    natural: Floats
    axes: Floats
    ends: Floats
    stretching: Floats


@dataclass(frozen=True, eq=False)
class _State:
    """Intermediate results of `followed`: `ends` own y of both ends over q2, in own axes."""

    stiffness: Floats
    length: Floats
    axes: Floats
    turns: Floats
    undo: Floats
    moments: Floats
    natural: Floats
    ends: Floats
    eta: Floats


def moving_elements(model: FrameModel, element: str = "straight") -> Moving:
    """Return the constant part of the elements of `model`.

    Parameters
    ----------
    element : str
        ``straight``: linear in the element's axes, needs many elements a member; ``bowed``: with
        the shortening and softening of a bent element under axial force, near exact with two.

    Notes
    -----
    Bow of a cubic shape: L (2 t1^2 - t1 t2 + 2 t2^2)/30 in each plane, t the turns inside the end
    springs. Source: Crisfield, Non-linear Finite Element Analysis 1 (1991), shallow arch strain
    averaged (recalled).
    """
    if element == "bowed":
        refuse_uncut(model)
    elems = elements(model)
    natural = elems.stiffness[:, NATURAL][:, :, NATURAL]
    bow = np.zeros((len(elems.length), 6, 6))
    if element == "bowed":
        for a, b in ((1, 4), (2, 5)):
            bow[:, a, a] = bow[:, b, b] = 4.0 / 30.0 * elems.length
            bow[:, a, b] = bow[:, b, a] = -1.0 / 30.0 * elems.length
        inside = shape_inside(elems)[:, NATURAL[1:]][:, :, NATURAL[1:]]
        bow = inside.transpose(0, 2, 1) @ bow @ inside
        bow[model.truss] = 0.0
    return Moving(elems.length, elems.axes, natural, bow, model.truss)


def _natural(moving: Moving, deformed: Floats) -> tuple[Floats, Floats]:
    """Return forces (M, 7) and stiffness (M, 7, 7) in the element's own axes."""
    turns = deformed[:, 1:]
    bent = (moving.bow @ turns[:, :, None])[:, :, 0]
    forces = (moving.stiffness @ deformed[:, :, None])[:, :, 0]
    if not moving.bow.any():
        return forces, moving.stiffness
    axial = moving.stiffness[:, 0, 0]
    forces[:, 0] += 0.5 * axial * (bent * turns).sum(axis=1)
    forces[:, 1:] += forces[:, :1] * bent
    k = moving.stiffness.copy()
    k[:, 0, 1:] += axial[:, None] * bent
    k[:, 1:, 0] += axial[:, None] * bent
    k[:, 1:, 1:] += forces[:, 0, None, None] * moving.bow
    k[:, 1:, 1:] += axial[:, None, None] * bent[:, :, None] * bent[:, None, :]
    return forces, k


def _chord_axes(moving: Moving, along: Floats, triads: Floats) -> tuple[Floats, Floats, Floats]:
    """Return present length, axes (columns) and the direction q that fixes their roll."""
    length = np.sqrt((along**2).sum(axis=1))
    first = along / length[:, None]
    q = 0.5 * (triads[:, 0, :, 1] + triads[:, 1, :, 1])
    if moving.bars.any():  # a bar has no roll: any direction across will do
        across = np.eye(3)[np.argmin(np.abs(first[moving.bars]), axis=1)]
        q[moving.bars] = across
    third = np.cross(first, q)
    third /= np.sqrt((third**2).sum(axis=1))[:, None]
    return length, np.stack([first, np.cross(third, first), third], axis=2), q


def _spin(length: Floats, eta: Floats, ends: Floats) -> Floats:
    """Return G (M, 12, 3), spin of the axes for node freedoms in these axes."""
    g = np.zeros((len(length), 12, 3))
    g[:, 2, 0], g[:, 8, 0] = eta / length, -eta / length
    for end, at in ((0, 3), (1, 9)):
        g[:, at, 0], g[:, at + 1, 0] = 0.5 * ends[:, end, 1], -0.5 * ends[:, end, 0]
    g[:, 2, 1], g[:, 8, 1] = 1.0 / length, -1.0 / length
    g[:, 1, 2], g[:, 7, 2] = -1.0 / length, 1.0 / length
    return g


def _change_of_spin(s: _State, spread: Floats, torque: Floats) -> Floats:
    """Return (M, 12, 12) change of G times a torque about x, at constant length.

    It follows the directions q of the ends, seen in the element's axes; the torque, the sum of
    both ends, is nearly nothing while the turns are small.
    """
    seen = [
        -skew(s.ends[:, end]) @ spread.transpose(0, 2, 1)[:, 3 * end : 3 * end + 3]
        for end in (0, 1)
    ]  # of q_a / q2, before q2 itself changes
    mean = 0.5 * (seen[0] + seen[1])[:, :2]
    out = np.zeros((len(torque), 12, 12))
    change = (mean[:, 0] - s.eta[:, None] * mean[:, 1]) * (torque / s.length)[:, None]
    out[:, 2], out[:, 8] = change, -change
    for end, at in ((0, 3), (1, 9)):
        own = seen[end][:, :2] - s.ends[:, end, :2, None] * mean[:, 1, None]
        own *= 0.5 * torque[:, None, None]
        out[:, at], out[:, at + 1] = own[:, 1], -own[:, 0]
    return out


def followed(
    model: FrameModel, moving: Moving, moved: Floats, turned: Floats, free: Floats | None = None
) -> Followed:
    """Return forces and tangent of the elements of a displaced frame.

    Parameters
    ----------
    moved : (N, 3) array, m
        Displacements of the nodes.
    turned : (N, 3, 3) array
        Rotations of the nodes.
    free : (M,) array, m
        Stretch that each element would take if free, by heat for instance.
    """
    pairs = model.members
    spun = turned[pairs]
    arms = (spun @ model.offsets[..., None])[..., 0]
    change = moved[pairs] + (arms - model.offsets)
    ends = model.nodes[pairs] + model.offsets + change
    triads = spun @ moving.axes.transpose(0, 2, 1)[:, None]
    triads[moving.bars] = moving.axes.transpose(0, 2, 1)[moving.bars][:, None]
    length, axes, q = _chord_axes(moving, ends[:, 1] - ends[:, 0], triads)
    back = axes.transpose(0, 2, 1)
    turns = rotation_vector(back[:, None] @ triads)
    turns[moving.bars] = 0.0
    # (l2 - L2)/(l + L): what l - L loses to rounding would swamp the forces of stiff elements
    start = moving.axes[:, 0] * moving.length[:, None]
    longer = change[:, 1] - change[:, 0]
    stretch = ((2.0 * start + longer) * longer).sum(axis=1) / (length + moving.length)
    if free is not None:
        stretch = stretch - free
    deformed = np.concatenate([stretch[:, None], turns.reshape(-1, 6)], axis=1)
    natural, stiffness = _natural(moving, deformed)
    undo = turning_inverse(turns)
    moments = (undo.transpose(0, 1, 3, 2) @ natural[:, 1:].reshape(-1, 2, 3, 1))[..., 0]
    roll = (back @ q[:, :, None])[:, :, 0]
    eta = roll[:, 0] / roll[:, 1]
    rolls = (back[:, None] @ triads)[..., 1] / roll[:, 1, None, None]
    state = _State(stiffness, length, axes, turns, undo, moments, natural, rolls, eta)
    return _with_arms(model, arms, _assembled(state))


def _assembled(s: _State) -> Followed:
    """Return forces and tangent of elements without arms."""
    count = len(s.length)
    g = _spin(s.length, s.eta, s.ends)
    spread = -np.concatenate([g, g], axis=2)  # P^T (M, 12, 6)
    spread[:, 3:6, 0:3] += np.eye(3)
    spread[:, 9:12, 3:6] += np.eye(3)
    moments = s.moments.reshape(count, 6)
    own = (spread @ moments[:, :, None])[:, :, 0]
    bent = own.copy()
    own[:, 0] -= s.natural[:, 0]
    own[:, 6] += s.natural[:, 0]
    wide = np.zeros((count, 12, 12))
    for first in (0, 3, 6, 9):
        wide[:, first : first + 3, first : first + 3] = s.axes
    inner = np.zeros((count, 7, 12))  # B in own axes
    inner[:, 0, 0], inner[:, 0, 6] = -1.0, 1.0
    inner[:, 1:4] = s.undo[:, 0] @ spread.transpose(0, 2, 1)[:, :3]
    inner[:, 4:7] = s.undo[:, 1] @ spread.transpose(0, 2, 1)[:, 3:]
    k = inner.transpose(0, 2, 1) @ (s.stiffness @ inner)
    turning = change_of_turning(s.turns, s.natural[:, 1:].reshape(-1, 2, 3))
    for end in (0, 1):
        part = spread[:, :, 3 * end : 3 * end + 3]
        k += part @ (turning[:, end] @ s.undo[:, end]) @ part.transpose(0, 2, 1)
    pull = s.natural[:, 0] / s.length
    for side in (1, 2):
        k[:, side, side] += pull
        k[:, side + 6, side + 6] += pull
        k[:, side, side + 6] -= pull
        k[:, side + 6, side] -= pull
    crossed = skew(bent.reshape(-1, 4, 3)).reshape(count, 12, 3)
    k -= crossed @ g.transpose(0, 2, 1)
    total = moments[:, :3] + moments[:, 3:]
    lever = np.zeros((count, 3))
    lever[:, 1] = (s.eta * total[:, 0] + total[:, 1]) / s.length
    lever[:, 2] = total[:, 2] / s.length
    shift = (g @ lever[:, :, None])[:, :, 0]
    k[:, :, 0] -= shift
    k[:, :, 6] += shift
    k -= _change_of_spin(s, spread, total[:, 0])
    k = 0.5 * (k + k.transpose(0, 2, 1))
    stretching = wide @ (inner.transpose(0, 2, 1) @ s.stiffness[:, :, :1])
    return Followed(
        (wide @ own[:, :, None])[:, :, 0],
        wide @ k @ wide.transpose(0, 2, 1),
        s.natural,
        s.axes,
        own,
        stretching[:, :, 0],
    )


def _with_arms(model: FrameModel, arms: Floats, part: Followed) -> Followed:
    """Return forces and tangent carried from the element's ends to the nodes by rigid arms."""
    if not model.offsets.any():
        return part
    count = len(arms)
    carry = np.broadcast_to(np.eye(12), (count, 12, 12)).copy()
    extra = np.zeros((count, 12, 12))
    for end in (0, 1):
        here, turning = slice(6 * end, 6 * end + 3), slice(6 * end + 3, 6 * end + 6)
        carry[:, here, turning] = -skew(arms[:, end])
        force, arm = part.forces[:, here], arms[:, end]
        outer = arm[:, :, None] * force[:, None, :]
        dot = (arm * force).sum(axis=1)[:, None, None]
        extra[:, turning, turning] = 0.5 * (outer + outer.transpose(0, 2, 1)) - dot * np.eye(3)
    back = carry.transpose(0, 2, 1)
    return replace(
        part,
        forces=(back @ part.forces[:, :, None])[:, :, 0],
        tangent=back @ part.tangent @ carry + extra,
        stretching=(back @ part.stretching[:, :, None])[:, :, 0],
    )
