"""kit.json: the whole design as data."""

from __future__ import annotations

import json
from typing import Any

from strutwright.brief import as_table
from strutwright.catalogue import CATALOGUE_VERSION
from strutwright.design import Design
from strutwright.exports.kit_schema import KIT_SCHEMA_VERSION, KitFile
from strutwright.exports.sections import (
    climate_section,
    cover_section,
    loads_section,
    packing_section,
    price_section,
    sequence_section,
    site_section,
    stability_section,
    structure_section,
    tolerances_section,
)
from strutwright.exports.sections.choices import (
    alternatives_section,
    lengths_section,
    sizes_section,
)
from strutwright.parts import HubType, Kit, StrutType
from strutwright.sentences import told
from strutwright.shape import Shell
from strutwright.shape.outer import Measures
from strutwright.structure import Check
from strutwright.values import finite, plain
from strutwright.version import __version__

__all__ = ["kit_data", "kit_json", "parts_data", "shell_data"]


def kit_data(design: Design) -> dict[str, Any]:
    """Return kit.json's content, checked against its schema."""
    show = design.brief.project.show
    data = {
        "schema_version": KIT_SCHEMA_VERSION,
        "strutwright_version": __version__,
        "catalogue_version": CATALOGUE_VERSION,
        "brief": as_table(design.brief),
        "recipe": plain(design.shell.recipe),
        "shell": shell_data(design.shell, design.measures),
        "alternatives": alternatives_section(design.choices),
        "lengths_tradeoff": lengths_section(design.choices),
        "sizes": sizes_section(design.choices),
        "parts": parts_data(design.kit),
        "loads": loads_section(design),
        "checks": [_check(check, show) for check in design.checks],
        "stability": stability_section(design),
        "structure": structure_section(design),
        "cutting": _cutting(design),
        "site": site_section(design),
        "tolerances": tolerances_section(design),
        "sequence": sequence_section(design),
        "cover": cover_section(design.cover),
        "climate": climate_section(design.climate),
        "packing": packing_section(design.packing),
        "price": price_section(design.price),
        "notes": [{"code": n.code, "text": told(n.text, system=show)} for n in design.notes],
    }
    return KitFile.model_validate(data).model_dump(mode="json", exclude_none=False)


def kit_json(design: Design) -> bytes:
    """Return kit.json: the same design gives the same bytes."""
    return (json.dumps(kit_data(design), indent=1, ensure_ascii=False) + "\n").encode()


def shell_data(shell: Shell, size: Measures) -> dict[str, Any]:
    """Return what kit.json says of `shell`, whose measures are `size`."""
    return {
        "hubs": plain(shell.hubs),
        "struts": plain(shell.struts),
        "role": shell.role.tolist(),
        "faces": plain(shell.faces),
        "base": plain(shell.base),
        "course": plain(shell.course),
        "groups": plain(shell.groups),
        "openings": _openings(shell),
        **plain(size),
    }


def _openings(shell: Shell) -> list[dict[str, Any]]:
    groups = shell.groups
    names = sorted({name.split(".")[1] for name in groups if name.endswith((".frame", ".vent"))})

    def members(*keys: str) -> list[int]:
        return [int(k) for key in keys for k in groups.get(key, ())]

    return [
        {
            "name": name,
            "kind": name.rsplit("_", 1)[0],
            "hubs": members(f"hubs.{name}.frame"),
            "struts": members(f"struts.{name}.frame") or members(f"struts.{name}.hinge"),
            "faces": members(f"faces.{name}.vent", f"faces.{name}.infill"),
        }
        for name in names
    ]


def parts_data(kit: Kit) -> dict[str, Any]:
    """Return what kit.json says of the parts of `kit`."""
    return {
        "strut_types": [_strut_type(kind) for kind in kit.strut_types],
        "hub_types": [_hub_type(kind) for kind in kit.hub_types],
        "fasteners": [{"item": f.item, "quantity": f.quantity} for f in kit.fasteners],
        "mass": kit.mass,
    }


def _strut_type(kind: StrutType) -> dict[str, Any]:
    couplers = kind.coupler_at
    return {
        "label": kind.label,
        "node_length": kind.node_length,
        "cut_length": kind.cut_length,
        "quantity": kind.quantity,
        "struts": plain(kind.struts),
        "role": kind.role,
        "pieces": [{"length": p.length, "quantity": p.quantity} for p in kind.pieces],
        "coupler_at": list(couplers),
        "band": kind.band,
        "end_cuts": plain(kind.end_cuts),
    }


def _hub_type(kind: HubType) -> dict[str, Any]:
    return {
        "label": kind.label,
        "valence": kind.valence,
        "quantity": kind.quantity,
        "hubs": plain(kind.hubs),
        "spokes": [{"azimuth": float(a), "dip": float(d)} for a, d in kind.spokes],
        "sockets": list(kind.sockets),
    }


def _check(check: Check, system: str) -> dict[str, Any]:
    return {
        "code": check.code,
        "subject": {"kind": check.subject.kind, "index": check.subject.index},
        "demand": check.demand,
        "capacity": check.capacity,
        "unit": check.unit,
        "utilisation": finite(check.utilisation),
        "required": check.required,
        "status": check.status,
        "combination": check.combination,
        "format": check.format,
        "source": str(check.source),
        "note": told(check.note, system=system),
        "is_bound": check.is_bound,
    }


def _cutting(design: Design) -> dict[str, Any]:
    plan = design.cutting
    return {
        "bars": [
            {
                "stock": bar.stock,
                "length": bar.length,
                "cuts": [{"label": cut.label, "length": cut.length} for cut in bar.cuts],
                "offcut": bar.offcut,
            }
            for bar in plan.bars
        ],
        "cost": plan.cost,
        "bound": plan.bound,
        "gap": plan.gap,
        "proven": plan.proven,
        "used": plan.used,
        "bought": plan.bought,
    }
