"""The server: the JSON API under ``/api/v1`` and the page."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any, Final

from fastapi import APIRouter, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, JSONResponse, Response
from starlette.exceptions import HTTPException

from strutwright.errors import InputError, Problem
from strutwright.version import __version__
from strutwright.web.guard import Guard, Rules
from strutwright.web.jobs import Jobs, TooManyJobs
from strutwright.web.models import ProblemsModel, problem_models
from strutwright.web.names import inside
from strutwright.web.pool import Refused
from strutwright.web.routes import briefs, files, work
from strutwright.web.state import State

__all__ = ["API", "make_app"]

API: Final = "/api/v1"
STATIC: Final = Path(__file__).parent / "static"
_STATUS: Final = {"brief-not-found": 404, "brief-exists": 409, "schema-unknown": 404, "busy": 503}
_TEXT: Final[dict[int | str, dict[str, Any]]] = {
    status: {"model": ProblemsModel} for status in (400, 401, 403, 404, 409, 413, 415, 422, 503)
}


def make_app(folder: Path, rules: Rules | None = None, *, warm: bool = False) -> FastAPI:
    """Return the app over the briefs in `folder`.

    Parameters
    ----------
    folder : Path
        The project: briefs as ``NAME.toml``, their kits beside as ``NAME-kit``.
    rules : Rules
        Who may ask; this machine alone when left out.
    warm : bool
        Load the workers at the start, so that the first shape does not wait for them.
    """
    root = folder.resolve()
    app = FastAPI(
        title="strutwright",
        version=__version__,
        summary="Briefs, shapes and kits of triangulated strut-and-hub shells.",
        openapi_url=f"{API}/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=_lifespan,
        responses=_TEXT,
    )
    app.state.held = State(folder=root, jobs=Jobs(root), warm=warm)
    api = APIRouter(prefix=API)
    for part in (briefs, work, files):
        api.include_router(part.router)
    app.include_router(api)
    _answer_problems(app)
    app.add_middleware(Guard, rules=rules or Rules())
    app.add_api_route("/{path:path}", _page, methods=["GET"], include_in_schema=False)
    return app


@contextlib.asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    held: State = app.state.held
    warming = asyncio.create_task(_warm(held))
    try:
        yield
    finally:
        warming.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await warming
        await held.jobs.close()
        await held.live.end()


async def _warm(held: State) -> None:
    if held.warm:
        await held.live.warm()
        await held.jobs.warm()


def _page(path: str) -> Response:
    """Return a file of the page; an address of the page itself is the page's own to read."""
    found = inside(STATIC, path or "index.html")
    if found is None:
        last = path.rsplit("/", 1)[-1]
        if path.startswith("api/") or "." in last:
            return _said(
                404, (Problem("not-found", "there is nothing here", path[:80], "go to /"),)
            )
        found = STATIC / "index.html"
    lasting = "assets" in found.parts
    cache = "public, max-age=31536000, immutable" if lasting else "no-cache"
    return FileResponse(found, headers={"cache-control": cache})


def _answer_problems(app: FastAPI) -> None:
    """Let every error be told as problems."""

    @app.exception_handler(InputError)
    async def wrong_input(_request: Request, error: InputError) -> Response:
        return _said(_STATUS.get(error.code, 422), error.problems)

    @app.exception_handler(Refused)
    async def refused(_request: Request, error: Refused) -> Response:
        code = error.problems[0].code
        status = 500 if error.kind == "fault" else _STATUS.get(code, 422)
        return _said(status, error.problems)

    @app.exception_handler(TooManyJobs)
    async def busy(_request: Request, _error: TooManyJobs) -> Response:
        mend = "try again when some are done"
        return _said(503, (Problem("busy", "too many jobs wait", "", mend),))

    @app.exception_handler(RequestValidationError)
    async def invalid(_request: Request, error: RequestValidationError) -> Response:
        problems = tuple(_invalid(one) for one in error.errors()[:50])
        return _said(422, problems)

    @app.exception_handler(HTTPException)
    async def refused_plainly(_request: Request, error: HTTPException) -> Response:
        code = "not-found" if error.status_code == 404 else "request-refused"
        response = _said(error.status_code, (Problem(code, str(error.detail)),))
        response.headers.update(error.headers or {})
        return response


def _invalid(one: dict[str, Any]) -> Problem:
    where = ".".join(str(part) for part in one["loc"])[:120]
    return Problem("request-invalid", str(one["msg"])[:300], where, "see the OpenAPI description")


def _said(status: int, problems: tuple[Problem, ...]) -> JSONResponse:
    told = ProblemsModel(problems=problem_models(problems))
    response = JSONResponse(told.model_dump(), status_code=status)
    response.headers["cache-control"] = "no-store"
    return response
