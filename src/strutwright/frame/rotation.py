"""Finite rotations, many at once: vectors to matrices and back, and how small turns add to them."""

from __future__ import annotations

import numpy as np
from scipy.spatial.transform import Rotation

from strutwright.values import Floats

__all__ = ["change_of_turning", "rotation_matrix", "rotation_vector", "skew", "turning_inverse"]

SMALL = 0.05
"""Angle, rad, below which series are used: the terms left out are under 1e-12."""


def skew(vectors: Floats) -> Floats:
    """Return (..., 3, 3) matrices S with S a = v x a."""
    out = np.zeros((*vectors.shape, 3))
    x, y, z = vectors[..., 0], vectors[..., 1], vectors[..., 2]
    out[..., 0, 1], out[..., 0, 2] = -z, y
    out[..., 1, 0], out[..., 1, 2] = z, -x
    out[..., 2, 0], out[..., 2, 1] = -y, x
    return out


def rotation_matrix(vectors: Floats) -> Floats:
    """Return (..., 3, 3) rotation by the angle |v| about v (Rodrigues)."""
    angle = np.sqrt((vectors**2).sum(axis=-1))[..., None, None]
    s = skew(vectors)
    half = np.sinc(angle / (2.0 * np.pi))
    return np.asarray(np.eye(3) + np.sinc(angle / np.pi) * s + 0.5 * half**2 * (s @ s))


def rotation_vector(matrices: Floats) -> Floats:
    """Return (..., 3) vector of a rotation, the shorter way round."""
    r = matrices
    w = 0.5 * np.stack(
        [
            r[..., 2, 1] - r[..., 1, 2],
            r[..., 0, 2] - r[..., 2, 0],
            r[..., 1, 0] - r[..., 0, 1],
        ],
        axis=-1,
    )
    sine = np.sqrt((w**2).sum(axis=-1))
    cosine = 0.5 * (np.trace(r, axis1=-2, axis2=-1) - 1.0)
    angle = np.arctan2(sine, cosine)
    factor = np.where(sine > 1e-12, angle / np.where(sine > 1e-12, sine, 1.0), 1.0)
    vectors: Floats = w * factor[..., None]
    near_half = cosine < -0.99
    if near_half.any():  # the skew part vanishes at half a turn: take the axis from the rest
        vectors[near_half] = Rotation.from_matrix(r[near_half]).as_rotvec()
    return vectors


def _coefficients(vectors: Floats) -> tuple[Floats, Floats]:
    """Return the factors of T^-1 and of its derivative, see `turning_inverse`."""
    square = (vectors**2).sum(axis=-1)
    large = square > SMALL**2
    safe = np.where(large, square, 1.0)
    angle = np.sqrt(safe)
    sine = np.sin(0.5 * angle) ** 2
    eta = np.where(
        large,
        (1.0 - 0.5 * angle / np.tan(0.5 * angle)) / safe,
        1 / 12 + square / 720 + square**2 / 30240,
    )
    mu = np.where(
        large,
        (angle * (angle + np.sin(angle)) - 8.0 * sine) / (4.0 * safe**2 * sine),
        1 / 360 + square / 7560,
    )
    return eta[..., None, None], mu[..., None, None]


def turning_inverse(vectors: Floats) -> Floats:
    """Return (..., 3, 3): change of a rotation vector for a small turn in space added to it.

    Source: T^-1 = I - S/2 + eta S2, Battini and Pacoste (2002), Comput. Methods Appl. Mech.
    Engrg. 191, 1755 (recalled).
    """
    eta, _ = _coefficients(vectors)
    s = skew(vectors)
    return np.eye(3) - 0.5 * s + eta * (s @ s)


def change_of_turning(vectors: Floats, moments: Floats) -> Floats:
    """Return (..., 3, 3) derivative of T^-T m with respect to the rotation vector, m constant.

    Source: as `turning_inverse`.
    """
    eta, mu = _coefficients(vectors)
    t, m = vectors[..., :, None], moments[..., :, None]
    tt, mt = np.swapaxes(t, -1, -2), np.swapaxes(m, -1, -2)
    s = skew(vectors)
    dot = mt @ t
    straight = eta * (t @ mt - 2.0 * (m @ tt) + dot * np.eye(3))
    return np.asarray(straight + mu * (s @ s @ m @ tt) - 0.5 * skew(moments))
