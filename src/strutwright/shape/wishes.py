"""What a brief wishes of a shape, as the makers of shapes take it."""

from __future__ import annotations

from strutwright.brief import Brief, Size
from strutwright.catalogue import carrier, stock
from strutwright.errors import InputError
from strutwright.shape.choose import FITTING_STRUT
from strutwright.shape.sizing import Sizes

__all__ = ["family_of", "freedom_of", "longest_piece", "sizes_of"]


def family_of(brief: Brief) -> str:
    """Return the family asked for, or the one that follows from the size.

    Raises
    ------
    InputError
        ``size-missing``: a length alone.
    """
    size = brief.size
    if size.length is not None and size.width is None and size.freedom is None:
        what = "a length is given and no width, so the plan is not known"
        mend = "give the width as well, or leave length out for a dome"
        raise InputError("size-missing", what, brief.where("size.length"), mend)
    if brief.shape is not None:
        return brief.shape.family
    is_long = size.length is not None and size.width is not None and size.length > size.width
    return "long-dome" if is_long else "dome"


def sizes_of(brief: Brief) -> Sizes:
    """Return the sizes wished for; a headroom is met by the riser first."""
    size = brief.size
    headroom = None
    if size.headroom is not None and size.headroom > brief.site.riser:
        headroom = size.headroom - brief.site.riser
    freedom, wide = freedom_of(size)
    return Sizes(
        size.width, size.rise, size.floor_area, size.longest_strut, headroom, freedom, wide
    )


def freedom_of(size: Size) -> tuple[float, tuple[float, float] | None]:
    """Return the share by which `size` may move, and the two widths where those are given, m."""
    free = size.freedom
    if free is None:
        return 0.0, None
    if free.least is not None and free.largest is not None:
        return 0.0, (free.least, free.largest)
    return free.share or 0.0, None


def longest_piece(brief: Brief) -> float:
    """Return the longest strut that bars and carrier allow in one piece, m.

    No longer than what is fitting for struts between hubs.
    """
    wish = brief.struts
    bars = [bar.length for bar in wish.bars]
    if not bars and isinstance(wish.stock, str):
        bars = [bar.length for bar in stock(wish.stock).bars]
    limits = [FITTING_STRUT, *([max(bars)] if bars else [])]
    by = carrier(brief.delivery.carrier)
    if by.length is not None:
        limits.append(by.length - by.packaging)
    return min(limits)
