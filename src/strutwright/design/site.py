"""Ground and anchors of a design: what the rooms need, gathered from brief, shell and structure."""

from __future__ import annotations

from strutwright.brief import Brief
from strutwright.shape import Shell
from strutwright.shape.slope import ground_of
from strutwright.site import (
    AnchorPlan,
    Asked,
    SettingOut,
    Terrain,
    plan_anchors,
    terrain_of,
)
from strutwright.structure.judge import Judgement
from strutwright.values import Note

__all__ = ["anchors_of", "terrain_under"]


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
        family="en" if site.standard == "en" else "us",
    )
    combos = [(combo.name, combo.format) for combo in strength.combinations]
    return plan_anchors(shell, strength.ground, strength.reactions, combos, asked)


def terrain_under(
    shell: Shell, sheet: SettingOut, brief: Brief
) -> tuple[Terrain | None, tuple[Note, ...]]:
    """Return the sloping ground under `shell`; None where no heights were read."""
    ground = ground_of(shell, brief)
    return (None, ()) if ground is None else terrain_of(shell, ground, sheet)
