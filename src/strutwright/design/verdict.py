"""The verdict in one sentence."""

from __future__ import annotations

import math

from strutwright.design.design import Design
from strutwright.structure import Check, governing, verdict
from strutwright.structure.uses import CLIMBING, SIGNED

__all__ = ["building_sentence", "verdict_sentence"]


def verdict_sentence(design: Design) -> str:
    """Return the verdict with the check that governs, its number and its clause."""
    says = verdict(design.checks)
    check = governing(design.checks)
    if check is None:
        return "NOT CHECKED: no structural check was made on this kit."
    refused = _first_of(design, CLIMBING)
    if refused is not None:
        return f"REFUSED: {refused.note}."
    signed = _first_of(design, SIGNED)
    if signed is not None:
        return f"ENGINEER TO SIGN: {signed.note} As a kit: {_governing_words(design, check)}"
    if says == "not checked":
        return _unchecked_words(design, check)
    head = {"passes": "Passes", "fails": "FAILS"}[says]
    return f"{head}: {_governing_words(design, check)}"


def building_sentence(design: Design) -> str:
    """Return why the shell cannot be built as the brief asks and what works; empty if it can."""
    fails = (check for check in design.checks if check.code.startswith("crew-"))
    note = next((check.note for check in fails if check.status == "fail"), "")
    return f"CANNOT BE BUILT AS ASKED: {note}." if note else ""


def _first_of(design: Design, code: str) -> Check | None:
    return next((check for check in design.checks if check.code == code), None)


def _unchecked_words(design: Design, check: Check) -> str:
    """Return which required checks could not be made and why, then what governs the others."""
    missing = [c for c in design.checks if c.required and c.status == "not_checked"]
    first, *rest = missing
    others = ", ".join(dict.fromkeys(c.code for c in rest))
    more = f"; nor {others}" if others else ""
    made = (
        "" if check.utilisation is None else f". Of those made, {_governing_words(design, check)}"
    )
    return f"NOT CHECKED: {first.code} of {first.subject} was not made: {first.note}{more}{made}"


def _governing_words(design: Design, check: Check) -> str:
    label = ""
    if check.subject.kind == "strut" and check.subject.index is not None:
        kind = design.kit.strut_types[design.kit.strut_type_of[check.subject.index]]
        label = f" (type {kind.label})"
    if check.utilisation is None:
        return f"{check.code} of {check.subject}{label} was not made: {check.note}"
    if check.code == "mechanism":
        return f"the kit can move without resistance: {check.note}"
    if math.isinf(check.utilisation):
        return f"{check.code} of {check.subject}{label} carries nothing: {check.note}"
    under = f" under {check.combination}" if check.combination else ""
    return (
        f"{check.code} of {check.subject}{label}{under} is at {check.use} "
        f"of what it can carry ({check.source})"
    )
