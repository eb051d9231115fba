"""Frames on supports that only push, with friction, and with ties that only pull.

One factorisation serves all load cases: with every contact held and every tie working, the forces
there follow linearly from what the contacts lift and slide and what the ties hang slack. A small
dense system finds which do.

Friction is Coulomb's with the load growing in proportion from zero: sliding then keeps its
direction, and the end of the path follows without its middle. Where loads come and go, solve the
stages one by one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from strutwright.frame.active import States, settle_states
from strutwright.frame.assemble import held_freedoms
from strutwright.frame.loads import Loads, combine
from strutwright.frame.model import Contacts, Flags, FrameModel
from strutwright.frame.solve import Factored, Response, factor, respond
from strutwright.frame.trial import OPEN, SLIDING, Pushes
from strutwright.values import ArrayValue, Floats, Indices

__all__ = [
    "ContactFrame",
    "ContactResponse",
    "Settlement",
    "contact_forces",
    "contact_frame",
    "respond_contact",
    "settle",
    "settled",
    "solve_contact",
]

BATCH = 32
"""Unit cases solved at once: bounds the memory of large frames."""


@dataclass(frozen=True, eq=False)
class ContactFrame:
    """A frame with contacts and ties, ready for load cases.

    Parameters
    ----------
    factored : Factored
        All contacts held, all ties working.
    ties : (T,) int array
        Members that only pull.
    change : (3 C + T, 3 C + T) array
        Forces (push, two of friction, for each contact; tie force) for unit lifts, slides, gaps.
    units : tuple of Loads
        Unit lift, slide or gap of each unknown that can be; `answers` are the responses to them.
    answers : tuple of Response
    """

    factored: Factored
    ties: Indices
    change: Floats
    units: tuple[Loads, ...]
    answers: tuple[Response, ...]


@dataclass(frozen=True, eq=False)
class Settlement(ArrayValue):
    """What lifts, slides and hangs slack, and by how much.

    Parameters
    ----------
    shares : (U,) array, m
        Multiples of the frame's unit cases to be added to the held response.
    lifted, sliding : (C,) bool array
    slack : (T,) bool array
        Of the frame's ties.
    rounds : int
    ended : str
        As in `ContactResponse`.
    """

    shares: Floats
    lifted: Flags
    sliding: Flags
    slack: Flags
    rounds: int
    ended: str


@dataclass(frozen=True, eq=False)
class ContactResponse(ArrayValue):
    """Response of a frame with contacts and ties to one load case.

    Parameters
    ----------
    response : Response
        Reactions hold the contacts' pushes and friction.
    lifted, sliding : (C,) bool array
        Contacts that are open; that are pressed but slide.
    slack : (M,) bool array
        Ties that hang slack.
    rounds : int
        Trial sets it took.
    ended : str
        ``settled``; ``cycling`` or ``rounds`` when no set was found that agrees with itself: the
        numbers then break some condition and must not be used.
    """

    response: Response
    lifted: Flags
    sliding: Flags
    slack: Flags
    rounds: int
    ended: str


def contact_frame(model: FrameModel) -> ContactFrame:
    """Return `model` ready for load cases with its contacts and ties.

    Raises
    ------
    ResultError
        Code ``mechanism``: the frame can move even with all contacts held and all ties working.
    """
    if model.springs[held_freedoms(model) & ~model.fixed].any():
        msg = "a contact has a ground spring beside it: give the spring a node of its own"
        raise ValueError(msg)
    factored = factor(model)
    ties = np.flatnonzero(model.tension_only)
    units = _units(factored, ties)
    answers: list[Response] = []
    for first in range(0, len(units), BATCH):
        answers += respond(factored, units[first : first + BATCH])
    columns = [_forces(factored.model, ties, answer) for answer in answers]
    size = 3 * len(model.contacts.nodes) + len(ties)
    change = np.column_stack(columns) if columns else np.zeros((size, 0))
    whole = np.zeros((size, size))
    whole[:, _movable(factored.model, ties)] = change
    return ContactFrame(factored, ties, whole, tuple(units), tuple(answers))


def _movable(model: FrameModel, ties: Indices) -> Flags:
    """Return (3 C + T,) bool: unknowns the linear frame holds; a smooth contact's slides it frees.

    A freedom that the model fixes too never moves.
    """
    touching = model.contacts
    axes = (touching.axis[:, None] + np.arange(3)) % 3
    rough = np.ones((len(touching.nodes), 3), dtype=bool)
    rough[:, 1:] = (touching.friction > 0.0)[:, None]
    free = ~model.fixed[touching.nodes[:, None], axes]
    return np.concatenate([(rough & free).ravel(), np.ones(len(ties), dtype=bool)])


def _units(factored: Factored, ties: Indices) -> list[Loads]:
    """Return a load case for each unit lift, slide and shortening of a tie that can be."""
    model, touching = factored.model, factored.model.contacts
    units = []
    for unknown in np.flatnonzero(_movable(model, ties)):
        contact, part = divmod(int(unknown), 3)
        if contact < len(touching.nodes):
            moves = np.zeros((len(model.nodes), 6))
            axis = (int(touching.axis[contact]) + part) % 3
            moves[touching.nodes[contact], axis] = touching.sign[contact] if part == 0 else 1.0
            units.append(Loads(moves=moves))
        else:
            strain = np.zeros(len(model.members))
            tie = ties[int(unknown) - 3 * len(touching.nodes)]
            strain[tie] = -1.0 / factored.elements.length[tie]
            units.append(Loads(strain=strain))
    return units


def _forces(model: FrameModel, ties: Indices, answer: Response) -> Floats:
    """Return (3 C + T,) pushes and friction of the contacts, and tie forces."""
    touching = model.contacts
    axes = (touching.axis[:, None] + np.arange(3)) % 3
    at = answer.reactions[touching.nodes[:, None], axes]
    at = np.column_stack([at[:, 0] * touching.sign, at[:, 1:]])
    return np.concatenate([at.ravel(), answer.axial[ties]])


def contact_forces(frame: ContactFrame, held: Response) -> Floats:
    """Return (3 C + T,) what a response of the held frame asks of its contacts and ties, N.

    The push and both frictions of each contact, then the force of each tie, tension positive.
    Forces of load cases may be added up, each times its factor, before they are settled.
    """
    return _forces(frame.factored.model, frame.ties, held)


def settle(frame: ContactFrame, forces: Floats, near: Settlement | None = None) -> Settlement:
    """Return what lifts, slides and hangs slack under forces of the held frame.

    Parameters
    ----------
    forces : (3 C + T,) array, N
        From `contact_forces`; a weight that presses a contact from above is added to its push.
    near : Settlement
        Of a similar load: tried first.

    Raises
    ------
    ResultError
        Code ``mechanism``: the frame lifts off, slides away or hangs loose.
    """
    model = frame.factored.model
    movable = _movable(model, frame.ties)
    pushes = Pushes(forces, frame.change, movable, model.contacts.friction)
    start = np.zeros(len(forces))
    if near is not None:
        start[movable] = near.shares
    states, moved = settle_states(pushes, start)
    return Settlement(
        moved[movable],
        states.contact == OPEN,
        states.contact == SLIDING,
        states.slack,
        states.rounds,
        states.ended,
    )


def respond_contact(frame: ContactFrame, loads: Sequence[Loads]) -> tuple[ContactResponse, ...]:
    """Return the response to each load case, each with its own lifted, sliding and slack parts.

    Raises
    ------
    ResultError
        Code ``mechanism``: the frame lifts off, slides away or hangs loose under a load case.
    """
    model, ties = frame.factored.model, frame.ties
    out = []
    held = respond(frame.factored, loads)
    for load, answer in zip(loads, held, strict=True):
        pushes = Pushes(
            _forces(model, ties, answer),
            frame.change,
            _movable(model, ties),
            model.contacts.friction,
        )
        states, moved = settle_states(pushes)
        out.append(_response(frame, load, states, moved))
    return tuple(out)


def _response(frame: ContactFrame, load: Loads, states: States, moved: Floats) -> ContactResponse:
    """Return the response once it is known what lifts, slides and hangs slack."""
    model, ties = frame.factored.model, frame.ties
    touching, count = model.contacts, len(model.contacts.nodes)
    moves = np.zeros((len(model.nodes), 6))
    strain = np.zeros(len(model.members))
    axes = (touching.axis[:, None] + np.arange(3)) % 3
    given = moved[: 3 * count].reshape(count, 3).copy()
    given[:, 0] *= touching.sign
    moves[touching.nodes[:, None], axes] = given
    strain[ties] = -moved[3 * count :] / frame.factored.elements.length[ties]
    extra = Loads(moves=moves, strain=strain)
    (answer,) = respond(frame.factored, [combine([load, extra], [1.0, 1.0])])
    slack = np.zeros(len(model.members), dtype=bool)
    slack[ties] = states.slack
    return ContactResponse(
        answer,
        states.contact == OPEN,
        states.contact == SLIDING,
        slack,
        states.rounds,
        states.ended,
    )


def solve_contact(model: FrameModel, loads: Sequence[Loads]) -> tuple[ContactResponse, ...]:
    """Return the response of `model`, with its contacts and ties, to each load case."""
    return respond_contact(contact_frame(model), loads)


def settled(model: FrameModel, loads: Loads, found: ContactResponse) -> tuple[FrameModel, Loads]:
    """Return a frame without contacts that answers `loads` as `found`, for stability searches.

    Pressed contacts become held freedoms, friction of sliding ones becomes a force, slack ties
    lose their stiffness along the member.
    """
    touching = model.contacts
    fixed, forces = model.fixed.copy(), np.zeros((len(model.nodes), 6))
    for k, node in enumerate(touching.nodes):
        axis = int(touching.axis[k])
        across = [(axis + 1) % 3, (axis + 2) % 3]
        fixed[node, axis] |= not found.lifted[k]
        if found.sliding[k]:
            forces[node, across] = found.response.reactions[node, across]
        elif not found.lifted[k] and touching.friction[k] > 0.0:
            fixed[node, across] = True
    axial = model.end_axial.copy()
    axial[found.slack, 0] = 0.0
    ties = model.tension_only & ~model.tension_only
    rest = replace(model, fixed=fixed, end_axial=axial, contacts=Contacts(), tension_only=ties)
    return rest, combine([loads, Loads(np.where(fixed, 0.0, forces))], [1.0, 1.0])
