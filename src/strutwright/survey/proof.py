"""The proof load of a built shell: where to hang it, how much, and how far the hub then sinks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.parts import Kit
from strutwright.sentences import note
from strutwright.shape.orbits import hub_orbits, symmetry
from strutwright.shape.riser import feet_of
from strutwright.survey.joints import joint_range, sinks
from strutwright.survey.settings import REFERENCE
from strutwright.values import Floats, Indices, Note

__all__ = ["PROOF_SHARE", "SINK_SIGMA", "ProofLoad", "plan_proof"]

PROOF_SHARE: Final = 0.5
"""Of what the design lets hang at the hub beside its own weight: our choice."""
MOST_LOAD: Final = 1500.0
"""N, water that two people carry up in cans: our choice."""
LEAST_LOAD: Final = 50.0
"""N; a smaller load says nothing: our choice."""
FIRST_SHARE: Final = 0.2
"""Of the proof load that hangs while the first height is read, so that play is closed. Ours."""
SINK_SIGMA: Final = 0.0005
"""m, standard deviation of one sink, read on a rule against a string or staff: our choice."""
CLEAR: Final = 4.0
"""Standard deviations between softest and stiffest joints that a reading has to span. Ours."""
STEP: Final = 10.0
"""N, to which loads are rounded down."""


@dataclass(frozen=True)
class ProofLoad:
    """A load to hang on the built shell, and what it should do.

    Parameters
    ----------
    hub : int
    load : float, N
        What is added after the first reading.
    first : float, N
        What hangs already then, to close the play of joints.
    allowed : float, N
        What the design lets hang there beside its own weight.
    sink : float, m
        To expect under `load`, in the middle of `low` and `high`.
    low, high : float, m
        Sink with the stiffest and the softest joints that the connector may have, the reading's
        95 % on top.
    sigma : float, m
        Standard deviation that the reading may have.
    signal : float
        How many of these lie between softest and stiffest joints.
    temperature : float, C
        Of the frame.
    notes : tuple of Note
    """

    hub: int
    load: float
    first: float
    allowed: float
    sink: float
    low: float
    high: float
    sigma: float
    signal: float
    temperature: float
    notes: tuple[Note, ...] = ()

    @property
    def band(self) -> float:
        """Return how far the sink may lie from the one expected, m."""
        return (self.high - self.low) / 2


def plan_proof(
    kit: Kit,
    allowed: Floats,
    reach: float,
    *,
    sigma: float = SINK_SIGMA,
    temperature: float = REFERENCE,
) -> ProofLoad:
    """Return the load whose sink tells most of the joints, within what the design allows.

    Of the hubs within `reach` the one at which the sinks with the softest and the stiffest joints
    are most standard deviations apart; of all hubs, where none within reach tells enough.

    Parameters
    ----------
    allowed : (H,) array, N
        What the design lets hang at each hub beside its own weight.
    reach : float, m
        How high a load is hung by hand.

    Raises
    ------
    InputError
        ``proof-none``: the design lets nothing worth hanging hang anywhere.
    ResultError
        ``mechanism``.
    """
    hubs = _candidates(kit)
    loads = np.minimum(PROOF_SHARE * np.asarray(allowed)[hubs], MOST_LOAD)
    loads = np.floor(loads / STEP) * STEP
    hubs, loads = hubs[loads >= LEAST_LOAD], loads[loads >= LEAST_LOAD]
    if not len(hubs):
        raise InputError(
            "proof-none",
            f"no hub may carry {LEAST_LOAD / PROOF_SHARE:g} N beside the shell's own weight",
            "proof load",
            "see the hung capacity in the check, and strengthen the design first",
        )
    supposed = joint_range(kit)
    ends = (supposed.soft, supposed.stiff)
    found = [sinks(kit, one, hubs.tolist(), temperature) for one in ends]
    own = np.array([each[np.arange(len(hubs)), hubs] for each in found]) * loads
    signal = (own[0] - own[1]) / sigma
    near = kit.shell.hubs[hubs, 2] <= reach
    pool = np.flatnonzero(near & (signal >= CLEAR))
    pool = pool if len(pool) else np.arange(len(hubs))
    k = int(pool[np.argmax(signal[pool])])
    soft, stiff = float(own[0, k]), float(own[1, k])
    low, high = max(stiff - 2 * sigma, 0.0), soft + 2 * sigma
    return ProofLoad(
        hub=int(hubs[k]),
        load=float(loads[k]),
        first=float(np.floor(FIRST_SHARE * loads[k] / STEP) * STEP),
        allowed=float(allowed[hubs[k]]),
        sink=(low + high) / 2,
        low=low,
        high=high,
        sigma=sigma,
        signal=float(signal[k]),
        temperature=temperature,
        notes=_notes(float(signal[k]), near=bool(near[k])),
    )


def _candidates(kit: Kit) -> Indices:
    """Return one of every set of hubs that are images of each other, none of the base."""
    _, first = np.unique(hub_orbits(symmetry(kit.shell)), return_index=True)
    return first[~np.isin(first, [*feet_of(kit.shell), *kit.shell.base])]


def _notes(signal: float, *, near: bool) -> tuple[Note, ...]:
    notes = []
    if signal < CLEAR:
        notes.append(note("proof-weak", signal=signal))
    if not near:
        notes.append(note("proof-high"))
    return tuple(notes)
