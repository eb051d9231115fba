"""One file, written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

from strutwright.errors import InputError

__all__ = ["flush_folder", "save_file"]


def save_file(path: Path, content: bytes) -> None:
    """Write `content` beside `path` and rename it when it is whole.

    A reader sees the old file or the new one, never half of it.

    Raises
    ------
    InputError
        ``out-not-writable``: nothing can be written there, or the disk refuses.
    """
    beside = path.with_name(f".{path.name}.saving")
    try:
        try:
            with beside.open("wb") as stream:
                stream.write(content)
                stream.flush()
                os.fsync(stream.fileno())
            beside.replace(path)
        except OSError:
            beside.unlink(missing_ok=True)
            raise
        flush_folder(path.parent)
    except OSError as error:
        raise InputError(
            "out-not-writable",
            f"writing failed: {error.strerror or error}",
            str(path),
            "free space or name another file",
        ) from error


def flush_folder(folder: Path) -> None:
    """Wait until the names in `folder` are on the disk."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
