"""Candidates for classes of struts, judged by how far hubs would move.

Near a fit the movement is linear in the lengths, so every merge, change of class and split is
judged at once by the movement that the linear answer foretells; length alone would mislead.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.shape import fewer_solve as fs
from strutwright.shape.fewer_model import Reduced
from strutwright.shape.fewer_solve import Fit
from strutwright.values import Floats, Indices

__all__ = ["Proposal", "merge_chain", "merges", "splits", "transfers"]

TRIES: Final = 6
"""Candidates of one kind that are put forward from one fit."""
SHORTLIST: Final = 100
"""Merges, least in sum of squares, whose largest movement is foretold."""
TINY: Final = 1e-30
"""Keeps a division by a squared length from failing where nothing moves."""

Proposal = tuple[float, Indices]
"""Largest movement foretold, m, and the class of each orbit."""


def merges(model: Reduced, found: Fit) -> list[Proposal]:
    """Return the best ways to give two classes one length."""
    k = len(found.class_lengths)
    member = np.eye(k)[found.class_of]
    answer = fs.respond(model, found.q, found.class_of, found.class_lengths, member)
    by_class = answer.by_length
    inverse = _inverse_gram(by_class)
    a, b = np.triu_indices(k, 1)
    apart = found.class_lengths[a] - found.class_lengths[b]
    pull = inverse[:, a] - inverse[:, b]
    each = np.arange(len(a))
    # least-squares change of all class lengths that closes the gap between the two
    change = -pull * (apart / (pull[a, each] - pull[b, each]))
    squares = apart**2 / (pull[a, each] - pull[b, each])
    near = np.argsort(squares, kind="stable")[:SHORTLIST]
    score = _foretold(model, found.q, by_class @ change[:, near])
    return [
        (float(score[i]), _joined(found.class_of, a[near[i]], b[near[i]]))
        for i in np.argsort(score, kind="stable")[:TRIES]
    ]


def merge_chain(model: Reduced, found: Fit, down_to: int) -> list[Proposal]:
    """Return the one way that merges, each the least in sum of squares, lead to `down_to` classes.

    All merges are judged on the linear answer of `found`: for shells too large to solve each.
    """
    k = len(found.class_lengths)
    member = np.eye(k)[found.class_of]
    answer = fs.respond(model, found.q, found.class_of, found.class_lengths, member)
    gram = answer.by_length.T @ answer.by_length
    now, class_of = found.class_lengths, found.class_of
    for size in range(k, down_to, -1):
        inverse = np.linalg.inv(gram)
        a, b = np.triu_indices(size, 1)
        spread = inverse[a, a] - 2 * inverse[a, b] + inverse[b, b]
        least = int(np.argmin((now[a] - now[b]) ** 2 / spread))
        i, j = int(a[least]), int(b[least])
        change = -(inverse[:, i] - inverse[:, j]) * ((now[i] - now[j]) / spread[least])
        join = np.delete(np.eye(size), j, axis=1)
        join[j, i] = 1.0
        now = np.delete(now + change, j)
        gram = join.T @ gram @ join
        class_of = _joined(class_of, i, j)
    return [(0.0, class_of)]


def transfers(model: Reduced, found: Fit) -> list[Proposal]:
    """Return the best ways to move one orbit of struts to another class."""
    k = len(found.class_lengths)
    rest = _beyond_classes(model, found)
    alone = np.bincount(found.class_of, minlength=k)[found.class_of] == 1
    orbit, to = np.nonzero((np.arange(k) != found.class_of[:, None]) & ~alone[:, None])
    apart = found.class_lengths[to] - found.class_lengths[found.class_of[orbit]]
    score = _foretold(model, found.q, rest[:, orbit] * apart)
    proposals = []
    for i in np.argsort(score, kind="stable")[:TRIES]:
        class_of = found.class_of.copy()
        class_of[orbit[i]] = to[i]
        proposals.append((float(score[i]), class_of))
    return proposals


def splits(model: Reduced, found: Fit) -> list[Proposal]:
    """Return the best ways to cut one class in two, its orbits in the order of their pull."""
    rest = _beyond_classes(model, found)
    pull = rest.T @ found.q / np.maximum(np.einsum("nm,nm->m", rest, rest), TINY)
    parts: list[Indices] = []
    changes: list[Floats] = []
    for c in range(len(found.class_lengths)):
        members = np.flatnonzero(found.class_of == c)
        members = members[np.argsort(pull[members], kind="stable")]
        for cut in range(1, len(members)):
            together = rest[:, members[:cut]].sum(axis=1)
            share = (together @ found.q) / max(together @ together, TINY)
            parts.append(members[:cut])
            changes.append(-share * together)
    if not parts:
        return []
    score = _foretold(model, found.q, np.array(changes).T)
    proposals = []
    for i in np.argsort(score, kind="stable")[:TRIES]:
        class_of = found.class_of.copy()
        class_of[parts[i]] = len(found.class_lengths)
        proposals.append((float(score[i]), class_of))
    return proposals


def _beyond_classes(model: Reduced, found: Fit) -> Floats:
    """Return (n, m): what is left of the answer to each orbit's length when classes adapt."""
    n_orbits = len(found.class_of)
    answer = fs.respond(model, found.q, found.class_of, found.class_lengths, np.eye(n_orbits))
    by_class = answer.by_length @ np.eye(len(found.class_lengths))[found.class_of]
    adapted = _inverse_gram(by_class) @ (by_class.T @ answer.by_length)
    return np.asarray(answer.by_length - by_class @ adapted)


def _inverse_gram(rows: Floats) -> Floats:
    gram = rows.T @ rows
    gram[np.diag_indices_from(gram)] *= 1 + 1e-12
    return np.asarray(np.linalg.inv(gram), dtype=np.float64)


def _foretold(model: Reduced, q: Floats, changes: Floats) -> Floats:
    """Return (c,) largest movement of a hub at q + changes (n, c), m."""
    order = np.argsort(model.owner, kind="stable")
    first = np.flatnonzero(np.diff(model.owner[order], prepend=-1))
    squares = (q[order, None] + changes[order]) ** 2
    return np.asarray(np.sqrt(np.add.reduceat(squares, first, axis=0).max(axis=0)))


def _joined(class_of: Indices, first: int, second: int) -> Indices:
    """Return `class_of` with class `second` joined to `first` < `second`, numbered from 0."""
    joined = np.where(class_of == second, first, class_of)
    return np.asarray(joined - (joined > second), dtype=np.int64)
