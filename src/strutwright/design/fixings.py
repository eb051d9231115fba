"""What the hubs of a design carry besides struts: stakes and what hangs."""

from __future__ import annotations

import numpy as np

from strutwright.catalogue import anchor
from strutwright.design.design import Design
from strutwright.making import Fixings
from strutwright.shape.riser import feet_of

__all__ = ["fixings_of"]


def fixings_of(design: Design) -> Fixings:
    """Return the fixings of the hubs of `design`; nothing is staked on a free or ballasted base."""
    hung = bool(design.brief.loads.hung)
    if design.brief.site.base in {"free", "ballast"}:
        return Fixings(is_hung=hung)
    found = () if design.anchors is None else design.anchors.hubs
    kinds = [anchor(one.anchor) for one in found]
    through = [kind.diameter for kind in kinds if kind.kind == "stake" and kind.diameter]
    ground = np.asarray(feet_of(design.shell), dtype=np.int64)
    return Fixings(max(through, default=None), hung, ground)
