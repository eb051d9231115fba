"""Rules for the steps: counts, order, messages, pictures, props, what can be checked."""

from __future__ import annotations

import itertools
import math
import re
import statistics
from collections import Counter
from collections.abc import Iterator
from typing import Final

from strutwright.documents.blocks import Bullets, Caution, Heading, Paragraph, Row, Table
from strutwright.documents.book.step_pictures import shares_seen, stage_cameras
from strutwright.documents.critique.finding import Case, Finding, steps_of
from strutwright.documents.pictures.seen import LEAST_JOINED, LEAST_SEEN, MOST_TURN, Sights

__all__ = ["STEP_RULES"]

MOST_PARTS: Final = 12
MOST_STRUT_TYPES: Final = 3
MOST_HUB_TYPES: Final = 2
MOST_LIFT: Final = 25.0
MOST_DIFFICULT: Final = 2.0
"""Thresholds of a step. Source: job reference 2.3, our choice; 25 kg HSE guideline, recalled."""

ENDS: Final = 2
FASTENING: Final = 0.5
"""What a fastening counts beside a choice: both make a step harder (Richardson and others, 2004);
the weight is our choice."""


def order(case: Case) -> Iterator[Finding]:
    """Ask for every step once, in its order."""
    wanted = [f"{step.number}" for step in case.design.sequence.steps]
    found = []
    for block in steps_of(case.book):
        heading = block.blocks[0]
        number = re.search(r"\d+", heading.text) if isinstance(heading, Heading) else None
        found.append(number.group() if number else "?")
    if found != wanted:
        yield Finding("step-order", "steps", f"{len(found)} steps stand as {', '.join(found[:8])}")


def picks(case: Case) -> Iterator[Finding]:
    """Hold the boxes of the steps to their parts and to the parts list."""
    total: Counter[str] = Counter()
    for block, step in zip(steps_of(case.book), case.design.sequence.steps, strict=False):
        said = " ".join(p.text for p in block.blocks if isinstance(p, Paragraph))
        counts = {label: int(n) for n, label in re.findall(r"(\d+) × (\w+)", said)}
        total.update(counts)
        if counts != dict(step.picks):
            yield Finding("pick-box", f"step {step.number}", f"the box says {counts}")
    kit = case.design.kit
    wanted = Counter({kind.label: kind.quantity for kind in kit.strut_types})
    wanted.update({kind.label: kind.quantity for kind in kit.hub_types})
    if total != wanted:
        wrong = sorted(label for label in total | wanted if total[label] != wanted[label])
        yield Finding("parts-sum", "steps", f"the boxes do not sum to the parts: {wrong}")


def joins(case: Case) -> Iterator[Finding]:
    """Forbid a hub that is placed later."""
    there: set[int] = set()
    for block, step in zip(steps_of(case.book), case.design.sequence.steps, strict=False):
        there |= set(step.hubs.tolist())
        for table in (part for part in block.blocks if isinstance(part, Table)):
            words = " ".join(str(cell) for row in table.rows for cell in row[-1:])
            named = {int(n) for n in re.findall(r"\b\d+\b", words)}
            if later := sorted(named - there):
                yield Finding("forward-reference", f"step {step.number}", f"hubs {later}")


def size(case: Case) -> Iterator[Finding]:
    """Ask for few parts and few types in a step, and no heavy lift."""
    for step in case.design.sequence.steps:
        where = f"step {step.number}"
        once = (len(step.struts) + len(step.hubs)) / step.repeats
        if once > MOST_PARTS:
            yield Finding("parts-per-step", where, f"{once:g} parts, more than {MOST_PARTS}")
        kit = case.design.kit
        struts = len(set(kit.strut_type_of[step.struts].tolist()))
        hubs = len(set(kit.hub_type_of[step.hubs].tolist()))
        if struts > MOST_STRUT_TYPES or hubs > MOST_HUB_TYPES:
            yield Finding("live-types", where, f"{struts} strut types and {hubs} hub types")
        if step.lift > MOST_LIFT:
            yield Finding("lift", where, f"{step.lift:.0f} kg each")


def difficulty(case: Case) -> Iterator[Finding]:
    """Ask for steps alike in difficulty: what to choose among, and what to fasten."""
    hard = {}
    kit = case.design.kit
    for step in case.design.sequence.steps:
        if len(step.struts):
            choices = len(set(kit.strut_type_of[step.struts].tolist()))
            choices += len(set(kit.hub_type_of[step.hubs].tolist()))
            hard[step.number] = choices + ENDS * FASTENING * len(step.struts) / step.repeats
    median = statistics.median(hard.values()) if hard else 0.0
    for number, size in hard.items():
        if size > MOST_DIFFICULT * median:
            what = f"{size:g}, above {MOST_DIFFICULT} times the usual {median:g}"
            yield Finding("difficulty", f"step {number}", what)


def figures(case: Case) -> Iterator[Finding]:
    """Ask for the picture of a step beside it."""
    for block, step in zip(steps_of(case.book), case.design.sequence.steps, strict=False):
        shown = [f.picture for row in block.blocks if isinstance(row, Row) for f in row.figures]
        if f"step-{step.number}" not in shown:
            yield Finding("figure-with-step", f"step {step.number}", "its picture is not with it")


def messages(case: Case) -> Iterator[Finding]:
    """Ask for messages before what they concern, where they are needed."""
    for block, step in zip(steps_of(case.book), case.design.sequence.steps, strict=False):
        kinds = [type(part) for part in block.blocks]
        last = max((k for k, kind in enumerate(kinds) if kind is Caution), default=-1)
        first = min(
            (k for k, kind in enumerate(kinds) if kind in {Bullets, Row, Table}), default=99
        )
        if last > first:
            yield Finding(
                "message-before", f"step {step.number}", "a message stands after its step"
            )
        if step.mechanisms and step.props and last < 0:
            yield Finding(
                "message-missing", f"step {step.number}", "it can fold and does not say so"
            )


def checks(case: Case) -> Iterator[Finding]:
    """Ask for something to see or to measure at the end of each step."""
    for block, step in zip(steps_of(case.book), case.design.sequence.steps, strict=False):
        kinds = [isinstance(part, Row) for part in block.blocks]
        after = block.blocks[kinds.index(True) :] if True in kinds else ()
        limits = [p for p in after if isinstance(p, Paragraph) and p.weight == "limit" and p.text]
        if not limits:
            yield Finding("step-check", f"step {step.number}", "it ends without a check")


def props(case: Case) -> Iterator[Finding]:
    """Ask for every prop by name where it is placed and taken away."""
    blocks = steps_of(case.book)
    plan = case.design.sequence
    for block, step in zip(blocks, plan.steps, strict=False):
        said = " ".join(i for part in block.blocks if isinstance(part, Bullets) for i in part.items)
        for name in (*step.props, *step.removed):
            if step.action != "lift" and not re.search(rf"\b{name}\b", said):
                yield Finding("prop-named", f"step {step.number}", f"{name} is not named")
        if step.mechanisms > len(step.standing):
            yield Finding("prop-missing", f"step {step.number}", "a mechanism without a prop")
    gone = {name for step in plan.steps for name in step.removed}
    for prop in plan.props:
        if prop.name not in gone:
            yield Finding("prop-removed", prop.name, "it is placed and never taken away")


def seen(case: Case) -> Iterator[Finding]:
    """Ask for pictures of most new parts from a camera that turns little."""
    for number, (share, ends) in shares_seen(case.design).items():
        if share < LEAST_SEEN:
            yield Finding("visibility", f"step {number}", f"{share:.0%} of its parts is seen")
        if round(ends, 2) < LEAST_JOINED:
            yield Finding("joints-seen", f"step {number}", f"{ends:.0%} of their ends is seen")
    for one, two in itertools.pairwise(stage_cameras(case.design, Sights(case.design.shell))):
        turn = abs(math.remainder(one.azimuth - two.azimuth, 2 * math.pi))
        if turn > MOST_TURN + 1e-9:
            yield Finding("camera-turn", "stages", f"it turns by {math.degrees(turn):.0f}°")


def stands(case: Case) -> Iterator[Finding]:
    """Hold every half-built state to its check, and the crew to its reach."""
    plan = case.design.sequence
    for step in plan.steps:
        if step.check is not None and not step.check.passes:
            yield Finding("state", f"step {step.number}", "the state sways too far or may buckle")
        if step.platform > plan.platform + 1e-6:
            yield Finding("reach", f"step {step.number}", f"{step.reach:.2f} m is out of reach")


STEP_RULES: Final = (
    order, picks, joins, size, difficulty, figures, messages, checks, props, seen, stands,
)  # fmt: skip
"""Rules for the steps."""
