"""`run`: the whole job for one brief, stage after stage."""

from __future__ import annotations

from typing import Protocol

from strutwright.brief import Brief
from strutwright.cover import CoverPlan, cover_checks
from strutwright.cutting import plan_cuts
from strutwright.design.choices import weigh_choices
from strutwright.design.design import Design
from strutwright.design.parcels import pack_kit
from strutwright.design.priced import price_of
from strutwright.design.site import anchors_of, fit_of, sheet_of, terrain_under
from strutwright.design.skin import climate_of, cover_of
from strutwright.parts import make_kit
from strutwright.progress import SILENT, Progress, step
from strutwright.sequence import crew_checks, plan_sequence
from strutwright.shape import shape_of
from strutwright.shape.outer import measures
from strutwright.site import AnchorPlan
from strutwright.structure import Check
from strutwright.structure.judge import Judgement, judge
from strutwright.values import Note

__all__ = ["run"]


def run(brief: Brief, progress: Progress = SILENT, *, thorough: bool = False) -> Design:
    """Return the design for `brief`; `thorough` searches its stability at length.

    Raises
    ------
    InputError
        Something in the brief cannot be built; the error says what and how to mend it.
    ResultError
        A stage could not finish.
    Cancelled
        `progress` asked to stop.
    """
    step(progress, "shape", 0.0)
    shaped = shape_of(brief, progress)
    shell = shaped.shell
    step(progress, "parts", 0.2)
    kit = make_kit(shell, brief, progress)
    step(progress, "cover", 0.25)
    skin = cover_of(kit, brief)  # what cannot be cut is told before the long work
    step(progress, "alternatives", 0.3)
    choices = weigh_choices(brief, shaped)
    step(progress, "structure", 0.4)
    judgement = judge(kit, brief, thorough=thorough, progress=progress)
    step(progress, "cut plan", 0.4)
    cutting = plan_cuts(kit, brief)
    step(progress, "setting out", 0.6)
    tolerances = fit_of(kit, brief)
    setting_out = sheet_of(shell, brief)
    anchors = anchors_of(shell, judgement, brief)
    terrain, on_slopes = terrain_under(shell, setting_out, brief)
    step(progress, "sequence", 0.8)
    sequence = plan_sequence(kit, brief, progress)
    step(progress, "climate", 0.9)
    climate = climate_of(shell, brief)
    step(progress, "parcels", 0.95)
    packing = pack_kit(kit, sequence, brief)
    price = price_of(kit, cutting, len(packing.parcels), skin, brief)
    telling = (
        brief, shell.recipe, choices, kit, judgement, tolerances, setting_out, sequence, anchors,
    )  # fmt: skip
    notes = (*_notes(*telling), *on_slopes, *_notes(skin, climate, packing, price))
    return Design(
        brief=brief,
        shell=shell,
        measures=measures(shell),
        choices=choices,
        kit=kit,
        cutting=cutting,
        tolerances=tolerances,
        setting_out=setting_out,
        sequence=sequence,
        checks=_checks(judgement, anchors, skin, crew_checks(sequence, brief.crew)),
        anchors=anchors,
        terrain=terrain,
        cover=skin,
        climate=climate,
        packing=packing,
        price=price,
        judgement=judgement,
        notes=tuple(dict.fromkeys(notes)),
    )


class _Telling(Protocol):
    @property
    def notes(self) -> tuple[Note, ...]: ...


def _notes(*parts: _Telling | None) -> tuple[Note, ...]:
    """Return the notes of all `parts` that there are, in their order."""
    return tuple(note for part in parts if part is not None for note in part.notes)


def _checks(
    judgement: Judgement,
    anchors: AnchorPlan | None,
    skin: CoverPlan | None,
    crew: tuple[Check, ...],
) -> tuple[Check, ...]:
    held = anchors.checks if anchors else ()
    return (*judgement.checks, *held, *cover_checks(skin), *crew)
