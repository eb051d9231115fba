"""The values of a build sequence: stages, steps, props, ground to lay parts out on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from strutwright.values import ArrayValue, Indices, Note

__all__ = [
    "Action",
    "BuildSequence",
    "LayDown",
    "Prop",
    "Stage",
    "StageKind",
    "StateCheck",
    "Step",
    "Way",
]

Way = Literal["in-place", "flat-courses", "crown-first", "halves"]
Action = Literal["place", "flat", "raise", "lift", "brace", "unprop"]


@dataclass(frozen=True)
class Prop:
    """A temporary support that holds a hub along one direction, in push and in pull.

    Parameters
    ----------
    name : str
        ``P1``, ``P2`` ... in the order in which they are placed.
    hub : int
    foot : (x, y, z), m
        Where it stands; the prop runs from there to the hub.
    why : str
        ``mechanism``: without it the state can move; ``soft``: it would sag or sway too far;
        ``stand``: it carries a lifted part.
    """

    name: str
    hub: int
    foot: tuple[float, float, float]
    why: Literal["mechanism", "soft", "stand"]


@dataclass(frozen=True)
class StateCheck:
    """How a half-built shell stands, with the low end of the connector's stiffness.

    Parameters
    ----------
    deflection : float, m
        Largest movement of a hub under self-weight and a push of 100 N on the new hubs.
    limit : float, m
        What is allowed: a hundredth of the span.
    buckling : float
        Load factor at which self-weight and push buckle it; at least so much where `is_bound`.
    is_bound : bool
        True where only "not below" was worked out.
    wind : float, m/s
        Wind at which the bare half-built frame moves to the limit, 8 m/s at most.
    """

    deflection: float
    limit: float
    buckling: float
    is_bound: bool
    wind: float

    @property
    def passes(self) -> bool:
        """Return True when the state neither sways too far nor comes near to buckling."""
        return self.deflection <= self.limit and self.buckling >= 2.0


@dataclass(frozen=True)
class LayDown:
    """Level ground that flat parts take up, m: the box round the unrolled faces."""

    course: int
    parts: int
    length: float
    width: float


@dataclass(frozen=True, eq=False)
class Step(ArrayValue):
    """One action.

    Parameters
    ----------
    number : int
        From 1, through the whole sequence.
    struts, hubs : (n,) int array
        Placed in this step, in the order of placing.
    picks : mapping of str to int
        Number of each strut and hub type taken from the pack, by label.
    action : str
    repeats : int
        How often the same is done; `picks` counts all of them.
    props, removed, standing : tuple of str
        Props placed, taken away, and there at the end of the step, by name.
    people : int
        Needed for this step.
    reach : float, m
        Height of the highest hub worked on, above the ground.
    platform : float, m
        Height of platform needed; 0 for none.
    lift : float, kg
        Heaviest mass that one of the people lifts.
    mechanisms : int
        Free movements of the state with pin-jointed hubs and without its props.
    check : StateCheck or None
        None where the parts lie on the ground.
    last_strut : int
        Strut to fasten last, the one with most slack; -1 where it does not matter.
    slack : float, m
        What a pull of 100 N by hand gives at that strut.
    minutes : float
        Time for the people of the step, estimated.
    """

    number: int
    struts: Indices
    hubs: Indices
    picks: Mapping[str, int]
    action: Action = "place"
    repeats: int = 1
    props: tuple[str, ...] = ()
    removed: tuple[str, ...] = ()
    standing: tuple[str, ...] = ()
    people: int = 1
    reach: float = 0.0
    platform: float = 0.0
    lift: float = 0.0
    mechanisms: int = 0
    check: StateCheck | None = None
    last_strut: int = -1
    slack: float = 0.0
    minutes: float = 0.0


StageKind = Literal["legs", "base", "course", "crown"]


@dataclass(frozen=True)
class Stage:
    """A named run of steps.

    Parameters
    ----------
    kind : str
        ``legs``, ``base``, ``course`` or ``crown``.
    course : int
        Course that it builds; 0 for the base ring, -1 for legs.
    steps : tuple of Step
    half : str
        ``first`` or ``second`` where a long shell goes up in halves; else empty.
    """

    kind: StageKind
    course: int
    steps: tuple[Step, ...]
    half: Literal["", "first", "second"] = ""

    @property
    def name(self) -> str:
        """Return the stage in words, as in ``course 2, first half``."""
        name = f"course {self.course}" if self.kind == "course" else self.kind
        return f"{name}, {self.half} half" if self.half else name

    @property
    def wind(self) -> float:
        """Return the wind, m/s, above which nobody works on this stage; 8 where none is known."""
        return min((step.check.wind for step in self.steps if step.check), default=8.0)


@dataclass(frozen=True, eq=False)
class BuildSequence(ArrayValue):
    """All stages, in the order in which they are built.

    Parameters
    ----------
    way : str
    stages : tuple of Stage
    props : tuple of Prop
    laydown : tuple of LayDown
    people : int
        Crew that the sequence counts on.
    platform : float, m
        Platform that it counts on.
    refused : str
        Why the crew, reach, platform or way of the brief cannot build the shell; the sequence is
        then the nearest way that works. Empty where it is built as asked.
    asked_height : float, m
        Height at which hubs are worked on in the way that is asked for.
    asked_people : int
        People that it takes.
    notes : tuple of Note
    """

    stages: tuple[Stage, ...]
    way: Way = "in-place"
    props: tuple[Prop, ...] = ()
    laydown: tuple[LayDown, ...] = ()
    people: int = 2
    platform: float = 0.0
    refused: str = ""
    asked_height: float = 0.0
    asked_people: int = 1
    notes: tuple[Note, ...] = field(default=())

    def __post_init__(self) -> None:
        """Refuse a sequence whose steps are not numbered through."""
        numbers = [step.number for step in self.steps]
        if numbers != list(range(1, len(numbers) + 1)):
            msg = f"steps are not numbered through: {numbers}"
            raise ValueError(msg)
        super().__post_init__()

    @property
    def as_asked(self) -> bool:
        """Return whether the shell is built as the brief asks."""
        return not self.refused

    @property
    def steps(self) -> tuple[Step, ...]:
        """Return the steps of all stages."""
        return tuple(step for stage in self.stages for step in stage.steps)

    @property
    def minutes(self) -> float:
        """Return the estimated time of all steps together."""
        return sum(step.minutes for step in self.steps)

    @property
    def most_props(self) -> int:
        """Return the largest number of props that stand at once."""
        return max((len(step.standing) for step in self.steps), default=0)
