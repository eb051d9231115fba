"""From one brief to the whole kit of a triangulated strut-and-hub shell.

>>> import strutwright as sw
>>> brief = sw.read_brief("house.toml")  # doctest: +SKIP
>>> design = sw.run(brief)  # doctest: +SKIP
>>> sw.write_kit(design, "out/house")  # doctest: +SKIP
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from strutwright.errors import InputError, Problem, ResultError
from strutwright.version import __version__

if TYPE_CHECKING:
    from strutwright.brief import parse_brief, read_brief
    from strutwright.design import run
    from strutwright.folder import write_kit
    from strutwright.parts import make_kit
    from strutwright.shape import make_shell

__all__ = [
    "InputError",
    "Problem",
    "ResultError",
    "__version__",
    "make_kit",
    "make_shell",
    "parse_brief",
    "read_brief",
    "run",
    "write_kit",
]

_ROOMS = {
    "make_kit": "parts",
    "make_shell": "shape",
    "parse_brief": "brief",
    "read_brief": "brief",
    "run": "design",
    "write_kit": "folder",
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the room holds
    """Return a public function from its room; rooms are loaded when they are first used."""
    if name not in _ROOMS:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(f"{__name__}.{_ROOMS[name]}"), name)
