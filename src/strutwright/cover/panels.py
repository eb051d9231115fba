"""Rigid panels: triangles set back from the struts, bevelled, drilled, sorted into types.

A panel is drawn on the side that lies on the struts, seen from outside; its corners are cut off
where the hubs are.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.cover.dense import pack_sheets
from strutwright.cover.fit import better_nest, fit_on_sheets, least_sheets
from strutwright.cover.nest import nest_in_rows
from strutwright.cover.surface import Cloth, cloth_of
from strutwright.cover.unroll import flat_face, polygon_area, turned
from strutwright.cover.values import Nest, PanelPlan, PanelType
from strutwright.errors import InputError
from strutwright.shape import Shell
from strutwright.shape.measure import dihedrals
from strutwright.values import Floats, Indices

__all__ = ["LEAST_EDGE", "PanelWish", "edges_of", "panel_plan", "screw_pull"]

LEAST_GAP: Final = 0.004
"""m between panels over a strut that does not grow: room for a tape or a seal; our choice."""
FIRST_HOLE: Final = 0.10
"""m from a corner of the panel to its first hole, at most; our choice."""
CORNER_HOLE: Final = 0.03
"""m from a corner that is cut off to the first hole, at least; our choice."""
HOLE_EDGE: Final = 0.015
"""m from the cut edge to the middle of a hole, at most; our choice."""
LEAST_EDGE: Final = 0.009
"""m, the same at least: one and a half screws, or the sheet tears out; our choice."""
SCREW: Final = 0.006
"""m, screws through panels; holes are larger by what the panel grows."""
MATCH: Final = 0.001
"""m: panels whose edges differ by less are cut alike."""
BEVEL_MATCH: Final = np.radians(0.5)
"""rad: bevels closer than this are sawn alike."""


@dataclass(frozen=True)
class PanelWish:
    """What panels are asked to be.

    Parameters
    ----------
    offset : float, m
        Of the side that lies on the struts from the hub centres, outwards: half the depth of a
        strut, below 0 for panels inside.
    sheet : (float, float), m
        Width and length; flutes, where there are any, run along the length.
    directed : bool
        The sheet has flutes: they run down the slope.
    expansion : float, 1/K
    spread : float, K
        Between the coldest and the warmest day.
    spacing : float, m
        Of holes, at most.
    hub : float, m
        From a hub's centre to where panels begin; 0 leaves the corners on.
    seat : float, m
        How far beside the middle of a strut a screw still finds it.
    name, prefix : str
        ``outer`` or ``inner``, and what stands before the numbers of types.
    dense : bool
        The packing library may try as well, against a clock.
    """

    offset: float
    sheet: tuple[float, float]
    directed: bool
    expansion: float
    spread: float
    spacing: float
    hub: float = 0.0
    seat: float = math.inf
    name: str = "outer"
    prefix: str = "T"
    dense: bool = False


@dataclass(frozen=True)
class _Panel:
    face: int
    first: int
    outline: Floats
    corners: Floats
    setbacks: Floats
    bevels: Floats
    vent: bool


def panel_plan(shell: Shell, wish: PanelWish) -> PanelPlan:
    """Return the panels of all faces of `shell`, by type, on their sheets.

    A panel lies on the outer or the inner side of its struts. Over a strut where the faces fold by
    an angle f the planes of two panels meet beyond the line between hub centres by offset
    tan(f/2); half the gap is taken from there, and the edge is bevelled by f/2. At free edges the
    panel ends over the strut's middle, cut square. Corners are cut off straight, as far from the
    hub's centre as `wish` says.

    Raises
    ------
    InputError
        ``sheet-too-small``: a panel does not fit on the sheet; it is named.
    """
    cloth = cloth_of(shell)
    longest = float(cloth.lengths.max())
    gap = LEAST_GAP + wish.expansion * wish.spread * longest
    fold = np.pi - dihedrals(shell)
    panels = [_panel(cloth, face, fold, gap, wish) for face in range(len(cloth.faces))]
    types = _types(cloth, panels, wish)
    lying = [_lying(kind, wish) for kind in types]
    nest = _on_sheets(types, lying, wish)
    flat = tuple(outline for _, outline in lying)
    beside = max(float((k.setbacks + _hole_edges(k.setbacks, wish)).max()) for k in types)
    return PanelPlan(
        wish.name, wish.offset, types, flat, nest, gap, wish.directed, wish.seat, beside
    )


def _panel(cloth: Cloth, face: int, fold: Floats, gap: float, wish: PanelWish) -> _Panel:
    inner = cloth.across[face] >= 0
    folds = np.where(inner, fold[cloth.struts[face]], 0.0)
    setbacks = np.where(inner, gap / 2 - wish.offset * np.tan(folds / 2), 0.0)
    corners = flat_face(cloth, face)
    first = _level_edge(cloth, face) if wish.directed else _longest(cloth, face)
    order = [(first + k) % 3 for k in range(3)]
    corners = corners[order] - corners[order[0]]
    along = corners[1]
    corners = turned(corners, -float(np.arctan2(along[1], along[0])))
    outline = _inset(corners, setbacks[order])
    vent = bool(np.isin(face, cloth.vents))
    off = _corners(outline, corners, wish.hub)
    return _Panel(face, first, outline, off, setbacks[order], folds[order] / 2, vent)


def _corners(outline: Floats, hubs: Floats, reach: float) -> Floats:
    """Return what comes off along both edges at each corner of `outline`, (3,) m.

    The cut is square to the corner's bisector and leaves `reach` (m) to the hub over it, in `hubs`
    (3, 2); opposite cuts meet in no more than the middle of an edge.
    """
    ahead, behind = np.roll(outline, -1, axis=0) - outline, np.roll(outline, 1, axis=0) - outline
    long_, short = np.linalg.norm(ahead, axis=1), np.linalg.norm(behind, axis=1)
    middle = ahead / long_[:, None] + behind / short[:, None]
    half = np.linalg.norm(middle, axis=1) / 2  # cosine of half the angle
    bisector = middle / (2 * half)[:, None]
    deep = reach + np.einsum("kd,kd->k", hubs - outline, bisector)
    along = np.where(reach > 0, np.maximum(deep, 0) / half, 0.0)
    return np.asarray(np.minimum(along, np.minimum(long_, short) / 2))


def _cut_off(outline: Floats, corners: Floats) -> Floats:
    """Return `outline` (3, 2) without its corners, (3 to 6, 2)."""
    points = []
    for k in range(3):
        at, off = outline[k], float(corners[k])
        sides = (outline[k - 1] - at, outline[(k + 1) % 3] - at)
        if off > 0:
            points += [at + off * side / np.linalg.norm(side) for side in sides]
        else:
            points.append(at)
    return np.array(points)


def _level_edge(cloth: Cloth, face: int) -> int:
    rise = np.abs(
        np.roll(cloth.points[cloth.faces[face], 2], -1) - cloth.points[cloth.faces[face], 2]
    )
    slope = np.rint(rise / cloth.lengths[face] * 1e3)
    return int(np.lexsort((-np.rint(cloth.lengths[face] * 1e4), slope))[0])


def _longest(cloth: Cloth, face: int) -> int:
    return int(np.argmax(np.rint(cloth.lengths[face] * 1e4)))


def _inset(corners: Floats, by: Floats) -> Floats:
    step = np.roll(corners, -1, axis=0) - corners
    step = step / np.linalg.norm(step, axis=1)[:, None]
    inward = np.stack([-step[:, 1], step[:, 0]], axis=1)
    moved = corners + inward * by[:, None]
    out = []
    for k in range(3):
        p, q = moved[k - 1], moved[k]
        d, e = step[k - 1], step[k]
        t = ((q - p)[0] * e[1] - (q - p)[1] * e[0]) / (d[0] * e[1] - d[1] * e[0])
        out.append(p + t * d)
    return np.array(out)


_Key = tuple[tuple[int, ...], tuple[int, ...], bool]


def _types(cloth: Cloth, panels: Sequence[_Panel], wish: PanelWish) -> tuple[PanelType, ...]:
    outlines = np.array([panel.outline for panel in panels])
    edges = np.linalg.norm(np.roll(outlines, -1, axis=1) - outlines, axis=2)
    sides = _alike(edges, MATCH)
    bevels = _alike(np.array([panel.bevels for panel in panels]), BEVEL_MATCH)
    turns = 1 if wish.directed else 3
    groups: dict[_Key, list[tuple[_Panel, int]]] = defaultdict(list)
    for panel, side, bevel in zip(panels, sides, bevels, strict=True):
        key, turn = max(
            ((tuple(np.roll(side, -k).tolist()), tuple(np.roll(bevel, -k).tolist()), panel.vent), k)
            for k in range(turns)
        )
        groups[key].append((panel, turn))
    ordered = sorted(
        groups.items(), key=lambda item: (-polygon_area(item[1][0][0].outline), item[0])
    )
    label = {key: f"{wish.prefix}{n}" for n, (key, _) in enumerate(ordered, 1)}
    return tuple(
        _type(cloth, label[key], members, _mirror(key, label, turns), wish)
        for key, members in ordered
    )


def _alike(values: Floats, tolerance: float) -> Indices:
    """Return a number for each of `values`: the same for those within `tolerance` of the least."""
    flat = np.sort(values.ravel())
    starts = [float(flat[0])]
    for value in flat.tolist():
        if value > starts[-1] + tolerance:
            starts.append(value)
    return np.asarray(np.searchsorted(np.array(starts), values, side="right") - 1)


def _mirror(key: _Key, label: Mapping[_Key, str], turns: int) -> str:
    """Return the label of the mirror image; empty where it is the panel itself, or not there.

    Mirrored about the line square to its first edge, a panel's other edges change places.
    """
    sides, bevels, vent = key
    other = max(
        (_turned((sides[0], sides[2], sides[1]), k), _turned((bevels[0], bevels[2], bevels[1]), k),
         vent)
        for k in range(turns)
    )  # fmt: skip
    return "" if other == key else label.get(other, "")


def _turned(three: tuple[int, ...], k: int) -> tuple[int, ...]:
    return three[k:] + three[:k]


def _type(
    cloth: Cloth, label: str, members: Sequence[tuple[_Panel, int]], mirror: str, wish: PanelWish
) -> PanelType:
    one, turn = members[0]
    holes = _holes(one.outline, one.corners, _hole_edges(one.setbacks, wish), wish.spacing)
    cut = _cut_off(one.outline, one.corners)
    grows = wish.expansion * wish.spread * float(np.ptp(one.outline, axis=0).max())
    faces = np.array([panel.face for panel, _ in members])
    # alike panels may be turned by a third: the same edge comes first on every face
    starts = np.array([(panel.first + k - turn) % 3 for panel, k in members])
    first = cloth.faces[faces, starts]
    return PanelType(
        label, len(members), faces, first, one.outline, cut, one.corners, one.bevels, one.setbacks,
        holes, SCREW + grows, mirror, polygon_area(cut), one.vent,
    )  # fmt: skip


def _hole_edges(setbacks: Floats, wish: PanelWish) -> Floats:
    """Return how far from each cut edge its holes are, (3,) m: over the strut, if the sheet allows.

    A panel touches a round strut along the line between the hub centres; the farther a screw
    stands beside that line, the more the strut's side leans away under it.
    """
    return np.clip(wish.seat - setbacks, LEAST_EDGE, HOLE_EDGE)


def _holes(outline: Floats, corners: Floats, edges: Floats, spacing: float) -> Floats:
    inner = _inset(outline, edges)
    rows = []
    for k in range(3):
        a, b = inner[k], inner[(k + 1) % 3]
        length = float(np.linalg.norm(b - a))
        usual = min(FIRST_HOLE, length / 4)
        # a corner that is cut off starts the edge later
        start, end = (
            max(usual, float(corners[c]) + CORNER_HOLE) if corners[c] else usual
            for c in (k, (k + 1) % 3)
        )
        run = length - start - end
        if run <= 0:
            start, run = length / 2, 0.0
        count = int(np.ceil(run / spacing - 1e-9)) + 1
        share = (start + run * np.linspace(0, 1, count)) / length
        rows.append(a + share[:, None] * (b - a))
    return np.concatenate(rows)


def edges_of(kind: PanelType) -> tuple[float, float, float]:
    """Return the lengths of a panel's edges with their corners on, from its first edge on, m."""
    step = np.roll(kind.outline, -1, axis=0) - kind.outline
    a, b, c = np.linalg.norm(step, axis=1).tolist()
    return a, b, c


def screw_pull(plan: PanelPlan, pressure: Floats) -> float:
    """Return the pull on one screw of the worst panel under `pressure` (F,), Pa, N."""
    return max(
        float(pressure[kind.faces].max()) * kind.area / len(kind.holes) for kind in plan.types
    )


def _turns(kind: PanelType, wish: PanelWish) -> tuple[float, ...]:
    """Return the angles that a panel may be turned by on the sheet, rad.

    Flutes run along the sheet and up the panel from its first edge, either end first. A sheet
    without them lets any edge lie along it or across it.
    """
    if wish.directed:
        return (math.pi / 2, -math.pi / 2)
    step = np.roll(kind.outline, -1, axis=0) - kind.outline
    edges = np.arctan2(step[:, 1], step[:, 0]).tolist()
    # every second one has an edge along the sheet, the others have one across it
    return tuple(quarter * math.pi / 2 - edge for half in (0, 2) for edge in edges
                 for quarter in (half, half + 1))  # fmt: skip


def _lying(kind: PanelType, wish: PanelWish) -> tuple[float, Floats]:
    """Return the turn of a panel that lies in the narrowest lane, rad, and it in its box there."""
    width, length = wish.sheet
    tries = [(angle, turned(kind.cut, angle)) for angle in _turns(kind, wish)]
    boxed = [(angle, shape - shape.min(axis=0)) for angle, shape in tries]
    fitting = [
        both for both in boxed if (both[1].max(axis=0) <= [length + 1e-9, width + 1e-9]).all()
    ]
    if not fitting:
        size = min((shape.max(axis=0).tolist() for _, shape in boxed), key=lambda two: two[1])
        raise InputError(
            "sheet-too-small",
            f"panel {kind.label} needs {size[1]:.3f} m across and {size[0]:.3f} m along the sheet, "
            f"which is {width:.2f} by {length:.2f} m{' with flutes along it' * wish.directed}",
            "cover.sheet",
            "take a larger sheet, or a higher frequency",
        )
    return min(fitting, key=lambda both: round(float(both[1][:, 1].max()), 9))


def _on_sheets(
    types: Sequence[PanelType], lying: Sequence[tuple[float, Floats]], wish: PanelWish
) -> Nest:
    """Return the panels on sheets: in rows, fitted, or packed by the library, the better kept."""
    owner = [k for k, kind in enumerate(types) for _ in range(kind.quantity)]
    outlines = [lying[k][1] for k in owner]
    more = [
        tuple(_further(turn - angle) for turn in _turns(kind, wish))
        for kind, (angle, _) in zip(types, lying, strict=True)
    ]
    turns = [more[k] for k in owner]
    found = nest_in_rows(outlines, wish.sheet[0], (wish.sheet[1],))
    area = sum(kind.area * kind.quantity for kind in types)
    least = least_sheets(area, wish.sheet)
    # with an edge along the sheet, or any way: neither is always the better start
    for some in (slice(None), slice(None, None, 2)) if not wish.directed else (slice(None),):
        if len(found.stock) > least:
            fewer = [own[some] for own in turns]
            found = better_nest(found, fit_on_sheets(outlines, fewer, wish.sheet))
    if wish.dense and len(found.stock) > least:
        found = better_nest(found, pack_sheets(outlines, turns, wish.sheet))
    placed = tuple(replace(one, item=owner[one.item]) for one in found.placed)
    bought = len(found.stock) * wish.sheet[0] * wish.sheet[1]
    return replace(found, placed=placed, density=area / bought)


def _further(turn: float) -> float:
    """Return `turn` within half a turn either way, rad; half a turn and none exactly."""
    found = math.remainder(turn, 2 * math.pi)
    exact = min((0.0, math.pi, -math.pi), key=lambda one: abs(one - found))
    return abs(exact) if abs(exact - found) < 1e-9 else found
