"""Ground and anchors of a design: what the rooms need, gathered from brief, shell and structure."""

from __future__ import annotations

import numpy as np

from strutwright.brief import Brief
from strutwright.making import Craft, Tolerances, tolerances_of
from strutwright.parts import Kit
from strutwright.shape import Shell
from strutwright.shape.riser import feet_of
from strutwright.shape.slope import ground_of
from strutwright.site import (
    AnchorPlan,
    Asked,
    SettingOut,
    Terrain,
    Weight,
    plan_anchors,
    set_out,
    terrain_of,
)
from strutwright.structure.base import ballast_needed
from strutwright.structure.judge import Judgement, setting_of
from strutwright.values import Floats, Indices, Note

__all__ = ["anchors_of", "fit_of", "sheet_of", "terrain_under"]


def anchors_of(shell: Shell, judgement: Judgement, brief: Brief) -> AnchorPlan | None:
    """Return what holds `shell` down; None where the structure gives no reactions."""
    strength = judgement.strength
    if strength is None:
        return None
    site = brief.site
    asked = Asked(
        base=site.base,
        soil=site.soil,
        pull_test=site.pull_test,
        frost=site.frost,
        rock=_rock(shell, strength.ground, brief),
        weight=_weight(judgement, brief) if site.base == "ballast" else None,
    )
    combos = [(combo.name, combo.format) for combo in strength.combinations]
    return plan_anchors(shell, strength.ground, strength.reactions, combos, asked)


def _rock(shell: Shell, feet: Indices, brief: Brief) -> Floats | None:
    """Return the (G,) depth to rock under `feet`; None where no rock was met."""
    ground = ground_of(shell, brief)
    if ground is None or np.isinf(ground.rock).all():
        return None
    away = np.linalg.norm(shell.hubs[feet, None, :2] - shell.hubs[None, shell.base, :2], axis=2)
    depth: Floats = ground.rock[away.argmin(axis=1)]
    return depth


def _weight(judgement: Judgement, brief: Brief) -> Weight | None:
    if judgement.strength is None:
        return None
    needed, combinations = ballast_needed([judgement.strength])
    return Weight(needed, combinations, setting_of(brief).ballast)


def terrain_under(
    shell: Shell, sheet: SettingOut, brief: Brief
) -> tuple[Terrain | None, tuple[Note, ...]]:
    """Return the sloping ground under `shell`; None where no heights were read."""
    ground = ground_of(shell, brief)
    return (None, ()) if ground is None else terrain_of(shell, ground, sheet)


def sheet_of(shell: Shell, brief: Brief) -> SettingOut:
    """Return the setting out of `shell`."""
    survey = brief.survey
    return set_out(shell, feet_of(shell), tape=survey.tape, play=survey.play)


def fit_of(kit: Kit, brief: Brief) -> Tolerances | None:
    """Return how well `kit` closes; None for one too large to say."""
    survey = brief.survey
    return tolerances_of(kit, Craft(survey.cut, survey.play, survey.tape, brief.struts.step))
