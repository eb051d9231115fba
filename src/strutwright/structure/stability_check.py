"""From the stability of a shell to its Check and its notes."""

from __future__ import annotations

from typing import Final

import numpy as np

from strutwright.sentences import note
from strutwright.structure.check import Check, Subject
from strutwright.structure.stability import (
    BEYOND,
    REQUIRED,
    SMALL,
    SOURCE,
    Stability,
    Trial,
)
from strutwright.values import Note

__all__ = ["stability_check", "stability_notes"]

SHELL: Final = Subject("shell")
PLENTY: Final = BEYOND * REQUIRED["hub"]
"""Capacity that is told, as a bound, where no multiple of any load buckles the shell."""
WORDS: Final = {"hub": "hubs move", "member": "struts bow between hubs"}


def stability_check(found: Stability) -> Check:
    """Return whether the shell keeps its shape with the factor that is asked for."""
    loose = [b for b in found.buckled if b.ended == "mechanism"]
    if loose:
        why = (
            f"the base and ties that still work under {loose[0].scene.combination.name} leave "
            "the shell loose: stake it, or lay more ballast"
        )
        return Check.not_made("shell-stability", SHELL, why, SOURCE)
    if not found.trials:
        cut = [b for b in found.buckled if b.ended == "cut short"]
        if cut:
            why = f"the search for buckling was cut short under {cut[0].scene.combination.name}"
            return Check.not_made("shell-stability", SHELL, why, SOURCE)
        return Check.made(
            "shell-stability", SHELL, REQUIRED["hub"], PLENTY, unit="-", source=SOURCE,
            note=f"no multiple of any combination buckles it; {_searched(found)}", is_bound=True,
        )  # fmt: skip
    worst = _governing(found)
    fails = worst.known and worst.factor < worst.required
    unknown = [t for t in found.trials if not t.known]
    if unknown and not fails:
        t = unknown[0]
        why = (
            f"the path under {t.combination} with imperfection {t.shape} ended by {t.ended} at "
            f"{t.factor:.2f} times the loads, below {t.required:g}"
        )
        return Check.not_made("shell-stability", SHELL, why, SOURCE)
    return Check.made(
        "shell-stability", SHELL, worst.required, worst.factor, unit="-",
        source=SOURCE, combination=worst.combination, note=_words(found, worst),
        is_bound=worst.ended == "target",
    )  # fmt: skip


def _governing(found: Stability) -> Trial:
    """Return the worst path, or the linear buckling of another combination that is worse yet."""
    worst = found.trials[0]
    for b in found.buckled:
        for factor, kind in ((b.factor, b.kind), (b.hubs, "hub")):
            linear = Trial(
                b.scene.combination.name, worst.end, "nothing", 0.0, factor, kind, "linear buckling"
            )
            if linear.factor / linear.required < worst.factor / worst.required:
                worst = linear
    return worst


def _words(found: Stability, worst: Trial) -> str:
    linear = min(b.factor for b in found.buckled)
    hubs = min(b.hubs for b in found.buckled)
    how = (
        "it still stood at the end of the path"
        if worst.ended == "target"
        else f"{WORDS[worst.kind]}: {worst.ended}"
    )
    lead = f"linear buckling at {linear:.3g}"
    if np.isfinite(hubs):
        lead += f", hubs alone at {hubs:.3g}"
    path = found.trials[0]
    also = f"; the path reached {path.factor:.3g}" if worst is not path else ""
    return (
        f"load factor of the shell (hubs moved by {worst.shape}, {worst.end} joint "
        f"stiffness): {how}{also}; {lead} times the loads without factors; {_searched(found)}"
    )


def _searched(found: Stability) -> str:
    return (
        f"{len(found.buckled)} searches, {found.screened} combinations screened as milder, "
        f"{len(found.trials)} paths, {found.end} joint stiffness"
    )


def stability_notes(found: Stability, *, thorough: bool) -> tuple[Note, ...]:
    """Return what the search left out, and where linear forces are too small."""
    notes = []
    if not thorough:
        notes.append(note("stability-quick"))
    hubs = min((b.hubs for b in found.buckled), default=np.inf)
    if 1.0 < hubs < SMALL:
        more = 1.0 / (1.0 - 1.0 / hubs) - 1.0
        notes.append(note("second-order", hubs=hubs, small=SMALL, more=more))
    return tuple(notes)
