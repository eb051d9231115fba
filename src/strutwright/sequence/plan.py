"""The order in which a shell is put up, chosen and worked out."""

from __future__ import annotations

from strutwright.brief import Brief
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress
from strutwright.sequence.choose import choose_way
from strutwright.sequence.laydown import lay_down
from strutwright.sequence.values import BuildSequence, LayDown
from strutwright.sequence.ways import crown_first, flat_courses, halves, in_place
from strutwright.sequence.yard import open_yard, remarks

__all__ = ["plan_sequence"]

WAYS = {
    "in-place": in_place,
    "flat-courses": flat_courses,
    "crown-first": crown_first,
    "halves": halves,
}


def plan_sequence(kit: Kit, brief: Brief, progress: Progress = SILENT) -> BuildSequence:
    """Return the build sequence of `kit` for the crew and the way of `brief`.

    Every state on the way is checked: mechanisms from the rank of the equilibrium matrix with
    pin-jointed hubs, deflection and buckling with the low end of the connector's stiffness; what
    a state lacks is held by named props until it can do without.

    Raises
    ------
    Cancelled
        `progress` asked to stop.
    """
    choice = choose_way(kit, brief.crew)
    yard = open_yard(kit, brief.crew.reach, choice.people, progress)
    stages = WAYS[choice.way](yard)
    strips: tuple[LayDown, ...] = ()
    if choice.way == "flat-courses":
        rows = range(1, int(kit.shell.course.max()) + 1)
        both = [lay_down(kit.shell, row, parts) for row in rows for parts in (1, 2)]
        strips = tuple(one for one in both if one is not None)
    return BuildSequence(
        stages=tuple(stages),
        way=choice.way,
        props=tuple(yard.props),
        laydown=strips,
        people=max(choice.people, *(step.people for stage in stages for step in stage.steps)),
        platform=choice.platform,
        refused=choice.refused,
        asked_height=choice.asked.height,
        asked_people=choice.asked.people,
        notes=(*choice.notes, *remarks(yard, stages)),
    )
