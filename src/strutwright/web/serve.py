"""Starting the server on a port of this machine."""

from __future__ import annotations

import ipaddress
import secrets
import socket
from collections.abc import Callable
from pathlib import Path

from strutwright.errors import InputError
from strutwright.web.guard import Rules

__all__ = ["serve"]


def serve(
    project: Path, host: str = "127.0.0.1", port: int = 8765, *, told: Callable[[str], None]
) -> None:
    """Serve the briefs in `project` until interrupted.

    Beyond this machine (`host` is not a loopback address) every request must bear a token, which
    is made anew at each start and stands in the address that is told.

    Parameters
    ----------
    project : Path
        Made if it is not there.
    host : str
        Address to listen at.
    port : int
        0 takes any free one.
    told : callable
        Is given the address to open.

    Raises
    ------
    InputError
        ``serve-folder``, ``serve-host`` or ``serve-port``.
    """
    import uvicorn  # heavy, and needed by this command alone

    from strutwright.web.app import make_app  # the same

    folder = _folder(project)
    rules = Rules(token="" if _is_loopback(host) else secrets.token_urlsafe(24))
    listening = _listen(host, port)
    place = listening.getsockname()[1]
    shown = f"[{host}]" if ":" in host else host
    query = f"/?token={rules.token}" if rules.token else ""
    told(f"http://{shown}:{place}{query}")
    app = make_app(folder, rules, warm=True)
    config = uvicorn.Config(
        app, log_level="warning", access_log=False, server_header=False,
        timeout_graceful_shutdown=2, timeout_keep_alive=30, limit_concurrency=512,
    )  # fmt: skip
    uvicorn.Server(config).run(sockets=[listening])


def _folder(project: Path) -> Path:
    try:
        project.mkdir(parents=True, exist_ok=True)
        probe = project / ".strutwright.lock"
        probe.touch()
    except OSError as error:
        what = f"{project} cannot be written: {error.strerror or error}"
        raise InputError("serve-folder", what, "--project", "name another folder") from None
    return project


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        what, mend = f"{host[:80]!r} is no address", "give 127.0.0.1, or an address of this machine"
        raise InputError("serve-host", what, "--host", mend) from None


def _listen(host: str, port: int) -> socket.socket:
    kind = socket.AF_INET6 if ":" in host else socket.AF_INET
    # named as TCP, or asyncio would leave small answers waiting 40 ms for others to go with them
    listening = socket.socket(kind, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(512)  # who asks before all is loaded waits, and is not turned away
    except (OSError, OverflowError) as error:
        listening.close()
        what = f"port {port} of {host} cannot be had: {error}"
        raise InputError("serve-port", what, "--port", "name another, or 0 for any") from None
    return listening
