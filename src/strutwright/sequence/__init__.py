"""The build sequence: in which order a shell goes up, and proof that it stands on the way."""

from strutwright.sequence.checks import crew_checks
from strutwright.sequence.laydown import lay_down
from strutwright.sequence.plan import plan_sequence
from strutwright.sequence.rank import looseness
from strutwright.sequence.values import BuildSequence, LayDown, Prop, Stage, StateCheck, Step

__all__ = [
    "BuildSequence",
    "LayDown",
    "Prop",
    "Stage",
    "StateCheck",
    "Step",
    "crew_checks",
    "lay_down",
    "looseness",
    "plan_sequence",
]
