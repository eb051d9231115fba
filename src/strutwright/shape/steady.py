"""Posts that hold what an opening has loosened, so that its frame does not lean on stiff joints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np
from scipy.sparse import csc_array, eye_array
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree

from strutwright.sentences import note
from strutwright.shape.corridor import Corridor
from strutwright.shape.edit import assemble, loosen
from strutwright.shape.measure import node_lengths
from strutwright.shape.rigidity import length_jacobian
from strutwright.shape.shell import Shell
from strutwright.values import Floats, HubPoints, Indices

__all__ = ["loose_ways", "mechanisms", "steadied"]

LOOSE: Final = 1e-3
"""A movement of the pinned shell that no strut resists by more than this share of its length's
change counts as loose: our choice, struts of a sound shell give 3e-3 and more."""
NO_STIFFNESS: Final = 1e-6
"""A movement resisted by less than this share is a mechanism: rounding gives less."""
KNOWN: Final = 0.5
"""A loose movement was there before when this share of it, squared, is made of those that were."""
DENSE: Final = 240
"""Free movements up to which all of them are worked out at once."""
FIRST: Final = 16
"""Softest movements worked out at first in a larger shell; doubled until one is not loose."""
ROUNDS: Final = 12
"""Rounds of inverse iteration: what is ten times stiffer than the softest is gone by then."""
REACH: Final = 1.6
"""A post is at most this much longer than a long strut: one that nine in ten do not exceed, since
posts of end walls and heads are longer than the shell's own struts."""
CLEAR: Final = 0.06
"""m; a post keeps this far from struts that it does not meet: our choice, above pipe widths."""
APART: Final = np.cos(np.deg2rad(12))
"""A post leaves a hub at 12 degrees or more from every strut there: our choice."""
WORTH: Final = 0.02
"""A post takes up at least this share of a unit of loose movement."""
SAME_PLACE: Final = 1e-9
"""m; hubs of two shells nearer than this are one."""
WITHIN: Final = 1e-3
"""m; a post may touch the sides of the way, not enter it by more."""


def mechanisms(shell: Shell) -> int:
    """Return how many movements of the pinned shell no strut resists, base and feet held."""
    return int(loose_ways(shell, NO_STIFFNESS).shape[2])


def loose_ways(shell: Shell, least: float = LOOSE) -> Floats:
    """Return (H, 3, m) independent movements that pinned struts hardly resist, base and feet held.

    True mechanisms and what comes near to one, after Calladine's count, see `rigidity`.
    """
    held = np.zeros(len(shell.hubs), dtype=bool)
    held[shell.base] = True
    held |= shell.course < 0
    free = np.flatnonzero(~np.repeat(held, 3))
    table = length_jacobian(shell.hubs, shell.struts).tocsc()[:, free]
    stiffness = (table.T @ table).tocsc()
    most = least**2
    if len(free) <= DENSE:
        sizes, ways = np.linalg.eigh(stiffness.toarray())
    else:
        sizes, ways = _softest(stiffness, most)
    found = ways[:, sizes < most]
    moves = np.zeros((3 * len(shell.hubs), found.shape[1]))
    moves[free] = found
    return moves.reshape(len(shell.hubs), 3, -1)


def _softest(stiffness: csc_array[np.float64], most: float) -> tuple[Floats, Floats]:
    """Return sizes (m,) and ways (n, m) of the softest movements, all below `most` among them.

    Inverse iteration of a whole subspace: single vectors would miss movements of equal size.
    """
    n = stiffness.shape[0]
    shift = LOOSE**2 / 100
    factor = splu((stiffness + shift * eye_array(n)).tocsc())
    scatter = np.random.default_rng(0)
    m = min(FIRST, n)
    while True:
        ways = scatter.standard_normal((n, m))
        for _ in range(ROUNDS):
            ways, _ = np.linalg.qr(factor.solve(ways))
        sizes, turned = np.linalg.eigh(ways.T @ np.asarray(stiffness @ ways))
        if sizes[-1] > 2 * most or m == n:
            return sizes, np.asarray(ways @ turned)
        m = min(2 * m, n)


def steadied(before: Shell, after: Shell, name: str, corridor: Corridor) -> Shell:
    """Return `after` with posts where its opening `name` made loose what was held in `before`.

    A post joins two hubs inside the shell, clear of the way through the opening and of other
    struts. What no post can hold is told in a note.
    """
    there = loose_ways(before)
    allowed, ways = there.shape[2], loose_ways(after)
    if ways.shape[2] <= allowed:
        return after
    ways = _new_ways(before, after, there, ways)
    pairs = _pairs(after, name, corridor)
    posts: list[tuple[int, int]] = []
    while ways.shape[2]:
        found = _best(after, pairs, posts, ways)
        if found is None:
            break
        posts.append((int(pairs[found][0]), int(pairs[found][1])))
        ways = _held(ways, _stretch(after.hubs, pairs[found][None], ways)[0])
    made = _with_posts(after, name, posts)
    left = loose_ways(made).shape[2] - allowed
    if left <= 0:
        return made
    return made.with_notes(note("opening-loose", name=name, ways=left))


def _new_ways(before: Shell, after: Shell, there: Floats, ways: Floats) -> Floats:
    """Return those of `ways` of `after` that are none of the movements `there` in `before`."""
    if not there.shape[2]:
        return ways
    away, place = cKDTree(before.hubs).query(after.hubs)
    same = np.less(away, SAME_PLACE)
    old = np.where(same[:, None, None], there[place], 0.0)
    shared = np.einsum("hik,hil->kl", ways, old)
    turned, sizes, _ = np.linalg.svd(shared)
    known = int((sizes > np.sqrt(KNOWN)).sum())
    return np.asarray(ways @ turned[:, known:])


def _stretch(hubs: HubPoints, pairs: Indices, ways: Floats) -> Floats:
    """Return (n, m) how much struts between `pairs` (n, 2) stretch in each of `ways`."""
    along = hubs[pairs[:, 1]] - hubs[pairs[:, 0]]
    along = along / np.linalg.norm(along, axis=1, keepdims=True)
    return np.asarray(np.einsum("ni,nim->nm", along, ways[pairs[:, 1]] - ways[pairs[:, 0]]))


def _held(ways: Floats, stretch: Floats) -> Floats:
    """Return `ways` without the one movement that a strut with `stretch` (m,) takes up."""
    _, _, turned = np.linalg.svd(stretch[None])
    return np.asarray(ways @ turned[1:].T)


def _pairs(shell: Shell, name: str, corridor: Corridor) -> Indices:
    """Return (n, 2) hubs between which a post may stand: one of them beside the opening."""
    near = np.unique(shell.faces[shell.groups[f"faces.{name}.infill"]])
    joined = {tuple(row) for row in shell.struts.tolist()}
    frames = [
        set(members.tolist())
        for group, members in shell.groups.items()
        if group.startswith("hubs.") and group.endswith(".frame")
    ]
    reach = REACH * float(np.quantile(node_lengths(shell), 0.9))
    found = []
    for hub in near.tolist():
        away = np.linalg.norm(shell.hubs - shell.hubs[hub], axis=1)
        for other in np.flatnonzero((away < reach) & (away > 0)).tolist():
            two = (min(hub, other), max(hub, other))
            if two in joined or (other in near and other < hub):
                continue
            if not any(hub in frame and other in frame for frame in frames):
                found.append(two)
    pairs = np.array(found, dtype=np.int64).reshape(-1, 2)
    clear = np.array([_leaves_free(corridor, shell.hubs[pair]) for pair in pairs], dtype=bool)
    return np.asarray(pairs[clear], dtype=np.int64)


def _leaves_free(corridor: Corridor, ends: HubPoints) -> bool:
    """Return whether a strut between `ends` (2, 3) stays out of the way through an opening."""
    a, b = corridor.local(ends)
    half = corridor.width / 2 - WITHIN
    bounds = [(0, 1, -corridor.back), (1, 1, -half), (1, -1, -half), (2, -1, WITHIN - corridor.top)]
    low, high = 0.0, 1.0
    for axis, sign, least in bounds:
        first, last = sign * a[axis] - least, sign * b[axis] - least
        if max(first, last) <= 0:
            return True
        if first < 0:
            low = max(low, first / (first - last))
        if last < 0:
            high = min(high, first / (first - last))
    return low >= high


def _best(shell: Shell, pairs: Indices, posts: list[tuple[int, int]], ways: Floats) -> int | None:
    """Return which of `pairs` takes up most movement for its length and can be built."""
    if not len(pairs):
        return None
    held = np.linalg.norm(_stretch(shell.hubs, pairs, ways), axis=1)
    length = np.linalg.norm(shell.hubs[pairs[:, 1]] - shell.hubs[pairs[:, 0]], axis=1)
    struts = np.vstack([shell.struts, np.array(posts, dtype=np.int64).reshape(-1, 2)])
    for k in _in_order(held, length):
        if _is_inside(shell, pairs[k]) and _is_clear(shell.hubs, struts, pairs[k]):
            return k
    return None


def _in_order(held: Floats, length: Floats) -> Iterator[int]:
    merit = np.where(held > WORTH, held / length, 0.0)
    for k in np.argsort(-np.round(merit, 9), kind="stable").tolist():
        if merit[k] > 0:
            yield k


def _is_inside(shell: Shell, pair: Indices) -> bool:
    """Return whether a strut between two hubs runs within the cover."""
    a, b = shell.hubs[pair]
    corners = shell.hubs[shell.faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    middle = corners.mean(axis=1)
    for share in (0.25, 0.5, 0.75):
        point = a + share * (b - a)
        face = int(np.argmin(np.linalg.norm(middle - point, axis=1)))
        if (point - middle[face]) @ normal[face] > 0:
            return False
    return True


def _is_clear(hubs: HubPoints, struts: Indices, pair: Indices) -> bool:
    """Return whether a strut between two hubs clears the others and leaves hubs well apart."""
    a, b = hubs[pair]
    along = (b - a) / np.linalg.norm(b - a)
    meets = np.isin(struts, pair)
    beside = struts[meets.any(axis=1)]
    at = np.where(np.isin(beside, pair)[:, 0], beside[:, 0], beside[:, 1])
    other = beside.sum(axis=1) - at
    ways = hubs[other] - hubs[at]
    ways /= np.linalg.norm(ways, axis=1, keepdims=True)
    sign = np.where(at == pair[0], 1.0, -1.0)
    if (sign * (ways @ along) > APART).any():
        return False
    apart = struts[~meets.any(axis=1)]
    return bool(_distance(a, b, hubs[apart[:, 0]], hubs[apart[:, 1]]).min(initial=np.inf) > CLEAR)


def _distance(a: Floats, b: Floats, c: HubPoints, d: HubPoints) -> Floats:
    """Return (n,) how near the segment a b comes to each of the segments c d, m.

    By clamping in turn (Ericson, Real-Time Collision Detection, 5.1.9, recalled).
    """
    u, v, w = b - a, d - c, a - c
    uu, vv, uv = u @ u, (v * v).sum(axis=1), v @ u
    uw, vw = w @ u, (v * w).sum(axis=1)
    below = uu * vv - uv * uv
    with np.errstate(divide="ignore", invalid="ignore"):
        s = np.where(below > 1e-12, np.clip((uv * vw - uw * vv) / below, 0, 1), 0.0)
    t = np.clip((uv * s + vw) / vv, 0, 1)
    s = np.clip((uv * t - uw) / uu, 0, 1)
    gap = w + s[:, None] * u - t[:, None] * v
    return np.asarray(np.linalg.norm(gap, axis=1))


def _with_posts(shell: Shell, name: str, posts: list[tuple[int, int]]) -> Shell:
    if not posts:
        return shell
    net = loosen(shell)
    for i, j in posts:
        net.set_role(i, j, "post")
    net.strut_groups[f"{name}.post"] = posts
    said = f"{len(posts)} posts hold the frame of {name}"
    why = note("opening-posts", posts=len(posts), name=name)
    recipe = replace(
        shell.recipe,
        steps=(*shell.recipe.steps, said),
        notes=(*shell.recipe.notes, why),
    )
    return assemble(net, recipe)
