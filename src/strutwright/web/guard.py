"""What every request must pass: host, token, origin, kind and size; what every answer bears.

A page on another site can make a browser send requests here. Reading is shut to it because no
answer allows another origin; writing is shut because each write must bear a header that only a
page of this origin can set. A name that is turned to this machine by another's name server is
shut out by the Host header.
"""

from __future__ import annotations

import hmac
import ipaddress
import json
from collections.abc import Iterable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from typing import Final
from urllib.parse import parse_qs, urlsplit

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from strutwright.errors import Problem

__all__ = ["LARGEST_BODY", "Guard", "Rules"]

LARGEST_BODY: Final = 2 * 1024**2
"""Bytes of a request; our choice: a brief and a long list of readings, four times over."""
WRITE_HEADER: Final = b"x-strutwright"
TOKEN_HEADER: Final = b"x-strutwright-token"
COOKIE: Final = "strutwright_token"
_SAFE: Final = ("GET", "HEAD", "OPTIONS")
_HERE: Final = ("localhost", "127.0.0.1", "::1")
_ANSWER_HEADERS: Final = (
    (
        b"content-security-policy",
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
        b"font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; "
        b"frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'",
    ),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"SAMEORIGIN"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=()"),
)


@dataclass(frozen=True)
class Rules:
    """Who may ask.

    Parameters
    ----------
    token : str
        Empty: only this machine may ask. Else every request must bear it.
    hosts : tuple of str
        Further names under which the server may be asked.
    """

    token: str = ""
    hosts: tuple[str, ...] = ()


class _Refusal(Exception):  # noqa: N818 - an answer, not a fault
    def __init__(self, status: int, problem: Problem) -> None:
        super().__init__(problem.what)
        self.status, self.problem = status, problem


class Guard:
    """The outermost layer of the server."""

    def __init__(self, app: ASGIApp, rules: Rules) -> None:
        self._app, self._rules = app, rules

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = _headers(scope)

        async def answer(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *_ANSWER_HEADERS]
            await send(message)

        try:
            given = self._admit(scope, headers)
            body = await _whole_body(scope, headers, receive)
        except _Refusal as refusal:
            await _say(answer, refusal.status, refusal.problem)
            return
        if given:
            await _redirect(answer, given)
            return
        await self._app(scope, body, answer)

    def _admit(self, scope: Scope, headers: dict[bytes, bytes]) -> str:
        """Refuse what may not come in; return a token that came with the address."""
        host = _host_of(headers.get(b"host", b""))
        if host not in _HERE and host not in self._rules.hosts and not self._by_number(host):
            what = f"asked under the name {host[:80]!r}, which is not this server's"
            mend = "open http://127.0.0.1 and the port that the terminal shows"
            raise _Refusal(421, Problem("host-refused", what, "Host", mend))
        given = self._check_token(scope, headers)
        if scope["method"] not in _SAFE:
            _check_write(headers)
        return given

    def _by_number(self, host: str) -> bool:
        """Whether an address of the machine may be named: beyond it the token is what counts."""
        if not self._rules.token:
            return False
        try:
            ipaddress.ip_address(host)
        except ValueError:
            return False
        return True

    def _check_token(self, scope: Scope, headers: dict[bytes, bytes]) -> str:
        token = self._rules.token
        if not token:
            return ""
        held = (headers.get(TOKEN_HEADER, b"").decode("latin-1"), _cookie(headers))
        if any(hmac.compare_digest(one.encode(), token.encode()) for one in held):
            return ""
        asked = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        if scope["method"] == "GET" and hmac.compare_digest(asked.encode(), token.encode()):
            return token
        mend = "open the whole address that the terminal shows"
        raise _Refusal(401, Problem("token-missing", "the token is missing or wrong", "", mend))


def _check_write(headers: dict[bytes, bytes]) -> None:
    mend = "send it from the page of this server"
    if WRITE_HEADER not in headers:
        what = "a change must bear the header X-Strutwright"
        raise _Refusal(403, Problem("write-refused", what, "X-Strutwright", mend))
    origin = headers.get(b"origin", b"").decode("latin-1")
    if origin and urlsplit(origin).netloc.encode() != headers.get(b"host", b""):
        what = f"a change sent from {origin[:80]}"
        raise _Refusal(403, Problem("write-refused", what, "Origin", mend))
    if headers.get(b"sec-fetch-site", b"same-origin") not in (b"same-origin", b"none"):
        what = "a change sent from another site"
        raise _Refusal(403, Problem("write-refused", what, "Sec-Fetch-Site", mend))
    kind = headers.get(b"content-type", b"application/json").split(b";")[0].strip().lower()
    if kind != b"application/json":
        what = f"{kind.decode('latin-1')[:80]} where application/json is wanted"
        raise _Refusal(415, Problem("request-kind", what, "Content-Type", "send JSON"))


async def _whole_body(scope: Scope, headers: dict[bytes, bytes], receive: Receive) -> Receive:
    """Return a receiver of the body, read here so that its size is known before any work."""
    if scope["method"] in _SAFE:
        return receive
    length = headers.get(b"content-length", b"0")
    if not length.isdigit() or int(length) > LARGEST_BODY:
        raise _too_large()
    parts: list[bytes] = []
    size, more = 0, True
    while more:
        message = await receive()
        if message["type"] == "http.disconnect":
            break
        part = message.get("body", b"")
        size += len(part)
        if size > LARGEST_BODY:
            raise _too_large()
        parts.append(part)
        more = message.get("more_body", False)
    body: list[Message] = [{"type": "http.request", "body": b"".join(parts), "more_body": False}]

    async def again() -> Message:
        return body.pop() if body else await receive()

    return again


def _too_large() -> _Refusal:
    what = f"more than {LARGEST_BODY // 1024**2} MB"
    return _Refusal(413, Problem("request-too-large", what, "body", "send less at a time"))


def _headers(scope: Scope) -> dict[bytes, bytes]:
    pairs: Iterable[tuple[bytes, bytes]] = scope["headers"]
    return dict(pairs)


def _host_of(value: bytes) -> str:
    try:
        return (urlsplit(f"//{value.decode('ascii')}").hostname or "").lower()
    except ValueError:
        return ""


def _cookie(headers: dict[bytes, bytes]) -> str:
    try:
        held = SimpleCookie(headers.get(b"cookie", b"").decode("latin-1")).get(COOKIE)
    except CookieError:
        return ""
    return held.value if held else ""


async def _say(send: Send, status: int, problem: Problem) -> None:
    told = {"code": problem.code, "what": problem.what, "where": problem.where}
    body = json.dumps({"problems": [{**told, "mend": problem.mend, "key": "", "line": 0}]}).encode()
    kind = (b"content-type", b"application/json")
    length = (b"content-length", str(len(body)).encode())
    close = (b"connection", b"close")
    headers = [kind, length, close]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


async def _redirect(send: Send, token: str) -> None:
    cookie = f"{COOKIE}={token}; Path=/; HttpOnly; SameSite=Strict; Max-Age=604800".encode()
    headers = [(b"location", b"/"), (b"set-cookie", cookie), (b"content-length", b"0")]
    await send({"type": "http.response.start", "status": 303, "headers": headers})
    await send({"type": "http.response.body", "body": b""})
