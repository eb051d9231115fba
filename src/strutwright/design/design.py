"""The Design: everything that was worked out for one brief."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.brief import Brief
from strutwright.climate import ClimatePlan
from strutwright.cover import CoverPlan
from strutwright.cutting import CuttingPlan
from strutwright.design.choices import Choices
from strutwright.making import Tolerances
from strutwright.packing import PackingPlan
from strutwright.parts import Kit
from strutwright.pricing import PriceList
from strutwright.sequence import BuildSequence
from strutwright.shape import Shell
from strutwright.shape.outer import Measures
from strutwright.site import AnchorPlan, SettingOut, Terrain
from strutwright.structure import Check
from strutwright.structure.judge import Judgement
from strutwright.structure.mended import Mend
from strutwright.values import ArrayValue, Note

__all__ = ["Design"]


@dataclass(frozen=True, eq=False)
class Design(ArrayValue):
    """Everything that was worked out for one brief; fields only.

    Parameters
    ----------
    brief : Brief
    shell : Shell
    measures : Measures
    choices : Choices
        Shapes, numbers of lengths and sizes that were weighed.
    kit : Kit
    cutting : CuttingPlan
    tolerances : Tolerances or None
        How well it closes; None for a kit too large to say.
    setting_out : SettingOut
    sequence : BuildSequence
    judgement : Judgement
        Loads, forces and reactions behind the checks.
    checks : tuple of Check
        Those that were made and, with their reason, those that were not.
    anchors : AnchorPlan or None
        None where the structure gives no reactions.
    terrain : Terrain or None
        None where no heights of the ground were read.
    cover : CoverPlan or None
        None for a bare frame.
    climate : ClimatePlan
    packing : PackingPlan
    price : PriceList
    mends : tuple of Mend
        Changes that were tried on a kit that fails, the least that passes first.
    notes : tuple of Note
        What was assumed, rounded, skipped or cut short, from all stages, each once.
    """

    brief: Brief
    shell: Shell
    measures: Measures
    choices: Choices
    kit: Kit
    cutting: CuttingPlan
    tolerances: Tolerances | None
    setting_out: SettingOut
    sequence: BuildSequence
    judgement: Judgement
    checks: tuple[Check, ...]
    anchors: AnchorPlan | None
    terrain: Terrain | None
    cover: CoverPlan | None
    climate: ClimatePlan
    packing: PackingPlan
    price: PriceList
    notes: tuple[Note, ...]
    mends: tuple[Mend, ...] = ()
