"""Does the base stay where it is: weight against lifting and sliding, and ties that only pull."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from strutwright.catalogue import Source
from strutwright.parts import Kit
from strutwright.sentences import note
from strutwright.structure.analyse import Analysis, Answers, Setting
from strutwright.structure.check import Check, Subject
from strutwright.structure.contact import HELD, LOOSE, SETTLED
from strutwright.structure.model import GROUND_FRICTION
from strutwright.values import Floats, Note

__all__ = ["BALLAST_STEP", "ballast_needed", "base_checks", "base_notes", "dead_press"]

SHELL: Final = Subject("shell")
WEIGHT: Final = Source(
    f"weight against lifting and sliding, friction {GROUND_FRICTION:g} as of plastic or wet metal",
    how="recalled",
)
PULL: Final = Source("ties work in tension alone", how="computed")
SLIDE: Final = Source("slide of the base, width/200", how="judgement")
SLIDE_SHARE: Final = 200.0
"""A free base slides by at most its width over this: our choice, as for the deflection."""
BALLAST_STEP: Final = 50.0
"""N, ballast to be laid is rounded up to this: about 5 kg."""
_AS_IF: Final = ", so all other checks are made as if the base were held"
OPEN_ENDS: Final = ("cycling", "rounds")


def ballast_needed(analyses: Sequence[Analysis]) -> tuple[Floats, tuple[str, ...]]:
    """Return the (G,) weight on each ground hub that keeps it from lifting and slipping, N.

    Also the combination that asks for it, for each hub. As if every hub were held: with this
    weight it is.
    """
    table = np.concatenate([_on_each(a, a.held, friction=True) for a in analyses])
    names = [combo.name for a in analyses for combo in a.combinations]
    worst = table.argmax(axis=0)
    return np.maximum(table.max(axis=0), 0.0), tuple(names[int(k)] for k in worst)


def _on_each(analysis: Analysis, reactions: Floats, *, friction: bool) -> Floats:
    """Return (N, G) weights that each hub lacks, N; negative: so much is to spare."""
    drag = np.hypot(reactions[..., 0], reactions[..., 1]) / GROUND_FRICTION if friction else 0.0
    share = np.where(analysis.weight > 0, analysis.weight, 1.0)
    lacks: Floats = (drag - reactions[..., 2]) / share[:, None]
    return lacks


def base_checks(
    kit: Kit, analyses: Sequence[Analysis], setting: Setting, dead: float
) -> tuple[Check, ...]:
    """Return the checks of a base on ballast or on nothing, and of ties.

    Parameters
    ----------
    analyses : sequence of Analysis
        Of the combinations with factors, and those of stability.
    dead : float, N
        What the kit's own weight presses on each hub on the ground, on average.
    """
    checks: list[Check] = []
    if setting.base == "ballast" and setting.ballast is None:
        checks.append(_chosen(analyses, dead))
    elif setting.base in {"ballast", "free"}:
        checks.extend(_given(kit, analyses, dead, setting.ballast or 0.0))
    if (kit.shell.role == "tie").any():
        checks.append(_ties(analyses, setting))
    return tuple(checks)


def _chosen(analyses: Sequence[Analysis], dead: float) -> Check:
    """Return the check of ballast that is laid as needed: the kit calls for it."""
    needed, names = ballast_needed(analyses)
    laid = math.ceil(float(needed.max()) / BALLAST_STEP) * BALLAST_STEP
    hub = int(np.argmax(needed))
    mass = laid / 9.81
    note = (
        f"no ballast is given: lay {mass:.0f} kg or more on each of the {len(needed)} hubs on the "
        f"ground, {mass * len(needed):.0f} kg in all; without it the base lifts or slides"
        if laid
        else "the kit's own weight holds it"
    )
    ground = int(analyses[0].ground[hub])
    return Check.made(
        "base-contact", Subject("base hub", ground), dead + float(needed[hub]),
        dead + laid, unit="N", source=WEIGHT, combination=names[hub],
        required=False, note=note,
    )  # fmt: skip


def _given(
    kit: Kit, analyses: Sequence[Analysis], dead: float, ballast: float
) -> tuple[Check, ...]:
    """Return the checks of a base that may lift and slide, with the weight that is on it."""
    open_ends = [word for a in analyses for word in a.base.ended if word in OPEN_ENDS]
    lacks = np.concatenate([_lacking(a) for a in analyses])
    names = [combo.name for a in analyses for combo in a.combinations]
    row, hub = np.unravel_index(int(np.argmax(lacks)), lacks.shape)
    lifted = sum(int(a.base.lifted.any(axis=1).sum()) for a in analyses)
    loose = sum(len(a.base.rows(LOOSE)) for a in analyses)
    needed, _ = ballast_needed(analyses)
    note = (
        f"of {len(names)} combinations {loose} carry it off and {lifted} lift a hub"
        f"{_AS_IF if loose else ''}; "
        f"{needed.max() / 9.81:.0f} kg on each hub on the ground holds it still"
    )
    ground = int(analyses[0].ground[hub])
    lift = Check.made(
        "base-contact", Subject("base hub", ground), max(dead + float(lacks[row, hub]), 0.0),
        dead + ballast, unit="N", source=WEIGHT, combination=names[int(row)],
        note=note,
    )  # fmt: skip
    if loose:
        why = "the base does not hold, so how far it slides has no answer"
        return lift, Check.not_made("base-slide", SHELL, why, SLIDE)
    if open_ends:
        why = f"in {len(open_ends)} combinations no state of the base was found that holds"
        return lift, Check.not_made("base-slide", SHELL, why, SLIDE)
    return lift, _slide(kit, analyses)


def _lacking(analysis: Analysis) -> Floats:
    """Return (N, G) weight that each hub lacks against lifting, and slipping where it is lost."""
    lost = np.array([word not in {HELD, SETTLED} for word in analysis.base.ended], dtype=bool)
    lost |= analysis.base.lifted.any(axis=1)
    still = np.maximum(
        _on_each(analysis, analysis.reactions, friction=False), _against_sliding(analysis)
    )
    return np.where(lost[:, None], _on_each(analysis, analysis.held, friction=True), still)


def _against_sliding(analysis: Analysis) -> Floats:
    """Return (N, 1) weight that each hub lacks against sliding of the whole base."""
    whole = analysis.held.sum(axis=1, keepdims=True)
    lacks: Floats = _on_each(analysis, whole, friction=True) / analysis.held.shape[1]
    return lacks


def _slide(kit: Kit, analyses: Sequence[Analysis]) -> Check:
    slid = np.concatenate([a.slid for a in analyses])
    names = [combo.name for a in analyses for combo in a.combinations]
    row, hub = np.unravel_index(int(np.argmax(slid)), slid.shape)
    width = float(min(np.ptp(kit.shell.hubs[:, 0]), np.ptp(kit.shell.hubs[:, 1])))
    return Check.made(
        "base-slide", Subject("base hub", int(analyses[0].ground[hub])), float(slid[row, hub]),
        width / SLIDE_SHARE, unit="m", source=SLIDE, combination=names[int(row)],
        note="how far it slides until friction and the base ring hold it",
    )  # fmt: skip


def _ties(analyses: Sequence[Analysis], setting: Setting) -> Check:
    """Return whether the kit holds when ties only pull."""
    names = [combo.name for a in analyses for combo in a.combinations]
    ended = [word for a in analyses for word in a.base.ended]
    moving = setting.base == "free" or setting.ballast is not None
    lost = [k for k, word in enumerate(ended) if word == LOOSE]
    unsettled = [k for k, word in enumerate(ended) if word in OPEN_ENDS]
    if (lost or unsettled) and moving:
        why = "the base does not hold, so the ties were not judged"
        return Check.not_made("ties-slack", SHELL, why, PULL)
    if lost:
        return Check.made(
            "ties-slack", SHELL, float(len(lost)), 0.0, unit="-", source=PULL,
            combination=names[lost[0]],
            note=f"in {len(lost)} of {len(names)} combinations ties hang slack and nothing else "
            "holds the kit: give each bay a strut that pushes too, or crossed ties",
        )  # fmt: skip
    if unsettled:
        why = f"in {len(unsettled)} combinations no set of pulling ties was found"
        return Check.not_made("ties-slack", SHELL, why, PULL)
    slack = sum(int(a.base.slack.any(axis=1).sum()) for a in analyses)
    return Check.made(
        "ties-slack", SHELL, 0.0, 1.0, unit="-", source=PULL,
        note=f"ties hang slack in {slack} of {len(names)} combinations; what still pulls and "
        "pushes carries them, and all forces are those of that state",
    )  # fmt: skip


def dead_press(answers: Answers) -> float:
    """Return what the frame's own weight presses on each hub on the ground, on average, N."""
    solved = next(iter(answers.solved.values()))
    rows = [k for k, case in enumerate(answers.cases) if case.action == "dead"]
    return float(solved.reactions[rows, :, 2].sum(axis=0).mean())


def base_notes(setting: Setting) -> tuple[Note, ...]:
    """Return what a reader should know of a base that rests on friction."""
    if setting.base not in {"ballast", "free"}:
        return ()
    return (note("base-friction", friction=GROUND_FRICTION),)
