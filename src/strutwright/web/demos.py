"""The demo briefs that a new brief may begin from."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from strutwright.errors import InputError

__all__ = ["Demo", "demo_text", "demos", "lay_beside"]

_PLACES: Final = (
    Path(__file__).parents[1] / "demos",  # in an installed package
    Path(__file__).parents[3] / "examples",  # in a clone
)


@dataclass(frozen=True)
class Demo:
    """A demo brief."""

    id: str
    title: str
    about: str


def demos() -> list[Demo]:
    """Return the demos by name; the first line of each says what it is."""
    return [_demo(path) for path in sorted(_folder().glob("*.toml"))]


def demo_text(name: str) -> str:
    """Return the text of the demo `name`."""
    known = {path.stem: path for path in _folder().glob("*.toml")}
    if name not in known:
        what, mend = f"there is no demo {name!r}", "choose one of the list"
        raise InputError("demo-unknown", what, "source", mend)
    return known[name].read_text(encoding="utf-8")


def lay_beside(text: str, folder: Path) -> list[str]:
    """Copy the files that a demo's `text` names (levels, readings) into `folder`; return them.

    A file of that name which is there already is left as it is.
    """
    laid = []
    for path in sorted(_folder().glob("*.csv")):
        if f'"{path.name}"' not in text:
            continue
        with contextlib.suppress(FileExistsError), (folder / path.name).open("xb") as stream:
            stream.write(path.read_bytes())
            laid.append(path.name)
    return laid


def _folder() -> Path:
    return next((place for place in _PLACES if place.is_dir()), _PLACES[0])


def _demo(path: Path) -> Demo:
    lines = path.read_text(encoding="utf-8").splitlines()
    about: list[str] = []
    for line in lines:
        if not line.startswith("#"):
            break
        about.append(line.lstrip("# ").strip())
    named = [line for line in lines if line.startswith("name")]
    title = named[0].split('"')[1] if named and '"' in named[0] else path.stem
    return Demo(path.stem, title, " ".join(about))
