"""How the command line shows a proof load and what it says of the joints."""

from __future__ import annotations

from strutwright.cli.shown import note_line
from strutwright.design import Recheck
from strutwright.structure import verdict
from strutwright.survey import Calibration, Joints, ProofLoad
from strutwright.units import show_force, show_length, show_use

__all__ = ["joint_lines", "proof_lines"]

TENTH = 0.0001
"""m, to which sinks are shown in metric; our choice."""


def proof_lines(proof: ProofLoad, system: str) -> list[str]:
    """Return what to hang where, what to expect, when to stop, and what to write down."""
    load, first = show_force(proof.load, system), show_force(proof.first, system)
    return [
        f"Proof load: {load} at hub {proof.hub}, of the {show_force(proof.allowed, system)} that "
        "the design lets hang there. Nobody stands under it; no snow, no wind above a breeze.",
        f"1. Hang {first}, so that all play is closed. Read the height of hub {proof.hub} on a "
        "rule against a string or a staff, and of a base hub on either side: these are the zeros.",
        f"2. Add {load} in five steps. Stop and take it off where the hub sinks by more than "
        f"{_sink(proof.high, system)}: something is loose or missing.",
        "3. Wait ten minutes and read again. The hub should have sunk by "
        f"{_sink(proof.sink, system)} ± {_sink(proof.band, system)} "
        f"({_sink(proof.low, system)} to {_sink(proof.high, system)}).",
        "4. Take the added load off and read once more: what stays is play, no stiffness.",
        "5. Write into READINGS.csv, and run strutwright survey BRIEF READINGS.csv:",
        f"   # temperature: {proof.temperature:g} C",
        f"   # load: {proof.load:g} N at hub {proof.hub}",
        f"   sink,{proof.hub},,,{proof.sink * 1000:.1f} mm,{proof.sigma * 1000:g} mm   "
        "(what you read; base hubs in lines of their own)",
        *(note_line(note, system) for note in proof.notes),
    ]


def joint_lines(found: Calibration, recheck: Recheck | None, system: str) -> list[str]:
    """Return what the sinks say of the joints, and the checks made again with them."""
    lines = [
        f"hub {one.reading.hubs[0]} sank {_sink(one.value, system)} under "
        f"{show_force((one.reading.load or (0.0, 0))[0], system)}; the best joints give "
        f"{_sink(one.fitted, system)}."
        for one in found.sunk
    ]
    how = {"within": "as supposed", "softer": "SOFTER than supposed", "stiffer": "stiffer than any"}
    lines.append(
        f"Joints are {how[found.verdict]}: an end gives {_give(found.best)} along its strut "
        f"({_give(found.stiff)} to {_give(found.soft)}; supposed up to "
        f"{_give(found.supposed.soft)})."
    )
    if found.tells_turning:
        lines.append(
            f"Against turning kL/EI is {found.soft.fixity:.2g} to {found.stiff.fixity:.2g} "
            f"(supposed {found.supposed.soft.fixity:.2g} to {found.supposed.stiff.fixity:.2g})."
        )
    if recheck is not None:
        lines.append(
            f"Checked again with these joints: {verdict(recheck.after)} (as designed: "
            f"{verdict(recheck.before)}); hung capacity is not worked out again."
        )
        lines.append("check                     as designed   as measured")
        lines += [
            f"{code:<24}  {_use(before):>11}   {_use(after):>11}"
            for code, before, after in recheck.worst()
        ]
    return [*lines, *(note_line(note, system) for note in found.notes)]


def _use(share: float | None) -> str:
    return show_use(share) or "not made"


def _give(joints: Joints) -> str:
    return f"{joints.give * 1e6:.2g} mm/kN" if joints.give else "nothing"


def _sink(metres: float, system: str) -> str:
    return show_length(metres, system, step=None if system == "imperial" else TENTH)
