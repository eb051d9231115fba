"""The shell as binary glTF: struts with their real diameter, a mesh for each strut type."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from strutwright.drawing.palette import GREY, type_colour
from strutwright.shape import Shell
from strutwright.values import Faces, Floats, HubPoints, Indices, Words

__all__ = ["shell_glb"]

SIDES: Final = 12
"""Flat sides of a strut; our choice: round to the eye at a small size of file."""
HUB_SHARE: Final = 0.8
"""Radius of the ball of a hub as a share of the strut's diameter; our choice."""


def shell_glb(shell: Shell, label_of: Words, diameter: float, allowances: Floats) -> bytes:
    """Return the shell as a GLB file in m, y up as glTF asks; the same shell gives the same bytes.

    Parameters
    ----------
    shell : Shell
    label_of : (S,) array of str
        Label of the strut type of each strut; its mesh is called ``strut A`` ...
    diameter : float, m
        Of the struts.
    allowances : (S, 2) array, m
        From hub centre to the sawn end, at both ends.

    Notes
    -----
    A round bar stands for any section. Source of the axes: glTF 2.0, 3.4 (x, y up, z towards
    the viewer; metres).
    """
    import trimesh  # heavy (0.2 s), and needed by this function alone

    library: Any = trimesh  # half of it has no types
    scene = library.Scene()
    labels = sorted(set(label_of.tolist()), key=lambda text: (len(text), text))
    parts = [
        (f"strut {label}", type_colour(k), _struts(shell, label_of == label, diameter, allowances))
        for k, label in enumerate(labels)
    ]
    parts.append(("hubs", GREY, _hubs(shell.hubs, HUB_SHARE * diameter)))
    for name, colour, (points, faces) in parts:
        shade = [int(colour[k : k + 2], 16) for k in (1, 3, 5)]
        material = library.visual.material.PBRMaterial(
            name=name, baseColorFactor=[*shade, 255], metallicFactor=0.0, roughnessFactor=0.8
        )
        mesh = library.Trimesh(_y_up(points), faces, process=False)
        mesh.visual = library.visual.TextureVisuals(material=material)
        scene.add_geometry(mesh, node_name=name, geom_name=name)
    glb: bytes = library.exchange.gltf.export_glb(scene)
    return glb


def _y_up(points: HubPoints) -> HubPoints:
    return np.stack([points[:, 0], points[:, 2], -points[:, 1]], axis=1)


def _struts(
    shell: Shell, which: Indices, diameter: float, allowances: Floats
) -> tuple[HubPoints, Faces]:
    """Return the points and faces of all struts of one type as closed bars."""
    start, end = (shell.hubs[shell.struts[which, k]] for k in (0, 1))
    way = end - start
    way = way / np.linalg.norm(way, axis=1, keepdims=True)
    start, end = start + way * allowances[which, :1], end - way * allowances[which, 1:]
    flat = np.abs(way[:, 2:]) < 0.9
    guide = np.where(flat, [[0.0, 0.0, 1.0]], [[1.0, 0.0, 0.0]])
    across = np.cross(way, guide)
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    beside = np.cross(way, across)
    turn = np.arange(SIDES) * (2 * np.pi / SIDES)
    ring = (diameter / 2) * (
        np.cos(turn)[None, :, None] * across[:, None]
        + np.sin(turn)[None, :, None] * beside[:, None]
    )
    points = np.concatenate(
        [start[:, None] + ring, end[:, None] + ring, start[:, None], end[:, None]], axis=1
    )
    faces = _bar_faces()
    shift = np.arange(len(start))[:, None, None] * points.shape[1]
    return points.reshape(-1, 3), (faces[None] + shift).reshape(-1, 3)


def _bar_faces() -> Faces:
    k = np.arange(SIDES)
    n = (k + 1) % SIDES
    low, high = np.full(SIDES, 2 * SIDES), np.full(SIDES, 2 * SIDES + 1)
    return np.concatenate(
        [
            np.stack([k, n, n + SIDES], axis=1),
            np.stack([k, n + SIDES, k + SIDES], axis=1),
            np.stack([n, k, low], axis=1),
            np.stack([k + SIDES, n + SIDES, high], axis=1),
        ]
    )


def _hubs(centres: HubPoints, radius: float) -> tuple[HubPoints, Faces]:
    """Return balls round all hubs, each an octahedron divided in four twice."""
    points = np.array([[1.0, 0, 0], [0, 1, 0], [-1, 0, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]])
    upper = [[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]]
    lower = [[1, 0, 5], [2, 1, 5], [3, 2, 5], [0, 3, 5]]
    faces = np.array(upper + lower)
    for _ in range(2):
        points, faces = _divided(points, faces)
    shift = np.arange(len(centres))[:, None, None] * len(points)
    balls = centres[:, None] + radius * points[None]
    return balls.reshape(-1, 3), (faces[None] + shift).reshape(-1, 3)


def _divided(points: HubPoints, faces: Faces) -> tuple[HubPoints, Faces]:
    edges = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    unique, place = np.unique(edges, axis=0, return_inverse=True)
    middle = points[unique].sum(axis=1)
    middle /= np.linalg.norm(middle, axis=1, keepdims=True)
    ab, bc, ca = place.ravel().reshape(3, -1) + len(points)
    a, b, c = faces.T
    corners = [(a, ab, ca), (b, bc, ab), (c, ca, bc), (ab, bc, ca)]
    return np.concatenate([points, middle]), np.concatenate([np.stack(t, axis=1) for t in corners])
