"""Which contacts lift or slide and which ties hang slack: trial sets until one fits itself."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from strutwright.errors import ResultError
from strutwright.frame.model import Flags
from strutwright.frame.semismooth import newton_guess
from strutwright.frame.splitting import guess
from strutwright.frame.trial import OPEN, PRESSED, SLIDING, Pushes, Trial, unit_rows
from strutwright.values import Floats, Indices

__all__ = ["States", "settle_states"]

ROUNDS = 60
"""Most trial sets (our choice: a settled base takes 3 to 10)."""

QUICK = 20
"""Rounds after which ties alone are given to the general search."""

COMINGS = 3
"""Times that a set may come back (the directions of its slides may differ)."""

NOTHING = 1e-10
"""Share of the largest force below which a wrong sign is rounding."""

SAME = 1e-6
"""Share of the friction by which it may stand off the slide's direction."""

TURNS = 40
"""Most Newton rounds for the directions of the slides."""

SINGULAR = 1e-10
"""Reciprocal condition below which the freed contacts and ties leave a mechanism."""


@dataclass(frozen=True, eq=False)
class States:
    """State of each contact (C,), slack ties (T,), trial sets taken, how it ended."""

    contact: Indices
    slack: Flags
    rounds: int
    ended: str


def settle_states(pushes: Pushes, near: Floats | None = None) -> tuple[States, Floats]:
    """Return the states that agree with themselves, and the movements (3 C + T,), m.

    Wrong parts change until none is left. Where sets come back or the frame comes loose that
    way, once more from a better guess. `near`, the movements under a similar load, comes first.

    Raises
    ------
    ResultError
        Code ``mechanism``: the frame lifts off, slides away or hangs loose.
    """
    count = len(pushes.friction)
    ties = np.zeros(len(pushes.start) - 3 * count, dtype=bool)
    first = Trial(np.zeros(count, dtype=np.int64), ties, np.zeros((count, 2)))
    if count == 0:
        quick = _ties_alone(pushes, first)
        if quick is not None:
            return quick
        near = None
    close = None if near is None else newton_guess(pushes, near)
    for trial in (first,) if close is None else (close, first):
        try:
            found, moved = _search(pushes, trial)
        except ResultError:
            continue
        if found.ended == "settled":
            return found, moved
    return _search(pushes, guess(pushes))


def _ties_alone(pushes: Pushes, first: Trial) -> tuple[States, Floats] | None:
    """Return the slack ties of a frame without contacts, or None where simple rounds go astray."""
    force, length = _small(pushes)
    slack = first.slack.copy()
    for number in range(QUICK):
        rows = np.flatnonzero(slack & pushes.movable)
        moved = np.zeros(len(slack))
        if len(rows):
            try:
                moved[rows] = _solved(pushes.change[np.ix_(rows, rows)], -pushes.start[rows], first)
            except ResultError:
                return None
        pull = pushes.start + pushes.change @ moved
        wrong = np.where(slack, moved < -length, pull < -force)
        if not wrong.any():
            return States(first.contact, slack, number + 1, "settled"), moved
        slack = slack ^ wrong
    return None


def _small(pushes: Pushes) -> tuple[float, float]:
    """Return the force and the movement that count as rounding."""
    force = float(np.abs(pushes.start).max(initial=0.0)) * NOTHING
    stiff = np.abs(np.diag(pushes.change))
    length = force / float(np.median(stiff[stiff > 0.0])) if (stiff > 0.0).any() else 0.0
    return force, length


def _search(pushes: Pushes, trial: Trial) -> tuple[States, Floats]:
    """Return states and movements by trial sets from a first one."""
    force, length = _small(pushes)
    seen: dict[bytes, int] = {}
    moved = np.zeros(len(pushes.start))
    ended = "rounds"
    for _ in range(ROUNDS):
        moved, slide = _moved(pushes, trial)
        trial = replace(trial, slide=slide)
        changes = _wrong(pushes, trial, moved, force, length)
        if not changes:
            ended = "settled"
            break
        seen[trial.key()] = seen.get(trial.key(), 0) + 1
        if seen[trial.key()] > COMINGS:
            ended = "cycling"
            break
        trial = _changed(pushes, trial, changes, moved)
    rounds = sum(seen.values()) + 1
    return States(trial.contact, trial.slack, rounds, ended), moved


def _loosened(pushes: Pushes, trial: Trial) -> Indices:
    """Return the unknowns that move under a trial set."""
    count = len(pushes.friction)
    loose = np.zeros(len(pushes.start), dtype=bool)
    parts = loose[: 3 * count].reshape(count, 3)
    parts[np.flatnonzero(trial.contact == OPEN)] = True
    parts[np.flatnonzero(trial.contact == SLIDING), 1:] = True
    loose[3 * count :] = trial.slack
    return np.flatnonzero(loose & pushes.movable)


def _moved(pushes: Pushes, trial: Trial) -> tuple[Floats, Floats]:
    """Return movements with which the open, sliding and slack parts have their force, and slides.

    First every slide keeps the direction of the trial; then Newton's method turns it against its
    friction. A slide that turns back ends the search: `_wrong` sees it.
    """
    rows, turned = _loosened(pushes, trial), trial.slide.copy()
    moved = np.zeros(len(pushes.start))
    if len(rows) == 0:
        return moved, turned
    sliding = np.flatnonzero(trial.contact == SLIDING)
    ways = _ways(pushes, trial, rows)
    matrix, missing = _friction_rows(pushes, moved, turned, sliding)
    reduced = ways.T @ matrix[np.ix_(rows, rows)] @ ways
    moved[rows] = ways @ _solved(reduced, -ways.T @ missing[rows], trial)
    for _ in range(TURNS if len(sliding) else 0):
        slide = _slides(pushes, moved)
        if (np.einsum("ci,ci->c", slide, turned)[sliding] <= 0.0).any():
            break
        turned[sliding] = unit_rows(slide)[sliding]
        matrix, missing = _friction_rows(pushes, moved, turned, sliding)
        if np.abs(missing[rows]).max() <= 1e-12 * np.abs(pushes.start).max():
            break
        push = pushes.start + pushes.change @ moved
        for k in sliding:
            most = max(float(pushes.friction[k] * push[3 * k]), 0.0)
            across = np.eye(2) - np.outer(turned[k], turned[k])
            here = slice(3 * k + 1, 3 * k + 3)
            matrix[here, here] += most / float(np.linalg.norm(slide[k])) * across
        moved[rows] += _solved(matrix[np.ix_(rows, rows)], -missing[rows], trial)
    return moved, turned


def _slides(pushes: Pushes, moved: Floats) -> Floats:
    """Return (C, 2) slides of the contacts."""
    count = len(pushes.friction)
    return moved[: 3 * count].reshape(count, 3)[:, 1:]


def _ways(pushes: Pushes, trial: Trial, rows: Indices) -> Floats:
    """Return what `rows` do when each slide has one unknown, its size, and others their own."""
    count = len(pushes.friction)
    columns = []
    for place, row in enumerate(rows):
        contact = int(row) // 3
        column = np.zeros(len(rows))
        if contact < count and trial.contact[contact] == SLIDING:
            both = np.flatnonzero(rows // 3 == contact)
            if place != both[0]:
                continue
            column[both] = trial.slide[contact][rows[both] % 3 - 1]
        else:
            column[place] = 1.0
        columns.append(column)
    return np.column_stack(columns)


def _friction_rows(
    pushes: Pushes, moved: Floats, slide: Floats, sliding: Indices
) -> tuple[Floats, Floats]:
    """Return stiffness and force, with friction of given directions taken off the sliding rows."""
    matrix = pushes.change.copy()
    missing = pushes.start + pushes.change @ moved
    for k in sliding:
        for part in (0, 1):
            share = pushes.friction[k] * slide[k, part]
            matrix[3 * k + 1 + part] += share * pushes.change[3 * k]
            missing[3 * k + 1 + part] += share * (pushes.start + pushes.change @ moved)[3 * k]
    return matrix, missing


def _solved(matrix: Floats, rest: Floats, trial: Trial) -> Floats:
    """Return the solution of a small dense system, or raise when it is singular."""
    if np.linalg.cond(matrix, 1) * SINGULAR > 1.0:
        raise _loose(trial)
    return np.asarray(np.linalg.solve(matrix, rest))


def _wrong(
    pushes: Pushes, trial: Trial, moved: Floats, force: float, length: float
) -> list[tuple[int, int]]:
    """Return (part, next state) of what breaks its condition: contacts first, then C + tie."""
    count = len(pushes.friction)
    q = pushes.start + pushes.change @ moved
    found = []
    for k in range(count):
        here = slice(3 * k, 3 * k + 3)
        friction = float(pushes.friction[k])
        own = _Contact(q[here], moved[here], pushes.movable[here], friction, trial.slide[k])
        state = _next_state(int(trial.contact[k]), own, force, length)
        if state is not None:
            found.append((k, state))
    for k, slack in enumerate(trial.slack):
        pull, gap = q[3 * count + k], moved[3 * count + k]
        if (not slack and pull < -force) or (slack and gap < -length):
            found.append((count + k, int(not slack)))
    return found


@dataclass(frozen=True, eq=False)
class _Contact:
    """Forces and movements (push or lift, then across) of one contact, and its trial direction."""

    force: Floats
    moved: Floats
    movable: Flags
    friction: float
    direction: Floats


def _next_state(state: int, own: _Contact, force: float, length: float) -> int | None:
    """Return the state that a contact should change to, or None where its conditions hold."""
    if state == OPEN:
        return PRESSED if own.moved[0] < -length else None
    if own.force[0] < -force and own.movable[0]:
        return OPEN
    drag = np.where(own.movable[1:], own.force[1:], 0.0)
    if state == SLIDING:
        return _next_slide(own, drag, length)
    if not own.movable[1:].any() or not np.isfinite(own.friction):
        return None
    most = own.friction * max(float(own.force[0]), 0.0)
    return SLIDING if float(np.linalg.norm(drag)) > most + force else None


def _next_slide(own: _Contact, drag: Floats, length: float) -> int | None:
    """Return `PRESSED` where a slide turned back, `SLIDING` where its direction has not settled."""
    if float(own.moved[1:] @ own.direction) < -length:
        return PRESSED
    size = float(np.linalg.norm(own.moved[1:]))
    most = own.friction * float(own.force[0])
    if size > length and np.abs(drag + most / size * own.moved[1:]).max() > SAME * most:
        return SLIDING
    return None


def _changed(pushes: Pushes, trial: Trial, changes: list[tuple[int, int]], moved: Floats) -> Trial:
    """Return the next trial set."""
    count = len(pushes.friction)
    contact, slack, slide = trial.contact.copy(), trial.slack.copy(), trial.slide.copy()
    q = pushes.start + pushes.change @ moved
    for part, state in changes:
        if part >= count:
            slack[part - count] = bool(state)
            continue
        contact[part] = state
        if state == SLIDING and trial.contact[part] == SLIDING:
            slide[part] = moved[3 * part + 1 : 3 * part + 3]
        elif state == SLIDING:  # it goes the way the frame pushes it: against the drag
            across = slice(3 * part + 1, 3 * part + 3)
            slide[part] = np.where(pushes.movable[across], -q[across], 0.0)
    return Trial(contact, slack, unit_rows(slide))


def _loose(trial: Trial) -> ResultError:
    """Return the error of a frame that its contacts and ties no longer hold."""
    lifted, sliding = (np.flatnonzero(trial.contact == s) for s in (OPEN, SLIDING))
    slack = np.flatnonzero(trial.slack)
    words = [
        f"{name} {', '.join(str(int(k)) for k in rows[:8])}"
        for name, rows in (("lifted", lifted), ("sliding", sliding), ("slack ties", slack))
        if len(rows)
    ]
    return ResultError(
        "mechanism",
        "the frame lifts off, slides away or hangs loose: what still works does not hold it",
        "contacts " + "; ".join(words),
        "anchor the base, add weight, or brace the frame so that ties stay in tension",
    )
