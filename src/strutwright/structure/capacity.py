"""How much more a kit can carry: what may hang from it, and what fails first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.brief import Site
from strutwright.catalogue import Source
from strutwright.errors import ResultError
from strutwright.loads import Combination, LoadCase
from strutwright.parts import Kit
from strutwright.sentences import Sentence, note, sentence
from strutwright.structure.analyse import Answers, Setting
from strutwright.structure.check import Check, Subject
from strutwright.structure.first import FirstFailure, first_failure
from strutwright.structure.hung import MOST, Combine, HungCapacity, hung_capacity
from strutwright.structure.loss import StrutLoss, strut_loss
from strutwright.structure.probe import Probe, make_probe
from strutwright.structure.storm import StormLimit, storm_limits, worst_of_states
from strutwright.values import ArrayValue, Note

__all__ = [
    "Capacity",
    "capacity",
    "hung_check",
    "limit_checks",
    "loss_check",
    "prop_words",
    "standing_cases",
]

LOSS: Final = Source("EN 1990", 2002, "3.3 and 6.4.3.3, loss of one strut", "recalled")
LEAST_PROP: Final = 200.0
"""N; no prop is made for less: our choice, a hand that leans on the shell."""
HUNG: Final = Source(
    "the largest load at one hub before a strut or an end is used up, by search", how="computed"
)


@dataclass(frozen=True, eq=False)
class Capacity(ArrayValue):
    """How much more a kit can carry.

    Parameters
    ----------
    hung : HungCapacity
    first : tuple of FirstFailure
        For snow and for wind, where the kit meets them.
    ground_snow : float or None, Pa
        On the ground when the kit first fails; None where snow is not what fails it.
    wind_speed : float or None, m/s
        Basic wind speed when the kit first fails; None where wind is not what fails it.
    storm : tuple of StormLimit
        The wind that each state of the kit stands.
    loss : StrutLoss or None
        What the loss of each strut does; None where the kit is too large for it.
    notes : tuple of Note
    """

    hung: HungCapacity
    first: tuple[FirstFailure, ...]
    ground_snow: float | None
    wind_speed: float | None
    storm: tuple[StormLimit, ...]
    loss: StrutLoss | None
    notes: tuple[Note, ...]


def capacity(
    kit: Kit,
    site: Site,
    answers: Answers,
    combos: tuple[Combination, ...],
    *,
    after_loss: tuple[Combination, ...],
    combine: Combine,
    setting: Setting,
) -> Capacity:
    """Return how much more `kit` can carry on `site`.

    Parameters
    ----------
    combos : tuple of Combination
        All combinations for strength of the cases that were answered.
    after_loss : tuple of Combination
        The reduced ones that hold after the loss of a strut.
    combine : callable
        Makes the combinations for strength from load cases.
    """
    probe = make_probe(kit, answers, setting)
    storm = storm_limits(probe, combos)
    tried = (first_failure(probe, combos, "snow"), worst_of_states(storm))
    first = tuple(found for found in tried if found is not None)
    hung = hung_capacity(kit, standing_cases(answers.cases), combine, setting)
    of = {found.action: found.factor for found in first}
    snow, wind = of.get("snow"), of.get("wind")
    speed = None if site.basic_wind is None else site.basic_wind.value
    return Capacity(
        hung,
        first,
        None if snow is None or site.ground_snow is None else snow * site.ground_snow,
        None if wind is None or speed is None else float(np.sqrt(wind)) * speed,
        storm,
        _loss(probe, after_loss),
        (_hung_note(kit, hung), _first_note(hung.unknown)),
    )


def limit_checks(kit: Kit, found: Capacity, asked: float) -> tuple[Check, ...]:
    """Return the checks of the brief's hung load, `asked` N, and of the loss of a strut."""
    unknown = found.hung.unknown
    return (hung_check(kit, found.hung, asked), loss_check(kit, found.loss, unknown))


def _loss(probe: Probe, combos: tuple[Combination, ...]) -> StrutLoss | None:
    try:
        return strut_loss(probe, combos)
    except ResultError as error:
        if error.code != "frame-too-large":
            raise
        return None


def loss_check(kit: Kit, found: StrutLoss | None, unknown: str = "") -> Check:
    """Return the check of the worst single loss of a strut; a kit is not refused for it.

    `unknown` says which rule could not be used: the loss may then do more than is found.
    """
    if found is None:
        why = "the kit has too many hubs for trying the loss of every strut"
        return Check.not_made("strut-loss", Subject("shell"), why, LOSS, required=False)
    if unknown and not len(found.fatal):
        return Check.not_made("strut-loss", Subject("shell"), unknown, LOSS, required=False)
    strut = int(np.argmax(found.utilisation))
    used = float(found.utilisation[strut])
    demand, carried = (used, 1.0) if np.isfinite(used) else (1.0, 0.0)
    fatal = len(found.fatal)
    key = "strut-loss.fatal" if fatal else "strut-loss.held"
    return Check.made(
        "strut-loss", Subject("strut", strut), demand, carried, unit="-", source=LOSS,
        combination=found.combination[strut], required=False,
        note=sentence(
            key, fatal=fatal, all=len(found.utilisation), strut=strut, code=found.code[strut],
            other=int(found.strut[strut]), change=prop_words(kit, found, strut),
        ),
    )  # fmt: skip


def prop_words(kit: Kit, found: StrutLoss, strut: int) -> Sentence:
    """Return how to change `strut` with the shell standing."""
    i, j = (int(hub) for hub in kit.shell.struts[strut])
    rise = abs(float(kit.shell.hubs[j, 2] - kit.shell.hubs[i, 2]))
    length = float(np.linalg.norm(kit.shell.hubs[j] - kit.shell.hubs[i]))
    axial = float(found.carried[strut])
    least = max(2 * abs(axial) * rise / length, LEAST_PROP)
    key = "strut-change.pull" if axial > 0 else "strut-change.push"
    return sentence(key, first=i, second=j, prop=least, carried=abs(axial))


def standing_cases(cases: tuple[LoadCase, ...]) -> tuple[LoadCase, ...]:
    """Return what stands on a kit when something is hung from it: weight and even snow."""
    even = [case for case in cases if case.action == "snow" and case.direction is None]
    return (*(case for case in cases if case.action in {"dead", "cover"}), *even[:1])


def hung_check(kit: Kit, found: HungCapacity, asked: float) -> Check:
    """Return the check of the brief's hung load against the weakest hub, snow included."""
    hub = found.weakest
    subject, carried = Subject("hub", hub), float(found.with_design_snow[hub])
    if found.unknown:
        why: str = found.unknown
        if carried < MOST:
            why = sentence("hung-capacity.most", most=carried, why=found.unknown)
        return Check.not_made("hung-capacity", subject, why, HUNG)
    kind = kit.strut_types[kit.strut_type_of[found.strut[hub]]]
    return Check.made(
        "hung-capacity", subject, asked, carried, unit="N", source=HUNG,
        combination=found.combination[hub],
        required=carried > 0.0,
        note=f"{found.code[hub]} of strut {found.strut[hub]} (type {kind.label}) fails first"
        + ("" if carried > 0.0 else ", with nothing hung: that check decides"),
    )  # fmt: skip


def _hung_note(kit: Kit, hung: HungCapacity) -> Note:
    tried = len(hung.tried)
    return note(
        "hung-screened",
        tried=tried,
        images=len(kit.shell.hubs) - tried,
        n=len(hung.followed),
        followed=tuple(int(hub) for hub in hung.followed),
    )


def _first_note(unknown: str) -> Note:
    said = note("first-failure-scaled")
    return note("first-failure-scaled.open", rest=said.text, unknown=unknown) if unknown else said
