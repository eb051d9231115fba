"""The shelf: briefs as plain TOML files in one folder, shared with the command line.

A save names the revision that it was made from. The file is written beside its place, flushed
to the disk and renamed, under a lock of the folder; when the file has changed meanwhile nothing
is written and both texts are told. Nothing is ever deleted: a brief that is put away lies in
``archive/``.
"""

from __future__ import annotations

import hashlib
import os
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from strutwright.errors import InputError
from strutwright.saving import flush_folder, save_file
from strutwright.web.names import brief_path, kit_folder

__all__ = [
    "LARGEST_BRIEF",
    "Conflict",
    "Held",
    "Listed",
    "create",
    "listed",
    "move",
    "read",
    "revision_of",
    "save",
]

LARGEST_BRIEF: Final = 256 * 1024
"""Bytes; the same bound as on the command line."""
MOST_BRIEFS: Final = 2000
"""On one shelf; our choice: a workshop's records of many years."""
ARCHIVE: Final = "archive"
_LOCK: Final = ".strutwright.lock"


@dataclass(frozen=True)
class Held:
    """A brief as it lies on the disk."""

    name: str
    text: str
    revision: str


@dataclass(frozen=True)
class Listed:
    """A brief on the shelf: its file name, what it calls itself, and whether a kit lies beside."""

    name: str
    title: str
    use: str
    width: str
    length: str
    revision: str
    kit: str
    """``""`` none, ``fresh`` made from this very text, ``older`` made from another."""
    changed: float
    """Time of the last change, seconds of the epoch."""


class Conflict(Exception):  # noqa: N818 - not a fault: two people edited
    """The file is not what the save was made from; nothing was written."""

    def __init__(self, held: Held) -> None:
        super().__init__(held.name)
        self.held = held


def revision_of(text: str) -> str:
    """Return the revision of a brief: a digest of its text."""
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def read(folder: Path, name: str) -> Held:
    """Return the brief `name`.

    Raises
    ------
    InputError
        ``brief-not-found``, ``brief-too-large`` or ``brief-not-text``.
    """
    path = brief_path(folder, name)
    if path.is_symlink() or not path.is_file():
        raise InputError("brief-not-found", f"there is no brief {name}", "name", "see the shelf")
    return _held(path)


def _held(path: Path) -> Held:
    with path.open("rb") as stream:
        data = stream.read(LARGEST_BRIEF + 1)
    if len(data) > LARGEST_BRIEF:
        what = f"{path.name} is larger than {LARGEST_BRIEF // 1024} kB"
        raise InputError("brief-too-large", what, path.stem, "no brief is; look what it holds")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        mend = "save it as UTF-8"
        raise InputError("brief-not-text", f"{path.name} is no text", path.stem, mend) from None
    return Held(path.stem, text, revision_of(text))


def listed(folder: Path) -> list[Listed]:
    """Return the briefs of the shelf by name; files that are no readable text are left out."""
    found: list[Listed] = []
    for path in sorted(folder.glob("*.toml"))[:MOST_BRIEFS]:
        try:
            brief_path(folder, path.stem)
            if path.is_symlink() or not path.is_file():
                continue
            found.append(_listed(folder, path))
        except (InputError, OSError):
            continue
    return found


def _listed(folder: Path, path: Path) -> Listed:
    held = _held(path)
    try:
        table = tomllib.loads(held.text)
    except tomllib.TOMLDecodeError:
        table = {}
    project, size = _table(table, "project"), _table(table, "size")
    kit = ""
    copy = kit_folder(folder, path.stem) / "brief.toml"
    if copy.is_file():
        kit = "fresh" if copy.read_bytes() == held.text.encode() else "older"
    return Listed(
        name=held.name,
        title=str(project.get("name", held.name))[:200],
        use=str(project.get("use", ""))[:40],
        width=str(size.get("width", ""))[:40],
        length=str(size.get("length", ""))[:40],
        revision=held.revision,
        kit=kit,
        changed=path.stat().st_mtime,
    )


def _table(table: dict[str, object], key: str) -> dict[str, object]:
    inner = table.get(key)
    return inner if isinstance(inner, dict) else {}


def create(folder: Path, name: str, text: str) -> Held:
    """Write a new brief; a name that is taken is refused."""
    _check_size(text)
    path = brief_path(folder, name)
    with _locked(folder):
        if path.exists() or path.is_symlink():
            mend = "choose another name"
            raise InputError("brief-exists", f"a brief {name} is there already", "name", mend)
        save_file(path, text.encode())
    return Held(path.stem, text, revision_of(text))


def save(folder: Path, name: str, text: str, revision: str) -> Held:
    """Replace the brief `name`, which must still be at `revision`.

    Raises
    ------
    Conflict
        It has changed meanwhile: nothing is written.
    """
    _check_size(text)
    path = brief_path(folder, name)
    with _locked(folder):
        held = read(folder, name)
        if held.text != text:
            if held.revision != revision:
                raise Conflict(held)
            save_file(path, text.encode())
    return Held(path.stem, text, revision_of(text))


def move(folder: Path, name: str, *, away: bool) -> Held:
    """Put the brief `name` away into ``archive/``, or back on the shelf."""
    archive = folder / ARCHIVE
    source, target = (folder, archive) if away else (archive, folder)
    with _locked(folder):
        if archive.is_symlink():
            mend = "make it a plain folder"
            raise InputError("brief-not-found", "archive is a link", "archive", mend)
        held = read(source, name)
        target.mkdir(exist_ok=True)
        place = brief_path(target, name)
        if place.exists():
            mend = "rename one of the two files"
            raise InputError("brief-exists", f"a brief {name} is there already", "name", mend)
        brief_path(source, name).rename(place)
        flush_folder(target)
    return held


def _check_size(text: str) -> None:
    size = len(text.encode())
    if size > LARGEST_BRIEF:
        what = f"{size} bytes where {LARGEST_BRIEF} are the most"
        raise InputError("brief-too-large", what, "text", "no brief is that long")


@contextmanager
def _locked(folder: Path) -> Iterator[None]:
    """Hold the folder's lock: two servers, or two saves, follow one another."""
    with (folder / _LOCK).open("w") as stream:
        if os.name != "nt":
            import fcntl  # not on Windows, where one server holds the port

            fcntl.flock(stream, fcntl.LOCK_EX)
        yield
