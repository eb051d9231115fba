"""``strutwright start`` and ``strutwright schema``."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from strutwright import brief as briefs

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    app.command("start")(start)
    app.command("schema")(schema)


def start(
    folder: Annotated[Path, typer.Argument(help="Folder for the brief; made if it is not there.")],
) -> None:
    """Write a commented starter brief that builds as it stands."""
    path = briefs.write_starter(folder)
    print(f"Starter brief written: {path}")
    print(f"Change it, then: strutwright build {path}")


def schema(
    name: Annotated[str, typer.Argument(help="brief or kit")],
) -> None:
    """Print the JSON Schema of a file format."""
    from strutwright.exports import kit_schema  # exports are heavy; the brief's schema is not

    text = kit_schema() if name == "kit" else briefs.schema(name)
    print(json.dumps(text, indent=2, ensure_ascii=False))
