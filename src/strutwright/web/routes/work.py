"""Work: the live shape at once, checks and kits as jobs with progress."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from typing import Any

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response, StreamingResponse

from strutwright.web import shelf
from strutwright.web.edit import changed
from strutwright.web.jobs import Job
from strutwright.web.models import (
    JobAsked,
    JobModel,
    ShapeAsked,
    ShapeModel,
    SurveyAsked,
    TextAsked,
    problem_models,
)
from strutwright.web.state import Held, State

__all__ = ["router"]

router = APIRouter(tags=["work"])
LONGEST_SURVEY = 120.0
"""Seconds; our choice: a minute for a large shell on a slow machine, twice."""
LONGEST_SHAPE = 20.0
"""Seconds; our choice: a shape is asked for while somebody drags a slider."""


@router.post("/shape", response_model=ShapeModel)
async def shape(held: Held, asked: ShapeAsked) -> Response:
    """Return shape and parts of a brief's text, without structure."""
    text = asked.text
    if asked.changes:
        text = changed(text, [(one.key, one.value) for one in asked.changes])
    key = (shelf.revision_of(text), asked.openings)
    found = held.shapes.get(key)
    if found is None:
        question = {"text": text, "openings": asked.openings, "name": _file_of(held)}
        found = await held.live.raw("sketch", question, seconds=LONGEST_SHAPE)
        held.remember(key, found)
    return Response(found, media_type="application/json")


def _file_of(held: State) -> str:
    return str(held.folder / "brief.toml")


@router.post("/survey")
async def survey(held: Held, asked: SurveyAsked) -> dict[str, Any]:
    """Return what readings say of the built shell: shape, suspects, corrections, its joints."""
    question = {"text": asked.text, "readings": asked.readings, "name": _file_of(held)}
    return await held.live.run("survey", question, seconds=LONGEST_SURVEY)


@router.post("/proof")
async def proof(held: Held, asked: TextAsked) -> dict[str, Any]:
    """Return the proof load of the built shell: which hub, what load, the sink to expect."""
    question = {"text": asked.text, "name": _file_of(held)}
    return await held.live.run("proof", question, seconds=LONGEST_SURVEY)


@router.post("/jobs", status_code=202)
async def begin(held: Held, asked: JobAsked) -> JobModel:
    """Begin to check a brief, or to write its kit beside it; it goes on without a browser."""
    saved = shelf.read(held.folder, asked.name)
    text = saved.text if asked.text is None or asked.kind == "kit" else asked.text
    return _model(held.jobs.begin(asked.kind, saved.name, text))


@router.get("/jobs/{number}")
async def look(held: Held, number: str) -> JobModel:
    """Return how far a job is."""
    return _model(_known(held, number))


@router.delete("/jobs/{number}")
async def stop(held: Held, number: str) -> JobModel:
    """Stop a job; a kit that lies beside the brief stays as it was."""
    job = _known(held, number)
    held.jobs.cancel(job)
    return _model(job)


@router.get("/jobs/{number}/result", response_model=dict[str, Any])
async def result(held: Held, number: str) -> Response:
    """Return verdict and kit.json of a job as far as it is known."""
    job = _known(held, number)
    if job.result is None:
        raise HTTPException(409, f"job {number} is {job.state}")
    return Response(job.result, media_type="application/json")


@router.get("/jobs/{number}/events", response_class=StreamingResponse)
async def events(held: Held, number: str) -> StreamingResponse:
    """Send the job whenever it gets further (server-sent events) until it is over."""
    job = _known(held, number)
    return StreamingResponse(_stream(held, job), media_type="text/event-stream")


async def _stream(held: State, job: Job) -> AsyncIterator[str]:
    async for state in held.jobs.follow(job):
        yield ": \n\n" if state is None else f"data: {json.dumps(_model(state).model_dump())}\n\n"


def _known(held: State, number: str) -> Job:
    job = held.jobs.find(number)
    if job is None:
        raise HTTPException(404, "there is no such job; it may be forgotten: begin it again")
    return job


def _model(job: Job) -> JobModel:
    return JobModel(
        id=job.id,
        kind=job.kind,
        name=job.name,
        revision=job.revision,
        state=job.state,
        stage=job.stage,
        fraction=job.fraction,
        answers=job.answers,
        problems=problem_models(job.problems),
    )
