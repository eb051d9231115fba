"""From a kit and its brief to loads, analysis and checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from strutwright.brief import Brief
from strutwright.catalogue import Source
from strutwright.errors import ResultError
from strutwright.loads import (
    Combination,
    Loads,
    accidents,
)
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress
from strutwright.structure.analyse import Analysis, Answers, Setting, analyse, answer_cases
from strutwright.structure.asked import (
    combinations_of,
    doors_of,
    load_site,
    loads_of,
    setting_of,
    steady_of,
    strength_format,
)
from strutwright.structure.base import base_checks, base_notes, dead_press
from strutwright.structure.capacity import Capacity, capacity, limit_checks
from strutwright.structure.check import Check, Subject
from strutwright.structure.checks import serviceability_checks, strut_checks, worse_of
from strutwright.structure.movement import (
    Movement,
    free_movement,
    mechanism_check,
    soft_movement,
)
from strutwright.structure.stability import Stability, shell_stability
from strutwright.structure.stability_check import stability_check, stability_notes
from strutwright.structure.uses import use_checks
from strutwright.values import ArrayValue, Note

__all__ = ["Judgement", "doors_of", "judge", "load_site", "setting_of"]

SHELL: Final = Subject("shell")
SITE: Final = Source("the loads of the site", how="judgement")


@dataclass(frozen=True, eq=False)
class Judgement(ArrayValue):
    """Whether a kit stands, and everything behind it.

    Parameters
    ----------
    checks : tuple of Check
    loads : Loads or None
        None where the brief gives no site.
    strength, service : Analysis or None
        Of the combinations for strength and for serviceability.
    capacity : Capacity or None
        What may hang and what fails first by the rules that could be used; None where the kit
        cannot stand at all. A reader is told `limits`.
    notes : tuple of Note
    stability : Stability or None
        Buckling and paths of the whole shell; None where the kit cannot stand at all.
    movement : Movement or None
        How the kit moves freely, or against almost nothing; None where it does not.
    """

    checks: tuple[Check, ...]
    loads: Loads | None = None
    strength: Analysis | None = None
    service: Analysis | None = None
    capacity: Capacity | None = None
    notes: tuple[Note, ...] = ()
    stability: Stability | None = None
    movement: Movement | None = None

    @property
    def limits(self) -> Capacity | None:
        """What may hang and what fails first, where every required rule could be used.

        None where one could not: what the others allow may be far too much.
        """
        return None if self.limits_unknown else self.capacity

    @property
    def limits_unknown(self) -> str:
        """Why the limits are not known though the kit stands; empty where they are."""
        return "" if self.capacity is None else self.capacity.hung.unknown


def judge(
    kit: Kit,
    brief: Brief,
    *,
    limits: bool = True,
    thorough: bool = False,
    progress: Progress = SILENT,
) -> Judgement:
    """Return the judgement of `kit` on the site of `brief`, at the low end of joint stiffness.

    Parameters
    ----------
    limits : bool
        Also how much more it can carry; left out where many kits are tried.
    thorough : bool
        Struts and stability at both ends of the connector's stiffness, the worse told, and the
        stability with all imperfections.

    Raises
    ------
    InputError
        Site and standard do not fit together, or the material may not be used so hot.
    """
    site = brief.site
    if site.ground_snow is None or site.basic_wind is None:
        missing = "snow" if site.ground_snow is None else "wind"
        why = f"the brief gives no {missing} load"
        check = Check.not_made("site-loads", SHELL, why, SITE)
        return Judgement((*use_checks(kit, brief, None), check))
    loads = loads_of(kit, brief)
    setting = setting_of(brief)
    format_ = strength_format(kit, setting.family)
    strong = combinations_of(loads.cases, brief, format_)
    soft = combinations_of(loads.cases, brief, "-")
    steady = steady_of(loads, brief, format_)
    lost = accidents(loads.cases, site.standard, format_, altitude=site.altitude)
    left_out = tuple(Check.not_made(n.code, SHELL, n.text, SITE) for n in loads.not_checked)
    calm = combinations_of(loads.cases, brief, "allowable")
    wanted = (*strong, *soft, *steady, *calm, *lost)
    found = _answered(kit, loads, wanted, setting)
    moving = found.moving
    if found.answers is None:
        checks = (*use_checks(kit, brief, None), *moving, *left_out)
        return Judgement(checks, loads, notes=loads.notes, movement=found.movement)
    setting, answers = found.setting, found.answers
    strength = analyse(kit, answers, strong, setting)
    service = analyse(kit, answers, soft, setting)
    balance = (strength, analyse(kit, answers, steady, setting)) if steady else (strength,)
    more = None if not limits else capacity(
        kit, site, answers, strong, setting=setting, after_loss=lost,
        combine=lambda cases: combinations_of(cases, brief, format_),
    )  # fmt: skip
    ends = _both_ends(kit, loads, wanted, found, thorough=thorough)
    steadiness = shell_stability(kit, ends, calm, thorough=thorough, progress=progress)
    checks = (
        *use_checks(kit, brief, more),
        *moving,
        *_of_struts(kit, strength, ends[1:]),
        *(() if more is None else limit_checks(kit, more, brief.loads.hung)),
        *serviceability_checks(kit, service),
        *base_checks(kit, balance, setting, dead_press(answers)),
        stability_check(steadiness),
        *left_out,
    )
    movement, soft_notes = soft_movement(kit.shell, next(iter(answers.solved.values())).model)
    notes = (
        *loads.notes, *strength.notes, *base_notes(setting), *(more.notes if more else ()),
        *stability_notes(steadiness, thorough=thorough),
        *soft_notes,
    )  # fmt: skip
    kept, moves = tuple(dict.fromkeys(notes)), found.movement or movement
    return Judgement(checks, loads, strength, service, more, kept, steadiness, moves)


def _of_struts(
    kit: Kit, strength: Analysis, more: Sequence[tuple[Setting, Answers]]
) -> tuple[Check, ...]:
    """Return the checks of struts and their ends, the worse of all ends of joint stiffness."""
    combos = strength.combinations
    others = (strut_checks(kit, analyse(kit, solved, combos, end)) for end, solved in more)
    return worse_of(strut_checks(kit, strength), *others)


@dataclass(frozen=True)
class _Answered:
    """Answers, the setting they hold for, and the failed check where hinged joints let it move."""

    setting: Setting
    answers: Answers | None
    moving: tuple[Check, ...]
    movement: Movement | None = None


def _answered(kit: Kit, loads: Loads, combos: Sequence[Combination], setting: Setting) -> _Answered:
    """Return the answers to all cases.

    Where the kit moves freely at the low end of the joints' stiffness, a failed check says so and
    what would hold it, and the answers are those of the high end, so that the rest is known.
    """
    try:
        return _Answered(setting, answer_cases(kit, loads.cases, combos, setting), ())
    except ResultError as error:
        if error.code != "mechanism":
            raise
        loose = error
    stiff = replace(setting, end="high")
    try:
        answers = answer_cases(kit, loads.cases, combos, stiff)
    except ResultError as error:
        if error.code != "mechanism":
            raise
        check = mechanism_check(kit.shell, loose, joints="")
        return _Answered(setting, None, (check,), free_movement(kit.shell, loose))
    joints = (
        "joints that are sure to resist turning: at the high end of the connector's stiffness "
        "it stands, and all other checks are made with that"
    )
    check = mechanism_check(kit.shell, loose, joints=joints)
    return _Answered(stiff, answers, (check,), free_movement(kit.shell, loose))


def _both_ends(
    kit: Kit, loads: Loads, combos: Sequence[Combination], found: _Answered, *, thorough: bool
) -> list[tuple[Setting, Answers]]:
    """Return setting and answers for each end of the joints' stiffness that is to be tried."""
    if found.answers is None:
        return []
    ends = [(found.setting, found.answers)]
    if thorough and found.setting.end == "low":
        stiff = replace(found.setting, end="high")
        ends.append((stiff, answer_cases(kit, loads.cases, combos, stiff)))
    return ends
