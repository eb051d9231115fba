"""The brief to begin with."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Final

from strutwright.errors import InputError

__all__ = ["starter_brief", "write_starter"]

NAME: Final = "brief.toml"


def starter_brief() -> str:
    """Return a commented brief that builds as it stands: a 6 m dome, every section explained."""
    return (files("strutwright.brief") / "starter.toml").read_text(encoding="utf-8")


def write_starter(folder: str | Path) -> Path:
    """Write the starter brief into `folder`, which is made if need be, and return its path.

    Raises
    ------
    InputError
        ``start-exists``: a brief is there, and nothing is overwritten; ``start-not-writable``.
    """
    path = Path(folder) / NAME
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(starter_brief())
    except FileExistsError:
        what = f"{path} is there already, and is not overwritten"
        if not path.exists():
            what = f"{folder} is no folder"
        raise InputError("start-exists", what, str(folder), "name another folder") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        what = f"{path} cannot be written: {reason}"
        mend = "name another folder"
        raise InputError("start-not-writable", what, str(folder), mend) from None
    return path
