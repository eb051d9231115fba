"""The proof load of a built shell, and its design checked again with the joints it turns out."""

from __future__ import annotations

from dataclasses import dataclass

from strutwright.brief import Brief
from strutwright.errors import InputError
from strutwright.parts import Kit
from strutwright.progress import SILENT, Progress, step
from strutwright.structure import Check
from strutwright.structure.judge import judge
from strutwright.survey import Calibration, Joints, ProofLoad, plan_proof, with_joints

__all__ = ["Recheck", "proof_of", "rechecked"]


@dataclass(frozen=True)
class Recheck:
    """The checks of a kit as designed and with its joints as measured.

    Parameters
    ----------
    before, after : tuple of Check
        Hung capacity and first failure are not worked out again.
    """

    before: tuple[Check, ...]
    after: tuple[Check, ...]

    def worst(self) -> list[tuple[str, float | None, float | None]]:
        """Return the largest utilisation of every check code, before and after, worst first."""
        found = []
        for code in dict.fromkeys(check.code for check in (*self.before, *self.after)):
            uses = [
                max((c.utilisation for c in checks if c.code == code and c.utilisation is not None),
                    default=None)
                for checks in (self.before, self.after)
            ]  # fmt: skip
            if any(use is not None for use in uses):
                found.append((code, uses[0], uses[1]))
        return sorted(found, key=lambda row: -max(row[1] or 0.0, row[2] or 0.0))


def proof_of(brief: Brief, kit: Kit, reach: float, progress: Progress = SILENT) -> ProofLoad:
    """Return the proof load of the built shell of `kit`.

    Raises
    ------
    InputError
        ``proof-unjudged``: without snow and wind, where the kit cannot stand or where a required
        rule cannot be used, what may hang is not known; ``proof-none``.
    """
    step(progress, "what may hang", 0.3)
    judged = judge(kit, brief)
    found = judged.limits
    if judged.limits_unknown:
        raise InputError(
            "proof-unjudged",
            f"what may hang from the shell is not known: {judged.limits_unknown}",
            "hubs.tests",
            "test what is named and enter the results",
        )
    if found is None:
        raise InputError(
            "proof-unjudged",
            "what may hang from the shell was not worked out",
            "site.ground_snow, site.basic_wind",
            "give snow and wind of the site; strutwright check BRIEF says what else is missing",
        )
    return plan_proof(kit, found.hung.with_dead_load, reach)


def rechecked(brief: Brief, kit: Kit, found: Calibration, progress: Progress = SILENT) -> Recheck:
    """Return the checks of `kit` as designed and with the joints that `found` says.

    Against turning the lower end is what was supposed or less, never more: a sink that tells
    little of turning must not lend the shell strength.
    """
    step(progress, "checks as designed", 0.6)
    before = judge(kit, brief, limits=False)
    step(progress, "checks as measured", 0.8)
    supposed = found.supposed
    soft = found.soft
    if not found.tells_turning or found.verdict == "stiffer":
        soft = Joints(min(soft.fixity, supposed.soft.fixity), soft.give)
    stiff = Joints(max(found.stiff.fixity, soft.fixity), min(found.stiff.give, soft.give))
    after = judge(with_joints(kit, soft, stiff), brief, limits=False)
    return Recheck(before.checks, after.checks)
