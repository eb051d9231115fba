"""What loads do to a kit, as the 3D view draws it: use, loads, and the shapes they give."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

import numpy as np

from strutwright.design import Design
from strutwright.loads import Combination
from strutwright.structure import governing
from strutwright.structure.analyse import Analysis
from strutwright.structure.buckle import Buckled
from strutwright.structure.judge import Judgement
from strutwright.values import Floats, finite

__all__ = ["picture_data"]

Answer = dict[str, Any]
MOST_MODES: Final = 3
"""Buckling shapes that are shown; our choice."""
ALIKE: Final = 0.8
"""Squared cosine of two shapes from which they count as one: turned winds give alike shapes."""


def picture_data(design: Design) -> Answer:
    """Return what `design` knows of use, loads and shapes, hub by hub and strut by strut.

    ``used`` holds the highest use of each strut and its ends; ``loads`` the forces at the hubs, N,
    factors of the combination in them; ``shapes`` the movements of the hubs, m. Movements of a
    buckling shape have no size of their own: their largest is 1.
    """
    judged = design.judgement
    combination = _shown(design)
    return {
        "used": _used(design),
        "combination": "" if combination is None else combination.name,
        "loads": [] if combination is None else _loads(design, combination),
        "shapes": [
            *_bent(judged, combination),
            *_buckled(judged),
            *_moving(judged),
        ],
    }


def _used(design: Design) -> list[float | None]:
    strength = design.judgement.strength
    worst = np.full(len(design.shell.struts), np.nan)
    for use in () if strength is None else strength.uses:
        worst = np.fmax(worst, use.worst)
    for check in design.checks:
        at, u = check.subject.index, check.utilisation
        if check.required and check.subject.kind == "strut" and at is not None and u is not None:
            worst[at] = np.fmax(worst[at], u)
    return [None if np.isnan(u) else finite(float(min(u, 1e6))) for u in worst]


def _shown(design: Design) -> Combination | None:
    """Return the combination of the check that governs; else the one that moves hubs most."""
    check = governing(design.checks)
    known = _known(design.judgement)
    if check is not None and check.combination in known:
        return known[check.combination]
    service = design.judgement.service
    return None if service is None else service.combinations[_softest(service)]


def _known(judged: Judgement) -> dict[str, Combination]:
    known: dict[str, Combination] = {}
    if judged.stability is not None:
        known |= {b.scene.combination.name: b.scene.combination for b in judged.stability.buckled}
    for analysis in (judged.service, judged.strength):
        known |= {c.name: c for c in (analysis.combinations if analysis else ())}
    return known


def _softest(service: Analysis) -> int:
    return int(np.linalg.norm(service.displacements, axis=2).max(axis=1).argmax())


def _loads(design: Design, combination: Combination) -> list[Answer]:
    """Return each action of `combination` as forces at the hubs, half of a strut to each end."""
    loads = design.judgement.loads
    if loads is None:
        return []
    factors = dict(combination.factors)
    found: dict[str, Floats] = {}
    for case in loads.cases:
        factor = factors.get(case.name, 0.0)
        if factor:
            forces = factor * _at_hubs(design, case.hub_forces, case.line_loads)
            found[case.action] = found.get(case.action, 0.0) + forces
    return [
        {
            "action": action,
            "cases": [
                f"{factors[c.name]:g} × {c.name}"
                for c in loads.cases
                if c.action == action and factors.get(c.name)
            ],
            "forces": np.round(forces, 1).tolist(),
        }
        for action, forces in found.items()
        if np.abs(forces).max() > 0
    ]


def _at_hubs(design: Design, hub_forces: Floats, line_loads: Floats) -> Floats:
    shell = design.shell
    ends = shell.hubs[shell.struts]
    half = line_loads * np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)[:, None] / 2
    forces = np.array(hub_forces)
    for end in (0, 1):
        np.add.at(forces, shell.struts[:, end], half)
    return forces


def _bent(judged: Judgement, combination: Combination | None) -> Iterator[Answer]:
    """Yield the shape under `combination`, then the largest one under loads without factors."""
    rows: list[tuple[str, Analysis, int]] = []
    for analysis in (judged.strength, judged.service):
        names = [c.name for c in analysis.combinations] if analysis else []
        if analysis and combination and combination.name in names and not rows:
            rows.append(("deflected", analysis, names.index(combination.name)))
    if judged.service is not None:
        rows.append(("deflected in use", judged.service, _softest(judged.service)))
    told: set[str] = set()
    for name, analysis, row in rows:
        said = analysis.combinations[row].name
        if said not in told:
            yield _shape(name, said, analysis.displacements[row])
        told.add(said)


def _buckled(judged: Judgement) -> Iterator[Answer]:
    """Yield the first buckling shapes, each unlike those before it."""
    found = [] if judged.stability is None else list(judged.stability.buckled)
    kept: list[Floats] = []
    for one in sorted(found, key=lambda b: b.hubs):
        flat = one.mode.ravel()
        size = float(np.linalg.norm(flat))
        if not np.isfinite(one.hubs) or size == 0 or _is_known(flat / size, kept):
            continue
        kept.append(flat / size)
        yield _mode(f"buckling {len(kept)}", one)
        if len(kept) == MOST_MODES:
            return


def _is_known(shape: Floats, kept: Sequence[Floats]) -> bool:
    return any(float(shape @ other) ** 2 > ALIKE for other in kept)


def _mode(name: str, one: Buckled) -> Answer:
    largest = float(np.linalg.norm(one.mode, axis=1).max())
    shape = _shape(name, one.scene.combination.name, one.mode / largest)
    sooner = one.factor if one.factor < one.hubs * (1 - 1e-9) else None
    return {**shape, "factor": one.hubs, "struts_bow_at": sooner}


def _moving(judged: Judgement) -> Iterator[Answer]:
    if judged.movement is not None:
        mode = judged.movement.mode
        largest = float(np.linalg.norm(mode, axis=1).max()) or 1.0
        yield _shape("free movement", "", mode / largest) | {"factor": 0.0}


def _shape(name: str, combination: str, moved: Floats) -> Answer:
    return {
        "name": name,
        "combination": combination,
        "factor": None,
        "struts_bow_at": None,
        "moved": np.round(moved, 7).tolist(),
    }
