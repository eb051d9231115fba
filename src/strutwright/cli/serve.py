"""``strutwright serve``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the command of this family to `app`."""
    app.command("serve")(serve)


def serve(
    project: Annotated[
        Path, typer.Option(help="Folder of briefs; made if it is not there.")
    ] = Path(),
    port: Annotated[int, typer.Option(help="Port; 0 takes any free one.", min=0, max=65535)] = 8765,
    host: Annotated[
        str, typer.Option(help="Address to listen at; beyond this machine a token is asked for.")
    ] = "127.0.0.1",
) -> None:
    """Open the briefs of a folder in the browser."""
    from strutwright import web  # the server is heavy

    def told(address: str) -> None:
        print(f"strutwright is at {address}\nStop it with Ctrl-C.", flush=True)

    web.serve(project, host, port, told=told)
