"""What a worker can be asked: the same calls as the command line makes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final, Protocol

import numpy as np

from strutwright.brief import Brief, parse_brief
from strutwright.design import Design, mended, plan_proof, run, survey_text, verdict_sentence
from strutwright.exports import kit_data, parts_data, shell_data, surveyed_data
from strutwright.parts import make_kit
from strutwright.progress import Progress, step
from strutwright.shape import make_shell
from strutwright.shape.outer import measures
from strutwright.structure import verdict
from strutwright.values import plain
from strutwright.web.asking import ask_next
from strutwright.web.picture import picture_data

__all__ = ["TASKS"]

Answer = dict[str, Any]


class Told(Progress, Protocol):
    """Progress that can also be given what is known so far."""

    def part(self, answer: Answer) -> None:
        """Send `answer`; a fuller one follows."""


def nothing(_asked: Mapping[str, Any], _progress: Progress) -> Answer:
    """Return nothing: by then all that the other tasks need is loaded."""
    return {}


def sketch(asked: Mapping[str, Any], progress: Progress) -> Answer:
    """Return shape and parts of a brief's text; without its openings when so asked, for speed."""
    brief = _brief(asked)
    opened = bool(asked.get("openings", True)) or not brief.openings
    if not opened:
        brief = replace(brief, openings=())
    shell = make_shell(brief, progress)
    kit = make_kit(shell, brief, progress)
    data = shell_data(shell, measures(shell))
    data["hubs"] = np.round(shell.hubs, 6).tolist()
    return {
        "openings_made": opened,
        "shell": data,
        "parts": parts_data(kit),
        "diameter": float(kit.stock.section.outside),
        "notes": plain(tuple(dict.fromkeys((*brief.notes, *shell.recipe.notes, *kit.notes)))),
    }


def check(asked: Mapping[str, Any], progress: Told) -> Answer:
    """Return kit.json's content and the verdict of a brief's text; writes nothing.

    The verdict is told first, then what would mend a kit that fails, then what to ask next.
    """
    design = run(_brief(asked), progress)
    step(progress, "data", 0.9)
    answer = _judged(design)
    progress.part(answer)
    better = mended(design, progress)
    if better is not design:
        answer = _judged(better)
        progress.part(answer)
    return {**answer, "ask": ask_next(better, progress)}


def kit(asked: Mapping[str, Any], progress: Told) -> Answer:
    """Write the kit folder of a brief's text, as ``strutwright build`` does; return `check`'s."""
    from strutwright.folder import check_target, write_kit  # documents and exports are heavy

    target = Path(asked["out"])
    check_target(target, force=True)
    design = mended(run(_brief(asked), progress), progress)
    write_kit(design, target, force=True, progress=progress)
    return _judged(design)


def survey(asked: Mapping[str, Any], progress: Progress) -> Answer:
    """Return what tape readings say of the built shell, as ``strutwright survey --json``."""
    return surveyed_data(survey_text(_brief(asked), asked["readings"], progress))


def proof(asked: Mapping[str, Any], progress: Progress) -> Answer:
    """Return the proof load of the built shell, as ``strutwright survey --proof --json``."""
    found: Answer = plain(plan_proof(_brief(asked), progress))
    return found


def _judged(design: Design) -> Answer:
    return {
        "verdict": verdict(design.checks),
        "sentence": verdict_sentence(design),
        "kit": kit_data(design),
        "diameter": float(design.kit.stock.section.outside),
        "picture": picture_data(design),
        "ask": None,
    }


def _brief(asked: Mapping[str, Any]) -> Brief:
    return parse_brief(asked["text"], asked.get("name", ""))


TASKS: Final[Mapping[str, Callable[[Mapping[str, Any], Told], Answer]]] = {
    "nothing": nothing,
    "sketch": sketch,
    "check": check,
    "kit": kit,
    "survey": survey,
    "proof": proof,
}
