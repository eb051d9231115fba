"""Joint allowance: how far from the hub centre a strut is sawn."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.catalogue import Connector, Stock
from strutwright.errors import InputError
from strutwright.parts.choices import PartChoices
from strutwright.sentences import note
from strutwright.shape.shell import Shell
from strutwright.values import Floats, Indices, Note

__all__ = ["allowances", "check_fit", "crowded_hubs", "standard_allowance"]

AIR: Final = 2e-3
"""Left between two ends that would touch, m: play and burrs. Our choice."""


def standard_allowance(connector: Connector, stock: Stock) -> float:
    """Return the distance from hub centre to sawn end, m; negative where the end reaches past."""
    return connector.allowance + connector.allowance_per_width * stock.section.width


def check_fit(choices: PartChoices) -> None:
    """Raise InputError where the connector does not take the stock's material or shape."""
    stock, connector = choices.stock, choices.connector
    if connector.materials and stock.material.kind not in connector.materials:
        raise InputError(
            "connector-material",
            f"{connector.id} takes {', '.join(connector.materials)}, not {stock.material.kind} "
            f"({stock.id})",
            "hubs.connector",
            "choose another connector or another stock",
        )
    if connector.kind == "flattened" and not stock.is_tube:
        raise InputError(
            "connector-material",
            f"{connector.id} needs tube that can be flattened; {stock.id} is solid",
            "hubs.connector",
            "choose a plate or socket connector",
        )


def allowances(shell: Shell, connector: Connector, stock: Stock) -> Floats:
    """Return the (S, 2) joint allowances at the hubs i and j of each strut, m.

    A foot (hub of a course below 0) has the connector's foot allowance. An inner brace leaves its
    hub between other struts: its end stands back until it clears the nearest of them.
    """
    ends: Floats = np.full(shell.struts.shape, standard_allowance(connector, stock))
    ends[shell.course[shell.struts] < 0] = connector.foot_allowance
    is_brace = np.tile(shell.role == "brace", 2)
    if standard_allowance(connector, stock) > 0 and is_brace.any():
        first, second, angle = _pairs(shell)
        clear = stock.section.width / np.sin(np.minimum(angle, np.pi / 2)) + AIR
        flat = ends.T.ravel()
        for one in (first, second):
            np.maximum.at(flat, one[is_brace[one]], clear[is_brace[one]])
        ends = flat.reshape(2, -1).T
    return ends


def crowded_hubs(shell: Shell, connector: Connector, stock: Stock, ends: Floats) -> list[Note]:
    """Return a note when struts would touch near a hub at their (S, 2) allowances `ends`.

    Two round ends of diameter D at an angle a, sawn alike, touch D / (2 tan(a / 2)) from the hub
    centre. Inner braces stand back by themselves.
    """
    if standard_allowance(connector, stock) <= 0:
        return []  # ends lie on one another
    first, second, angle = _pairs(shell)
    flat, hub_of = ends.T.ravel(), shell.struts.T.ravel()
    is_brace = np.tile(shell.role == "brace", 2)
    touch = stock.section.width / (2 * np.tan(angle / 2))
    short = (touch > np.minimum(flat[first], flat[second])) & ~(is_brace[first] | is_brace[second])
    hubs = np.unique(hub_of[first[short]])
    if not len(hubs):
        return []
    return [
        note(
            "hub-crowded.more" if len(hubs) > 8 else "hub-crowded",
            n=len(hubs),
            hubs=tuple(hubs[:8].tolist()),
            allowance=standard_allowance(connector, stock),
        )
    ]


def _pairs(shell: Shell) -> tuple[Indices, Indices, Floats]:
    """Return all pairs of strut ends that share a hub, and the angle between them, rad.

    End e below S is that of strut e at its hub i, end S + e the one at its hub j.
    """
    ends = shell.hubs[shell.struts]
    along = ends[:, 1] - ends[:, 0]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    along = np.concatenate([along, -along])
    hub_of = shell.struts.T.ravel()
    order = np.argsort(hub_of, kind="stable")
    firsts, seconds = [], []
    for ahead in range(1, int(np.bincount(hub_of).max())):
        same = hub_of[order[:-ahead]] == hub_of[order[ahead:]]
        firsts.append(order[:-ahead][same])
        seconds.append(order[ahead:][same])
    first, second = np.concatenate(firsts), np.concatenate(seconds)
    cosine = np.einsum("ij,ij->i", along[first], along[second])
    return first, second, np.arccos(np.clip(cosine, -1, 1 - 1e-12))
