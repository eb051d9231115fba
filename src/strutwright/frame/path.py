"""The nonlinear path of a frame under a growing load, up to and past its first critical point."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.equilibrium import Shape, System, balance, still, system_of
from strutwright.frame.loads import Loads
from strutwright.frame.mechanisms import spread_out
from strutwright.frame.model import FrameModel
from strutwright.frame.step import Point, arc_step, critical_shape, load_step, start_point
from strutwright.progress import SILENT, Progress, step
from strutwright.values import ArrayValue, Floats, Indices

__all__ = ["Path", "PathSettings", "imperfect", "trace"]

HALVINGS = 20
"""Most steps that close in on a critical point, as many as halving alone would take to be within
a millionth of the step (our choice: a limit load is then exact to rounding)."""

NEARLY = 0.1
"""Share of the move to the target by which its end may stand off what the tangent foresees for
it to be gone in one step (our choice: beyond, the path is followed by its arc)."""

CLOSE = 1e-9
"""Share of the load factor by which both sides of a critical point may still differ."""


@dataclass(frozen=True)
class PathSettings:
    """How far and how finely a path is followed.

    Parameters
    ----------
    target : float
        Load factor at which the path ends when nothing gives before.
    first : float
        First step, as a share of `target`.
    steps : int
        Most steps; a path cut short by them says so.
    move : float
        Largest move of a node in one step, as a share of the frame's size; a shell that snaps
        through by less than this may do so unseen.
    growth : float
        Largest step, as a multiple of the first: of its length, or of its change of load.
    stop : str
        ``critical``: end at the first limit or bifurcation point; ``target``: go on past them
        until the load factor comes to the target or the steps run out.
    element : str
        ``bowed``: with the bow of each element, 2 a member are within about 1 %; ``straight``:
        linear along its chord, as most programs have it: 8 elements a member are 1.3 % above the
        limit load of a shallow frame, 2 are 20 % unsafe.
    """

    target: float = 1.0
    first: float = 0.05
    steps: int = 400
    move: float = 0.01
    growth: float = 8.0
    stop: str = "critical"
    element: str = "bowed"

    def __post_init__(self) -> None:
        """Refuse what cannot be followed."""
        if not (np.isfinite(self.target) and self.target != 0.0):
            msg = f"target {self.target} is not a load factor"
            raise ValueError(msg)
        if not (0.0 < self.first <= 1.0 and self.steps >= 1 and self.move > 0.0):
            msg = "first is above 0 and at most 1, steps 1 or more, move above 0"
            raise ValueError(msg)
        if self.growth < 1.0 or self.stop not in {"critical", "target"}:
            msg = "growth is 1 or more, stop is 'critical' or 'target'"
            raise ValueError(msg)
        if self.element not in {"straight", "bowed"}:
            msg = f"element {self.element!r} is not 'straight' or 'bowed'"
            raise ValueError(msg)


@dataclass(frozen=True, eq=False)
class Path(ArrayValue):
    """A followed path.

    Parameters
    ----------
    factors : (P,) array
        Load factors of the points, from 0.
    watched : (P,) array, m or rad
        Displacement of the watched freedom at each point.
    watch : (2,) int array
        Its node and freedom (0 to 5).
    unstable : (P,) int array
        Negative eigenvalues of the tangent at each point; 0 is stable.
    limit_load_factor : float or None
        Factor at the first limit or bifurcation point; None when none was met.
    critical : str
        ``limit point``, ``bifurcation``, or empty.
    mode : (N, 6) array
        Shape in which the frame gives at that point; empty when none was met.
    displacements : (N, 6) array, m and rad
        At the last point; with `stop` ``critical``, just before the critical point.
    end_forces : (M, 2, 6) array, N and Nm
        At the same point, in the axes of the displaced members.
    ended : str
        ``limit point``, ``bifurcation``, ``target``, ``steps``, ``no convergence``, or these
        with ``constant load:`` before when the constant load was not reached.
    """

    factors: Floats
    watched: Floats
    watch: Indices
    unstable: Indices
    limit_load_factor: float | None
    critical: str
    mode: Floats
    displacements: Floats
    end_forces: Floats
    ended: str

    def factor_at(self, displacement: float) -> float:
        """Return the load factor where the watched freedom first has this displacement.

        Between points a parabola through the nearest three; nan where the path does not go.
        """
        w = self.watched - displacement
        across = np.flatnonzero(w[:-1] * w[1:] <= 0.0)
        if len(across) == 0:
            return float("nan")
        k = int(across[0])
        first = min(max(k - (k + 2 >= len(w)), 0), max(len(w) - 3, 0))
        x, y = self.watched[first : first + 3], self.factors[first : first + 3]
        if len(x) < 3 or not (np.diff(x) * (x[-1] - x[0]) > 0.0).all():
            x, y = self.watched[k : k + 2], self.factors[k : k + 2]
        fit = np.polynomial.Polynomial.fit(x, y, len(x) - 1)
        return float(fit(displacement))


def imperfect(model: FrameModel, shape: Floats, amplitude: float) -> FrameModel:
    """Return `model` with its nodes moved along `shape`, the largest move being `amplitude`.

    Parameters
    ----------
    shape : (N, 3) or (N, 6) array
        For instance a buckling mode of the same model; turns are left out.
    amplitude : float, m
        Negative for the other sense.
    """
    moves = np.asarray(shape, dtype=float)[:, :3]
    if moves.shape != model.nodes.shape:
        msg = f"shape has {len(moves)} rows for {len(model.nodes)} nodes"
        raise ValueError(msg)
    largest = np.linalg.norm(moves, axis=1).max()
    if not largest > 0.0:
        msg = "the shape of the imperfection moves no node"
        raise ValueError(msg)
    return replace(model, nodes=model.nodes + amplitude / largest * moves)


def trace(
    model: FrameModel,
    loads: Loads,
    settings: PathSettings | None = None,
    *,
    constant: Loads | None = None,
    watch: tuple[int, int] | None = None,
    progress: Progress = SILENT,
) -> Path:
    """Return the path of `model` as the load factor on `loads` grows from 0.

    Cut members first (`subdivide`): two elements a member at least, else the limit load comes
    out too high. Contacts count as held and ties as working both ways.

    Parameters
    ----------
    constant : Loads
        Put on first, in full, then kept.
    watch : (node, freedom)
        What `Path.watched` records; left out: what moves most at the start.
    """
    plan = settings or PathSettings()
    if constant is not None:
        alone = system_of(model, constant, Loads(), plan.element)
        before = _followed(alone, PathSettings(element=plan.element), watch, progress)
        if before[0].ended != "target":
            met = before[0].limit_load_factor
            return replace(
                before[0],
                ended=f"constant load: {before[0].ended}",
                limit_load_factor=None if met is None else 0.0,
            )
        shape = before[1]
    else:
        shape = still(model)
    system = system_of(model, loads, constant or Loads(), plan.element)
    return _followed(system, plan, watch, progress, shape)[0]


@dataclass(frozen=True, eq=False)
class _Found:
    """First critical point: factor, kind, shape of giving, and the last point before it."""

    factor: float
    kind: str
    mode: Floats
    before: Point


def _followed(
    system: System,
    plan: PathSettings,
    watch: tuple[int, int] | None,
    progress: Progress,
    shape: Shape | None = None,
) -> tuple[Path, Shape]:
    """Return the path of `system` and its last shape."""
    point = start_point(system, shape or still(system.model))
    base = point.arc_of(plan.first * plan.target, system)
    arc, points, found, ended = base, [point], None, "steps"
    for number in range(plan.steps):
        step(progress, "nonlinear path", number / plan.steps)
        limit = plan.move * _size(system.model) / point.speed(system)
        # a frame that has grown soft may move further for the same change of its load
        wide = plan.growth * max(base, point.arc_of(plan.first * plan.target, system))
        new = _last_step(system, point, min(arc, wide, limit), plan.target)
        if new is not None:
            points.append(new)
            point, ended = new, "target"
            break
        new = arc_step(system, point, min(arc, wide, limit), plan.target)
        if new is None:
            arc *= 0.25
            if arc < 1e-6 * base:
                ended = "no convergence"
                break
            continue
        if (new.factor - plan.target) * np.sign(plan.target) >= 0.0:
            exact = load_step(system, new, plan.target)
            new = exact or new
        if new.negative > point.negative and found is None:
            found, more = _closed_in(system, point, new)
            points += more
            if plan.stop == "critical":
                point, ended = found.before, found.kind
                break
        points.append(new)
        arc = new.arc * float(np.clip(np.sqrt(4.0 / max(new.rounds, 1)), 0.5, 1.5))
        point = new
        if (point.factor - plan.target) * np.sign(plan.target) >= -CLOSE * abs(plan.target):
            ended = "target"
            break
    return _path(system, points, point, found, ended, watch=watch), point.shape


def _last_step(system: System, point: Point, arc: float, target: float) -> Point | None:
    """Return the point at the target where it is within `arc` and nothing gives on the way.

    Nothing gives when the frame goes there as its tangent foresees: as far and as straight.
    """
    rest = target - point.factor
    foreseen = rest * point.reach * system.slides
    if point.arc_of(rest, system) > arc or (point.gone * foreseen).sum() < 0.0:
        return None
    new = load_step(system, point, target)
    if new is None or new.negative != point.negative:
        return None
    apart = float(np.linalg.norm(new.gone * system.slides - foreseen))
    return new if apart <= NEARLY * float(np.linalg.norm(foreseen)) else None


def _size(model: FrameModel) -> float:
    """Return the diagonal of the box round the frame, m."""
    return float(np.linalg.norm(np.ptp(model.nodes, axis=0)))


def _closed_in(system: System, before: Point, after: Point) -> tuple[_Found, list[Point]]:
    """Return the critical point between two points, by halving, and both its sides."""
    low, high = before, after
    soft = [_softest(low), _softest(high)]
    arc = after.arc
    for number in range(HALVINGS):
        onward = _towards_zero((soft[0], soft[1]), arc / after.arc, number) * after.arc
        middle = arc_step(system, low, onward, None)
        if middle is None:
            break
        if middle.negative > before.negative:
            high, arc, soft[1] = middle, onward, _softest(middle)
        else:
            low, arc, soft[0] = middle, arc - onward, _softest(middle)
        close = abs(high.factor - low.factor) <= CLOSE * abs(high.factor)
        if (close and arc < 1e-4 * after.arc) or arc < 0.5**HALVINGS * after.arc:
            break
    # across a limit point the load's own flexibility changes sign with the critical eigenvalue
    limit = (high.push @ high.reach) * (low.push @ low.reach) < 0.0
    up = 1.0 if low.factor >= before.factor else -1.0
    factor = (
        up * max(up * low.factor, up * high.factor) if limit else 0.5 * (low.factor + high.factor)
    )
    mode = spread_out(critical_shape(high), system.pattern.free, 6 * len(system.model.nodes))
    kind = "limit point" if limit else "bifurcation"
    return _Found(factor, kind, mode, low), [low, high] if low is not before else [high]


def _softest(point: Point) -> float:
    """Return the eigenvalue of the tangent that is nearest to zero."""
    shape = critical_shape(point)
    return 1.0 / float(shape @ point.factors.solve(shape))


def _towards_zero(soft: tuple[float, float], width: float, number: int) -> float:
    """Return where to look next between two sides, as shares of the first step's length.

    At the zero of the line through both, pushed towards the middle so that both sides close in,
    and never further from it than halving allows. Source: Oliveira and Takahashi, ACM
    Transactions on Mathematical Software 47 (2021) 5 (recalled).
    """
    half = 0.5 * width
    if not soft[0] > 0.0 > soft[1]:
        return half
    straight = width * soft[0] / (soft[0] - soft[1])
    side = float(np.sign(half - straight))
    pushed = 0.2 * width * width
    place = straight + side * pushed if pushed <= abs(half - straight) else half
    reach = 0.5**number - half
    return place if abs(place - half) <= reach else half - side * reach


def _path(
    system: System,
    points: list[Point],
    last: Point,
    found: _Found | None,
    ended: str,
    *,
    watch: tuple[int, int] | None,
) -> Path:
    """Return the value of a followed path."""
    model = system.model
    if watch is None:
        free, reach = system.pattern.free, np.abs(points[0].reach) * system.slides
        watch = divmod(int(free[int(np.argmax(reach))]), 6)
    shapes = np.array([p.shape.displacements()[watch] for p in points])
    clamped = last.factor * system.clamped + system.clamped_constant
    ends = balance(system, last.shape, last.factor).elements.ends + clamped
    return Path(
        np.array([p.factor for p in points]),
        shapes,
        np.array(watch),
        np.array([p.negative for p in points]),
        None if found is None else found.factor,
        "" if found is None else found.kind,
        np.empty((0, 6)) if found is None else found.mode,
        last.shape.displacements(),
        ends.reshape(len(model.members), 2, 6),
        ended,
    )
