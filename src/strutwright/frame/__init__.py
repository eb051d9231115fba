"""Spatial frame solver: nodes, members, springs, supports and loads in; forces and modes out.

It knows nothing of shells. Start with `FrameModel`, `Loads` and `solve`;
`docs/examples/frame_portal.py` and `frame_toggle.py` beside it are worked examples.
"""

from strutwright.frame.along import Along, forces_along, internal_forces
from strutwright.frame.buckling import Buckling, buckle, buckling, mode_kind
from strutwright.frame.contact import (
    ContactFrame,
    ContactResponse,
    Settlement,
    contact_forces,
    contact_frame,
    respond_contact,
    settle,
    settled,
    solve_contact,
)
from strutwright.frame.couplers import Couplers
from strutwright.frame.divide import (
    Division,
    divide_loads,
    insert_couplers,
    subdivide,
    undivided,
)
from strutwright.frame.element import local_axes
from strutwright.frame.loads import Loads, combine, over_node_length
from strutwright.frame.mechanisms import Mechanism, MechanismError
from strutwright.frame.model import Contacts, FrameModel, Sections, circular_tube
from strutwright.frame.path import Path, PathSettings, imperfect, trace
from strutwright.frame.remove import Removed, removed
from strutwright.frame.softness import softest_movements
from strutwright.frame.solve import Factored, Response, factor, respond, solve

__all__ = [
    "Along",
    "Buckling",
    "ContactFrame",
    "ContactResponse",
    "Contacts",
    "Couplers",
    "Division",
    "Factored",
    "FrameModel",
    "Loads",
    "Mechanism",
    "MechanismError",
    "Path",
    "PathSettings",
    "Removed",
    "Response",
    "Sections",
    "Settlement",
    "buckle",
    "buckling",
    "circular_tube",
    "combine",
    "contact_forces",
    "contact_frame",
    "divide_loads",
    "factor",
    "forces_along",
    "imperfect",
    "insert_couplers",
    "internal_forces",
    "local_axes",
    "mode_kind",
    "over_node_length",
    "removed",
    "respond",
    "respond_contact",
    "settle",
    "settled",
    "softest_movements",
    "solve",
    "solve_contact",
    "subdivide",
    "trace",
    "undivided",
]
