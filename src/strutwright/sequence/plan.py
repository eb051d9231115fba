"""The order in which a shell is put up, and what is taken from the pack for each step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.values import ArrayValue, Indices

__all__ = ["BuildSequence", "Stage", "Step", "by_courses"]


@dataclass(frozen=True, eq=False)
class Step(ArrayValue):
    """One action.

    Parameters
    ----------
    number : int
        From 1, through the whole sequence.
    struts, hubs : (n,) int array
        Placed in this step.
    picks : mapping of str to int
        Number of each strut and hub type taken from the pack, by label.
    """

    number: int
    struts: Indices
    hubs: Indices
    picks: Mapping[str, int]


@dataclass(frozen=True)
class Stage:
    """A named run of steps.

    Parameters
    ----------
    kind : str
        ``legs``, ``base`` or ``course``.
    course : int
        Course that it builds; 0 for the base ring, -1 for legs.
    steps : tuple of Step
    """

    kind: str
    course: int
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class BuildSequence:
    """All stages, in the order in which they are built."""

    stages: tuple[Stage, ...]

    def __post_init__(self) -> None:
        """Refuse a sequence whose steps are not numbered through."""
        numbers = [step.number for stage in self.stages for step in stage.steps]
        if numbers != list(range(1, len(numbers) + 1)):
            msg = f"steps are not numbered through: {numbers}"
            raise ValueError(msg)


def by_courses(kit: Kit) -> BuildSequence:
    """Return the plain order from the ground up: legs, base ring, then course after course.

    A strut belongs to the course of its higher end; what stands on legs begins with them.
    """
    shell = kit.shell
    of_strut = shell.course[shell.struts].max(axis=1)
    of_strut = np.where(shell.course[shell.struts].min(axis=1) < 0, -1, of_strut)
    stages: list[Stage] = []
    for course in np.unique(np.concatenate([of_strut, shell.course])).tolist():
        struts = np.flatnonzero(of_strut == course)
        hubs = _hubs(shell, course, has_legs=bool((shell.course < 0).any()))
        if not struts.size and not hubs.size:
            continue
        kind = {-1: "legs", 0: "base"}.get(course, "course")
        step = Step(len(stages) + 1, struts, hubs, _picks(kit, struts, hubs))
        stages.append(Stage(kind, course, (step,)))
    return BuildSequence(tuple(stages))


def _hubs(shell: Shell, course: int, *, has_legs: bool) -> Indices:
    """Return the hubs placed with `course`; those of the base ring come with the legs."""
    if has_legs and course <= 0:
        return np.flatnonzero(shell.course <= 0) if course < 0 else np.empty(0, dtype=np.int64)
    return np.flatnonzero(shell.course == course)


def _picks(kit: Kit, struts: Indices, hubs: Indices) -> dict[str, int]:
    n_strut = np.bincount(kit.strut_type_of[struts], minlength=len(kit.strut_types))
    n_hub = np.bincount(kit.hub_type_of[hubs], minlength=len(kit.hub_types))
    struts_of = zip([kind.label for kind in kit.strut_types], n_strut.tolist(), strict=True)
    hubs_of = zip([kind.label for kind in kit.hub_types], n_hub.tolist(), strict=True)
    return {label: int(n) for label, n in (*struts_of, *hubs_of) if n}
