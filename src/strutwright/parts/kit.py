"""From a shell to its kit of parts."""

from __future__ import annotations

from collections import Counter
from math import ceil
from typing import Final

import numpy as np

from strutwright.catalogue import FastenerItem
from strutwright.parts.choices import PartChoices
from strutwright.parts.hubs import sort_hubs
from strutwright.parts.joint import allowances, check_fit, crowded_hubs
from strutwright.parts.struts import confusable_pairs, strut_types
from strutwright.parts.values import Fastener, Kit, StrutType
from strutwright.sentences import note
from strutwright.shape.measure import spoke_table
from strutwright.shape.shell import Shell
from strutwright.values import Note

__all__ = ["assemble_kit"]

BOLT_LENGTHS: Final = (16, *range(20, 81, 5), *range(90, 201, 10), *range(220, 401, 20))
"""Usual lengths of bolts, mm. Common practice, no source."""


def assemble_kit(shell: Shell, choices: PartChoices) -> Kit:
    """Return the kit of `shell` made as `choices` say.

    Raises
    ------
    InputError
        ``connector-material``: the connector does not take the stock; ``strut-too-short``.
    """
    check_fit(choices)
    stock, connector = choices.stock, choices.connector
    ends = allowances(shell, connector, stock)
    table = spoke_table(shell)
    types, type_of = strut_types(shell, ends, table, choices)
    sorting = sort_hubs(table, type_of, types, choices)
    pairs, notes = confusable_pairs(types, choices.length_tolerance)
    notes += crowded_hubs(shell, connector, stock, ends) + _split_notes(types, choices)
    fasteners = _fasteners(shell, types, choices)
    masses, unknown = _masses(shell, types, fasteners, choices)
    if unknown:
        notes.append(note("mass-unknown", items=tuple(unknown)))
    return Kit(
        shell=shell,
        stock=stock,
        connector=connector,
        strut_types=types,
        strut_type_of=type_of,
        hub_types=sorting.types,
        hub_type_of=sorting.type_of,
        fasteners=fasteners,
        mass=sum(masses.values()),
        notes=tuple(notes),
        allowances=ends,
        socket_start=sorting.socket_start,
        socket_struts=sorting.socket_struts,
        is_mirrored=sorting.is_mirrored,
        confusable=pairs,
        masses=masses,
    )


def _split_notes(types: tuple[StrutType, ...], choices: PartChoices) -> list[Note]:
    split = [t.label for t in types if t.coupler_at and t.role != "brace"]
    if not split or choices.longest_piece is None:
        return []
    said = {"types": tuple(split), "longest": choices.longest_piece}
    if choices.limited_by:
        return [note("struts-split.carrier", **said, carrier=choices.limited_by)]
    return [note("struts-split.bar", **said)]


def _n_couplers(types: tuple[StrutType, ...]) -> int:
    return sum(len(kind.coupler_at) * kind.quantity for kind in types)


def _fasteners(
    shell: Shell, types: tuple[StrutType, ...], choices: PartChoices
) -> tuple[Fastener, ...]:
    """Return what to order, in the connector's order, couplers last."""
    valence = np.bincount(shell.struts.ravel())
    n_couplers = _n_couplers(types)
    count: Counter[tuple[str, int]] = Counter()
    for place, item in enumerate(choices.connector.fasteners):
        for hub_valence, n_hubs in zip(*np.unique(valence, return_counts=True), strict=True):
            name = _named(item, int(hub_valence), choices)
            count[name, place] += int(n_hubs) * (item.per_hub + item.per_end * int(hub_valence))
        if item.per_coupler:
            count[item.item, place] += item.per_coupler * n_couplers
    items = choices.connector.fasteners
    found = [
        Fastener(name, n, items[place].mass, items[place].price)
        for (name, place), n in count.items()
        if n
    ]
    if n_couplers:
        tube = choices.connector.coupler_tube
        mass = None if tube is None else tube * choices.stock.mass
        found.append(Fastener("coupler", n_couplers, mass, choices.connector.coupler_price))
    return tuple(found)


def _named(item: FastenerItem, valence: int, choices: PartChoices) -> str:
    """Return the item's name with the bolt length that what it goes through asks for."""
    if not item.grip:
        return item.item
    section = choices.stock.section
    grip = 2 * section.wall * valence if item.grip == "stack" else section.width
    needed = ceil((grip + item.grip_extra) * 1000 - 1e-6)
    length = next((one for one in BOLT_LENGTHS if one >= needed), needed)
    return item.item.format(length=length)


def _masses(
    shell: Shell,
    types: tuple[StrutType, ...],
    fasteners: tuple[Fastener, ...],
    choices: PartChoices,
) -> tuple[dict[str, float], list[str]]:
    """Return the masses by kind, kg, and what is left out since nobody knows it."""
    stock, connector = choices.stock, choices.connector
    unknown = [f.item for f in fasteners if f.mass is None]
    per_end = connector.hub_mass_per_end
    if per_end is None and connector.hub_tube_per_end is not None:
        per_end = connector.hub_tube_per_end * stock.mass
    if per_end is None and connector.hub_mass is None:
        unknown.append("hubs")
    hubs = len(shell.hubs) * (connector.hub_mass or 0.0) + shell.struts.size * (per_end or 0.0)
    couplers = sum(f.quantity * (f.mass or 0.0) for f in fasteners if f.item == "coupler")
    return {
        "struts": sum(kind.quantity * kind.cut_length for kind in types) * stock.mass,
        "hubs": hubs,
        "couplers": couplers,
        "fasteners": sum(f.quantity * (f.mass or 0.0) for f in fasteners) - couplers,
    }, unknown
