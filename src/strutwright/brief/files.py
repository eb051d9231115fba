"""Text files that stand beside a brief, read whole or refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from strutwright.errors import InputError

__all__ = ["read_text"]


def read_text(path: str | Path, largest: int, refuse: Callable[[str], InputError]) -> str:
    """Return the UTF-8 text of the file at `path`.

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
        text = data.decode("utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refuse(f"cannot be read: {reason}") from None
    if len(data) > largest:
        raise refuse(f"longer than {largest // 1024} KiB")
    return text
