"""Which characters the shipped font has, read from its character map."""

from __future__ import annotations

import struct
from functools import cache
from importlib.resources import files

from strutwright.errors import ResultError

__all__ = ["known_characters"]


@cache
def known_characters() -> frozenset[str]:
    """Return the characters of the regular font, and the warning sign that the page draws.

    Source: OpenType specification, table `cmap`, format 4.
    """
    data = (files("strutwright.documents") / "fonts" / "SourceSans3-Regular.ttf").read_bytes()
    at = _table(data, b"cmap")
    (count,) = struct.unpack_from(">H", data, at + 2)
    codes: set[int] = set()
    for k in range(count):
        (offset,) = struct.unpack_from(">I", data, at + 4 + 8 * k + 4)
        (form,) = struct.unpack_from(">H", data, at + offset)
        if form == 4:
            codes |= _format_4(data, at + offset)
    return frozenset(map(chr, codes)) | {"⚠", "\n"}


def _table(data: bytes, tag: bytes) -> int:
    (count,) = struct.unpack_from(">H", data, 4)
    for k in range(count):
        name, _, offset, _ = struct.unpack_from(">4sIII", data, 12 + 16 * k)
        if name == tag:
            return int(offset)
    raise ResultError("font-broken", "the shipped font has no character map", "fonts", "reinstall")


def _format_4(data: bytes, at: int) -> set[int]:
    (twice,) = struct.unpack_from(">H", data, at + 6)
    n = twice // 2
    ends = struct.unpack_from(f">{n}H", data, at + 14)
    starts = struct.unpack_from(f">{n}H", data, at + 16 + twice)
    return {c for low, high in zip(starts, ends, strict=True) for c in range(low, high + 1)}
