"""Combinations of load cases: ASCE 7 LRFD and ASD, EN 1990 STR, EQU, UPL and SLS.

Formats are never mixed: allowable stresses (PVC, bamboo, NDS) go with allowable combinations,
design strengths with factored ones. In uplift crop and hung load are nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from strutwright.bounds import one_of
from strutwright.catalogue import Source
from strutwright.errors import InputError
from strutwright.loads.case import ACTIONS, DURATIONS, Combination, Format, LoadCase
from strutwright.loads.standards import asce7_16, asce7_22, en1990
from strutwright.values import Floats

__all__ = [
    "combinations",
    "combined",
    "duration_of",
    "factor_table",
    "one_format",
]

Terms = tuple[tuple[str, float], ...]
_EN: Final = Source("EN 1990", 2002, "6.4.3.2 eq. 6.10, Tables A1.1, A1.2", "recalled")
_EN_SLS: Final = Source("EN 1990", 2002, "6.5.3 eq. 6.14, characteristic", "recalled")


@dataclass(frozen=True)
class _Cases:
    """The cases of a shell, by action."""

    of: Mapping[str, list[LoadCase]]

    @property
    def permanent(self) -> list[LoadCase]:
        """Weight of frame and cover."""
        return self.of["dead"] + self.of["cover"]

    @property
    def inward(self) -> list[LoadCase]:
        """Winds whose inside sucks the cover in, or presses nowhere."""
        return [c for c in self.of["wind"] if c.inside is not None and c.inside <= 0]

    def pairs(self) -> list[tuple[LoadCase, LoadCase]]:
        """Return snow with wind that can come together: one direction, or snow without one."""
        return [
            (snow, wind)
            for snow in self.of["snow"]
            for wind in self.inward
            if snow.direction is None or _same(snow.direction, wind.direction)
        ]


def _by_action(cases: Sequence[LoadCase]) -> _Cases:
    return _Cases({action: [c for c in cases if c.action == action] for action in ACTIONS})


def _same(a: float, b: float | None) -> bool:
    return b is not None and abs(np.angle(np.exp(1j * (a - b)))) < 1e-6


def _terms(cases: Iterable[LoadCase], factor: float) -> Terms:
    return tuple((case.name, factor) for case in cases)


def combinations(
    cases: Sequence[LoadCase],
    standard: str,
    format: Format,
    *,
    consequence: str = "CC2",
    altitude: float = 0.0,
) -> tuple[Combination, ...]:
    """Return all combinations of `cases` in one format.

    Snow and wind meet where they have one direction, or the snow has none, and then with the
    inside of the shell sucking its cover in, which is the worse with snow. Snow against the base,
    hung and crop loads go along as the standard says.

    Parameters
    ----------
    cases : sequence of LoadCase
    standard : str
        ``en``, ``asce7-16`` or ``asce7-22``.
    format : str
        ``factored`` (STR with EQU, whose factors UPL of EN 1997-1 shares; LRFD), ``allowable``
        (EN: characteristic; ASD) or ``-`` (serviceability).
    consequence : str
        EN: CC1 to CC3, scaling unfavourable actions. ASCE carries it in its maps and I_s.
    altitude : float, m
        EN: psi_0 of snow.
    """
    one_of("standard", standard, ("en", "asce7-16", "asce7-22"))
    one_of("format", format, ("factored", "allowable", "-"))
    sorted_cases = _by_action(cases)
    if standard == "en":
        one_of("consequence", consequence, en1990.K_FI)
        return _en(sorted_cases, format, en1990.K_FI[consequence], altitude)
    return _asce(sorted_cases, format, asce7_16 if standard == "asce7-16" else asce7_22)


def _en(cases: _Cases, format: Format, k_fi: float, altitude: float) -> tuple[Combination, ...]:
    if format != "factored":
        state = "SLS" if format == "-" else "characteristic"
        return _en_state(cases, (format, state, _EN_SLS), (1.0, 1.0, 1.0), altitude)
    g = en1990.GAMMA["STR"]
    factors = (g["G_sup"] * k_fi, g["G_inf"], g["Q"] * k_fi)
    found = list(_en_state(cases, ("factored", "STR", _EN), factors, altitude))
    e = en1990.GAMMA["EQU"]
    for wind, permanent in _uplift(cases):
        terms = (*_terms(permanent, e["G_inf"]), (wind.name, e["Q"] * k_fi))
        found.append(_named(("factored", "EQU", _EN), terms, cases))
    return tuple(found)


def _uplift(cases: _Cases) -> list[tuple[LoadCase, list[LoadCase]]]:
    """Return each wind with the weight that resists it; bare-frame wind meets the frame alone."""
    covered = [(wind, cases.permanent) for wind in cases.of["wind"]]
    return covered + [(wind, cases.of["dead"]) for wind in cases.of["bare wind"]]


def _en_state(
    cases: _Cases,
    head: tuple[Format, str, Source],
    gamma: tuple[float, float, float],
    altitude: float,
) -> tuple[Combination, ...]:
    sup, inf, q = gamma
    of, weight = cases.of, _terms(cases.permanent, sup)
    psi = {name: q * en1990.psi_0(name, altitude) for name in ("crop", "hung", "snow", "wind")}
    even = [snow for snow in of["snow"] if snow.direction is None]
    crown = of["hung"][:1]
    found: list[Terms] = [weight]
    lead_crop = _terms(of["crop"], q)
    along_crop = _terms(of["crop"], psi["crop"])
    carried = along_crop + _terms(crown, psi["hung"])
    if lead_crop:
        found.append(weight + lead_crop + _terms(crown, psi["hung"]))
    for hung in of["hung"]:
        first = (*weight, (hung.name, q), *along_crop)
        found.append(first)
        found.extend((*first, (snow.name, psi["snow"])) for snow in even[:1])
    for snow in of["snow"]:
        first = (*weight, (snow.name, q))
        found.append(first)
        if carried:
            found.append((*first, *carried))
    for snow, wind in cases.pairs():
        found.append((*weight, *carried, (snow.name, q), (wind.name, psi["wind"])))
        found.append((*weight, *carried, (wind.name, q), (snow.name, psi["snow"])))
    found.extend((*weight, *along_crop, (wind.name, q)) for wind in cases.inward)
    if not of["snow"]:
        found.extend((*weight, *carried, (wind.name, q)) for wind in cases.inward)
    for wind, permanent in _uplift(cases):
        found.append((*_terms(permanent, inf), (wind.name, q)))
    frame = _terms(of["dead"], sup)
    found.extend((*frame, (case.name, q)) for case in of["bare wind"] + of["erection"])
    return tuple(_named(head, terms, cases) for terms in dict.fromkeys(found) if terms)


def _asce(cases: _Cases, format: Format, edition: object) -> tuple[Combination, ...]:
    if format == "-":
        table: Mapping[str, Mapping[str, float]] = {
            "D+L": {"dead": 1.0, "live": 1.0},
            "D+S": {"dead": 1.0, "snow": 1.0},
            "D+0.6W": {"dead": 1.0, "wind": 0.6},
        }
        head: tuple[Format, str, Source] = (
            "-", "SLS", Source("ASCE 7", None, "Appendix C, commentary", "recalled"),
        )  # fmt: skip
    else:
        module = asce7_16 if edition is asce7_16 else asce7_22
        lrfd = format == "factored"
        table = module.COMBINATIONS_LRFD if lrfd else module.COMBINATIONS_ASD
        key = "COMBINATIONS_LRFD" if lrfd else "COMBINATIONS_ASD"
        head = (format, "LRFD" if lrfd else "ASD", module.SOURCES[key])
    found: list[Terms] = []
    for factors in table.values():
        found.extend(_asce_terms(cases, factors))
    return tuple(_named(head, terms, cases) for terms in dict.fromkeys(found) if terms)


def _asce_terms(cases: _Cases, f: Mapping[str, float]) -> list[Terms]:
    """Return the sums of one line of the table; an action that is absent is left out."""
    of = cases.of
    dead, live = f["dead"], f.get("live", 0.0)
    weight, frame = _terms(cases.permanent, dead), _terms(of["dead"], dead)
    crown = of["hung"][:1]
    loaded = _terms(of["crop"] + crown, live) if live else ()
    if "snow" in f and "wind" in f:
        if not of["snow"]:
            return [(*weight, *loaded, (w.name, f["wind"])) for w in cases.inward]
        return [
            (*weight, *loaded, (s.name, f["snow"]), (w.name, f["wind"])) for s, w in cases.pairs()
        ]
    if "wind" in f:
        covered: list[Terms] = [(*weight, (w.name, f["wind"])) for w in of["wind"]]
        return covered + [(*frame, (w.name, f["wind"])) for w in of["bare wind"]]
    if "snow" in f and live < 1.5:
        return [(*weight, *loaded, (s.name, f["snow"])) for s in of["snow"]]
    if not live:
        return [weight]
    hung: list[Terms] = [
        (*weight, *_terms(of["crop"], live), (h.name, live)) for h in of["hung"]
    ] or [(*weight, *_terms(of["crop"], live))]
    if "snow" in f:
        even = [s for s in of["snow"] if s.direction is None][:1]
        hung += [(*terms, (s.name, f["snow"])) for terms in hung for s in even]
    return hung + [(*frame, (e.name, live)) for e in of["erection"]]


def _named(head: tuple[Format, str, Source], terms: Terms, cases: _Cases) -> Combination:
    """Return the combination, named by its factors: 1.35 weight + 1.5 snow balanced + ..."""
    weights = {case.name for case in cases.permanent}
    parts, seen = [], False
    for name, factor in terms:
        if name in weights:
            if not seen:
                parts.append(f"{factor:.4g} weight")
            seen = True
            continue
        parts.append(f"{factor:.4g} {name}")
    return Combination(f"{head[1]}: " + " + ".join(parts), head[0], head[1], terms, head[2])


def one_format(combos: Sequence[Combination], wanted: Format | None = None) -> Format:
    """Return the format of `combos`.

    Raises
    ------
    InputError
        ``format-mixed``: factored and allowable stand together, or not the `wanted` one.
    """
    formats = {combo.format for combo in combos}
    if len(formats) != 1 or (wanted is not None and formats != {wanted}):
        have = ", ".join(sorted(formats)) or "none"
        raise InputError(
            "format-mixed",
            f"combinations are {have}" + (f", wanted {wanted}" if wanted else ""),
            "",
            "allowable stresses go with allowable combinations, design strengths with factored",
        )
    return next(iter(formats))


def factor_table(cases: Sequence[LoadCase], combos: Sequence[Combination]) -> Floats:
    """Return the (K, C) factors of each case in each combination, for superposition."""
    place = {case.name: k for k, case in enumerate(cases)}
    table = np.zeros((len(combos), len(cases)))
    for row, combo in enumerate(combos):
        for name, factor in combo.factors:
            if name not in place:
                raise InputError("case-unknown", f"load case {name!r}", combo.name, "")
            table[row, place[name]] = factor
    return table


def combined(cases: Sequence[LoadCase], combo: Combination) -> tuple[Floats, Floats]:
    """Return hub forces (H, 3), N, and line loads (S, 3), N/m, of a combination."""
    factors = factor_table(cases, [combo])[0]
    hubs = sum((f * c.hub_forces for f, c in zip(factors, cases, strict=True) if f), np.zeros(3))
    lines = sum((f * c.line_loads for f, c in zip(factors, cases, strict=True) if f), np.zeros(3))
    return np.asarray(hubs), np.asarray(lines)


def duration_of(cases: Sequence[LoadCase], combo: Combination, *, longest: bool = False) -> str:
    """Return the shortest duration in a combination (timber strength), or the longest.

    The longest one among its variable actions rules where stiffness creeps (PVC); with weight
    alone it is permanent.
    """
    kinds = {case.name: case for case in cases}
    acting = [kinds[name] for name, factor in combo.factors if factor]
    variable = [case for case in acting if case.duration != "permanent"] or acting
    places = [DURATIONS.index(case.duration) for case in (variable if longest else acting)]
    return DURATIONS[min(places) if longest else max(places)]
