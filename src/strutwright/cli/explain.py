"""``strutwright explain``."""

from __future__ import annotations

import difflib
from importlib.resources import files
from typing import Annotated

import typer

from strutwright.errors import InputError

__all__ = ["codes", "register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("explain")(explain)


def explain(
    code: Annotated[str, typer.Argument(help="Code of an error, a note or a check.")],
) -> None:
    """Print the page of an error, note or check code."""
    known = codes()
    if code not in known:
        near = difflib.get_close_matches(code, known, n=3)
        raise InputError(
            "unknown-code",
            f"no code is called {code!r}",
            "explain CODE",
            f"did you mean {', '.join(near)}?" if near else "copy the code from the message",
        )
    print(f"{code}\n\n{known[code]}")


def codes() -> dict[str, str]:
    """Return the page of every code, by code."""
    text = (files("strutwright") / "codes.md").read_text(encoding="utf-8")
    pages: dict[str, str] = {}
    for section in text.split("\n## ")[1:]:
        code, _, body = section.partition("\n")
        pages[code.strip()] = body.strip()
    return pages
