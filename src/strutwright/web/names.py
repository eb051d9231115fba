"""Names of briefs and paths of kit files: nothing leaves the project folder."""

from __future__ import annotations

import re
from pathlib import Path, PurePosixPath
from typing import Final

from strutwright.errors import InputError

__all__ = ["brief_path", "inside", "kit_folder", "slug"]

_NAME: Final = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._-]{0,62}[A-Za-z0-9])?")
_RESERVED: Final = re.compile(r"(?i)(con|prn|aux|nul|com\d|lpt\d)(\..*)?")


def brief_path(folder: Path, name: str) -> Path:
    """Return the path of the brief `name` in `folder`, whether it is there or not.

    Raises
    ------
    InputError
        ``brief-name``: letters, digits, blank, ``.``, ``_`` and ``-`` alone make a name.
    """
    if not _NAME.fullmatch(name) or ".." in name or _RESERVED.fullmatch(name):
        raise InputError(
            "brief-name",
            f"{name[:80]!r} is no name for a brief",
            "name",
            "use up to 64 letters, digits, blanks, dots or dashes, such as north-field",
        )
    return folder / f"{name}.toml"


def kit_folder(folder: Path, name: str) -> Path:
    """Return where the kit of the brief `name` is kept: where ``strutwright build`` puts it."""
    return folder / f"{brief_path(folder, name).stem}-kit"


def inside(folder: Path, relative: str) -> Path | None:
    """Return the plain file `relative` in `folder`, or None when there is none or it leads out."""
    parts = PurePosixPath(relative).parts
    if not parts or "\\" in relative or "\0" in relative or ":" in relative:
        return None
    if any(part in ("..", "/", ".") or part.startswith(".") for part in parts):
        return None
    try:
        root, found = folder.resolve(strict=True), (folder / relative).resolve(strict=True)
    except (OSError, ValueError):
        return None
    return found if found.is_relative_to(root) and found.is_file() else None


def slug(title: str) -> str:
    """Return a file name for `title`: small letters, digits and dashes."""
    words = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:48].strip("-")
    return words or "brief"
