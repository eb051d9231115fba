"""Every file that a kit can be written to, by its name in the kit folder."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from strutwright.exports.comma import cut_plan_csv, parts_csv
from strutwright.exports.parts_xlsx import parts_xlsx
from strutwright.exports.shell_dxf import shell_dxf
from strutwright.exports.shell_glb import shell_glb
from strutwright.exports.tables import CutBar
from strutwright.parts import Kit
from strutwright.values import Words

__all__ = ["FORMATS", "Order", "export", "label_of"]


@dataclass(frozen=True)
class Order:
    """What is to be written and how it is shown.

    Parameters
    ----------
    kit : Kit
    bars : sequence of CutBar
        The cutting plan; empty where none was made.
    system : str
        ``metric``, ``imperial`` or ``both``.
    step : float or None
        What the workshop saws to, m.
    remark : str
        Printed on sheets, as ``NOT CHECKED``.
    """

    kit: Kit
    bars: Sequence[CutBar] = ()
    system: str = "metric"
    step: float | None = None
    remark: str = ""


def label_of(kit: Kit) -> Words:
    """Return the (S,) label of the strut type of each strut."""
    labels = np.array([kind.label for kind in kit.strut_types])
    return np.asarray(labels[kit.strut_type_of], dtype=np.str_)


def _glb(order: Order) -> bytes:
    kit = order.kit
    return shell_glb(kit.shell, label_of(kit), kit.stock.section.depth, kit.allowances)


def _xlsx(order: Order) -> bytes:
    return parts_xlsx(
        order.kit, order.bars, system=order.system, step=order.step, remark=order.remark
    )


FORMATS: Final[Mapping[str, Callable[[Order], bytes]]] = MappingProxyType(
    {
        "cut-plan.csv": lambda order: cut_plan_csv(order.bars, order.system, order.step),
        "parts.csv": lambda order: parts_csv(order.kit, order.system, order.step),
        "parts.xlsx": _xlsx,
        "shell.dxf": lambda order: shell_dxf(order.kit.shell, label_of(order.kit)),
        "shell.glb": _glb,
    }
)
"""What makes each file."""


def export(order: Order) -> dict[str, bytes]:
    """Return all files of the kit by name; the cutting plan only where there is one."""
    return {
        name: make(order) for name, make in FORMATS.items() if order.bars or name != "cut-plan.csv"
    }
