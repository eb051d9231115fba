"""How the command line shows a survey and a plan of readings."""

from __future__ import annotations

from strutwright.cli.shown import note_line
from strutwright.survey import Checked, SurveyPlan, SurveyResult
from strutwright.units import show_force, show_length

__all__ = ["plan_lines", "survey_lines"]


def plan_lines(plan: SurveyPlan, system: str) -> list[str]:
    """Return `plan` as lines: a table that READINGS.csv can be written from."""
    lines = [
        f"{plan.n_swaps} swaps of unlike neighbours can be forced together; {plan.n_open} do not "
        f"close and are seen when building; {plan.n_like} differ too little to plan for.",
    ]
    if not plan.readings:
        return [*lines, "No reading is needed to tell them apart, or none is within reach."]
    lines.append(
        f"Tape these hub to hub at the centres, no hub higher than "
        f"{show_length(plan.reach, system)}, in this order:"
    )
    lines.append("      from  to   a true shell reads      then among the first three suspects")
    lines += [
        f"{place:>3}.  {one.hubs[0]:>4}  {one.hubs[1]:>3}   "
        f"{show_length(one.expected, system)} ± {show_length(2 * one.sigma, system):<10}  "
        f"{one.told:.0%} of the swaps"
        for place, one in enumerate(plan.readings, start=1)
    ]
    return lines


def survey_lines(result: SurveyResult, system: str) -> list[str]:
    """Return `result` as lines: readings, suspects, what is not known, notes."""
    moved = float(abs(result.shape - result.design).max())
    lines = [
        f"{len(result.checked)} readings used, redundancy {result.redundancy}; largest "
        f"movement {show_length(moved, system)}; base spread {_signed(result.spread, system)}.",
    ]
    if result.checked:
        lines.append("line  reading                 measured        off design   residual   w")
    lines += [_row(one, system) for one in result.checked]
    lines += _suspects(result, system)
    lines += _pulls(result, system)
    lines += [f"cannot know: {text}" for text in result.cannot_know]
    lines += [note_line(note, system) for note in result.notes]
    return lines


def _suspects(result: SurveyResult, system: str) -> list[str]:
    if not result.checked:
        return ["No reading of the shape was used: nothing is known of how the shell stands."]
    if not result.suspects:
        return [
            f"No suspects: a true shell reads as far off as this with a chance of "
            f"{result.chance:.0%}."
        ]
    lines = ["Suspects, most probable first:"]
    lines += [
        f"{place}. {one.hypothesis} {one.probability:.0%}: {one.look}"
        for place, one in enumerate(result.suspects, start=1)
    ]
    if result.next_reading:
        one = result.next_reading
        lines.append(
            f"Next reading that decides best: hub {one.hubs[0]} to {one.hubs[1]} "
            f"(about {show_length(one.expected, system)}): {one.why}."
        )
    return lines


def _pulls(result: SurveyResult, system: str) -> list[str]:
    if not result.corrections:
        return []
    lines = [
        "Pull these base hubs in this order; stake each, then measure again before going on:",
        "      hub   along x      along y      up           force",
    ]
    for one in result.corrections:
        moves = "  ".join(f"{_signed(m, system):<11}" for m in (one.dx, one.dy, one.dz))
        force = "-" if one.force is None else show_force(one.force, system)
        lines.append(f"{one.order:>3}.  {one.hub:>4}  {moves}  {force}")
    return lines


def _row(one: Checked, system: str) -> str:
    measure = one.measure
    w = "-" if one.standardised is None else f"{one.standardised:+.1f}"
    return (
        f"{measure.reading.line:>4}  {measure.name:<22}  {show_length(measure.value, system):<14}"
        f"  {_signed(measure.value - measure.design, system):<11}"
        f"  {_signed(one.residual, system):<9}  {w}"
    )


def _signed(metres: float, system: str) -> str:
    shown = show_length(abs(metres), system)
    if shown == show_length(0.0, system):
        return shown
    return ("-" if metres < 0 else "+") + shown
