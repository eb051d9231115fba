"""Text files that stand beside a brief, read whole or refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from strutwright.errors import InputError

__all__ = ["read_text"]

_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")
"""How a spreadsheet's "Unicode text" begins."""


def read_text(path: str | Path, largest: int, refuse: Callable[[str], InputError]) -> str:
    """Return the text of the file at `path`: UTF-8, or UTF-16 where its first bytes say so.

    Parameters
    ----------
    path : path
    largest : int
        Bytes, beyond which the file is not what it is taken for.
    refuse : callable
        Makes the error from what is wrong with the file.

    Raises
    ------
    InputError
        What `refuse` makes, for a file that is not there, no text, or too long.
    """
    try:
        with Path(path).open("rb") as stream:
            data = stream.read(largest + 1)
        text = data.decode("utf-16" if data.startswith(_UTF_16) else "utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refuse(f"cannot be read: {reason}") from None
    if len(data) > largest:
        raise refuse(f"longer than {largest // 1024} KiB")
    return text
