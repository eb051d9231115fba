"""A kit put together by hand from a dome: no maker of parts takes part in these tests."""

from dataclasses import dataclass

import numpy as np

from strutwright.catalogue import connector, connector_ids, stock, stock_ids
from strutwright.parts import Fastener, HubType, Kit, PieceCount, StrutType
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import node_lengths

ALLOWANCE = 0.02


def kit_of(frequency):
    shell = dome(DomeSpec(radius=3.0, division=(frequency, 0), truncation="1/2"))
    lengths = np.round(node_lengths(shell), 6)
    values, strut_type_of = np.unique(-lengths, return_inverse=True)
    kinds = []
    for k, value in enumerate(-values):
        struts = np.flatnonzero(strut_type_of == k)
        label, cut = "ABCDEFGH"[k], float(value) - 2 * ALLOWANCE
        pieces = (PieceCount(label, cut, len(struts)),)
        count, band = len(struts), "n" * (k + 1)
        kinds.append(StrutType(label, float(value), cut, count, struts, "shell", band, pieces))
    valence = np.bincount(shell.struts.ravel())
    counts, hub_type_of = np.unique(valence, return_inverse=True)
    hubs = []
    for k, v in enumerate(counts.tolist()):
        members = np.flatnonzero(hub_type_of == k)
        spokes = np.stack([np.arange(v) * 2 * np.pi / v, np.full(v, 0.15)], axis=1)
        hubs.append(HubType(f"H{k + 1}", v, len(members), members, spokes, ("A",) * v))
    order = np.argsort(shell.struts.T.ravel(), kind="stable") % len(shell.struts)
    bought = stock(stock_ids()[0])
    return Kit(
        shell=shell,
        stock=bought,
        connector=connector(connector_ids()[0], bought.section.depth),
        strut_types=tuple(kinds),
        strut_type_of=strut_type_of,
        hub_types=tuple(hubs),
        hub_type_of=hub_type_of,
        fasteners=(Fastener("bolt M8 x 60", 26, 0.035, None),),
        mass=50.0,
        notes=(),
        allowances=np.full((len(shell.struts), 2), ALLOWANCE),
        socket_start=np.concatenate([[0], np.cumsum(valence)]),
        socket_struts=order,
        is_mirrored=np.zeros(len(shell.hubs), dtype=bool),
    )


@dataclass(frozen=True)
class Cut:
    label: str
    length: float


@dataclass(frozen=True)
class CuttingBar:
    stock: str
    length: float
    cuts: tuple[Cut, ...]
    offcut: float


BARS = (
    CuttingBar("emt-3/4", 3.048, (Cut("A", 1.8), Cut("B", 1.2)), 0.044),
    CuttingBar("emt-3/4", 3.048, (Cut("A", 1.8),), 1.246),
)
