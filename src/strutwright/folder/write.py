"""Write a kit folder beside its place and rename it when it is whole."""

from __future__ import annotations

import contextlib
import glob
import os
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath

from strutwright.errors import InputError

__all__ = ["check_target", "write_files"]

KIT_MARK = "kit.json"
"""A folder that holds this file was written by strutwright; `force` replaces no other."""
PARTIAL = ".partial-"
RETIRED = ".retired-"


def check_target(out: Path, *, force: bool) -> None:
    """Raise InputError unless a kit folder may be written at `out`.

    Called before the work starts, so that nobody waits for a result that cannot be kept.
    What a killed run left beside `out` is mended first.
    """
    where = f"--out {out}"
    _sweep(out.absolute())
    if out.is_symlink() or (out.exists() and not out.is_dir()):
        raise InputError(
            "out-not-a-folder",
            f"{out} exists and is not a folder",
            where,
            "name a folder that does not exist yet",
        )
    if out.is_dir() and any(out.iterdir()):
        _check_replaceable(out, where, force=force)
    parent = _first_existing(out)
    if not os.access(parent, os.W_OK | os.X_OK) or not parent.is_dir():
        raise InputError(
            "out-not-writable",
            f"nothing can be written in {parent}",
            where,
            "name a folder where you may write",
        )


def _check_replaceable(out: Path, where: str, *, force: bool) -> None:
    if not force:
        raise InputError(
            "out-exists",
            f"{out} exists and is not empty",
            where,
            "name another folder, or add --force to replace this kit",
        )
    if not (out / KIT_MARK).is_file():
        raise InputError(
            "out-not-a-kit",
            f"{out} holds no {KIT_MARK}, so it is not a kit folder",
            where,
            "--force replaces kit folders alone: name another folder",
        )


def _first_existing(out: Path) -> Path:
    parent = out.absolute().parent
    while not parent.exists():
        parent = parent.parent
    return parent


def write_files(files: Mapping[str, bytes], out: Path, *, force: bool = False) -> Path:
    """Write `files` into the folder `out` and return its path.

    Everything is written into a hidden folder beside `out`, which is renamed when whole: a
    reader sees the old kit or the new one, never half of it.

    Parameters
    ----------
    files : mapping of relative path to bytes
        Paths with ``/`` between folders.
    out : Path
        The kit folder.
    force : bool
        Replace an existing kit folder.

    Raises
    ------
    InputError
        `out` may not be written, or the disk refuses.
    """
    check_target(out, force=force)
    out = out.absolute()
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with _partial(out) as partial:
            for name, content in files.items():
                path = partial / PurePosixPath(name)
                path.parent.mkdir(parents=True, exist_ok=True)
                _write_through(path, content)
            _swap(partial, out)
    except OSError as error:
        raise InputError(
            "out-not-writable",
            f"writing failed: {error.strerror or error}",
            f"--out {out}",
            "free space or name another folder",
        ) from error
    return out


def _write_through(path: Path, content: bytes) -> None:
    with path.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


@contextlib.contextmanager
def _partial(out: Path) -> Iterator[Path]:
    partial = out.parent / f".{out.name}{PARTIAL}{os.getpid()}"
    shutil.rmtree(partial, ignore_errors=True)
    partial.mkdir()
    try:
        yield partial
    finally:
        shutil.rmtree(partial, ignore_errors=True)


def _swap(partial: Path, out: Path) -> None:
    if not out.exists():
        partial.rename(out)
        return
    retired = out.parent / f".{out.name}{RETIRED}{os.getpid()}"
    out.rename(retired)
    try:
        partial.rename(out)
    except OSError:
        retired.rename(out)
        raise
    shutil.rmtree(retired, ignore_errors=True)


def _sweep(out: Path) -> None:
    """Mend what a killed run left: put a retired kit back if it is the only one, drop the rest."""
    for retired in sorted(out.parent.glob(f".{glob.escape(out.name)}{RETIRED}*")):
        if not out.exists():
            retired.rename(out)
        elif not _alive(retired):
            shutil.rmtree(retired, ignore_errors=True)
    for partial in out.parent.glob(f".{glob.escape(out.name)}{PARTIAL}*"):
        if not _alive(partial):
            shutil.rmtree(partial, ignore_errors=True)


def _alive(folder: Path) -> bool:
    """Return True when the process whose number the hidden folder bears is running."""
    number = folder.name.rsplit("-", 1)[-1]
    if not number.isdigit() or int(number) == os.getpid():
        return False
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
