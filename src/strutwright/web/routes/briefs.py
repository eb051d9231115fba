"""Briefs: list, read, make, save, put away, and change keys of a text."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from strutwright import brief as brief_room
from strutwright.errors import InputError
from strutwright.web import shelf
from strutwright.web.demos import demo_text, demos, lay_beside
from strutwright.web.edit import changed, values_of
from strutwright.web.models import (
    ArchiveModel,
    BriefModel,
    ConflictModel,
    DemoModel,
    EditAsked,
    EditModel,
    ListedModel,
    NewAsked,
    ProblemModel,
    SaveAsked,
    ShelfModel,
    problem_models,
)
from strutwright.web.state import Held

__all__ = ["router"]

router = APIRouter(tags=["briefs"])


@router.get("/briefs")
def shelf_of(held: Held) -> ShelfModel:
    """Return the shelf."""
    briefs = [ListedModel.of(one) for one in shelf.listed(held.folder)]
    return ShelfModel(folder=held.folder.name, briefs=briefs)


@router.post("/briefs", status_code=201)
def make(held: Held, asked: NewAsked) -> BriefModel:
    """Make a new brief from the starter, a demo or another brief."""
    source, _, which = asked.source.partition(":")
    if source == "demo":
        text = demo_text(which)
    elif source == "brief":
        text = shelf.read(held.folder, which).text
    else:
        text = brief_room.starter_brief()
    made = shelf.create(held.folder, asked.name, text)
    if source == "demo":
        lay_beside(text, held.folder)
    return BriefModel.of(made)


@router.get("/briefs/{name}")
def read(held: Held, name: str) -> BriefModel:
    """Return a brief."""
    return BriefModel.of(shelf.read(held.folder, name))


@router.put("/briefs/{name}", responses={409: {"model": ConflictModel}})
def save(held: Held, name: str, asked: SaveAsked) -> Any:  # noqa: ANN401 - one of two answers
    """Save a brief over the revision it was made from; 409 with both texts when it has changed."""
    try:
        return BriefModel.of(shelf.save(held.folder, name, asked.text, asked.revision))
    except shelf.Conflict as conflict:
        problem = ProblemModel(
            code="brief-changed",
            what=f"{name} was changed meanwhile, in another window or by another program",
            where=name,
            mend="look at both texts, merge them and save again; nothing was overwritten",
            key="",
            line=0,
        )
        theirs = BriefModel.of(conflict.held)
        both = ConflictModel(problems=[problem], yours=asked.text, theirs=theirs)
        return JSONResponse(both.model_dump(), status_code=409)


@router.post("/briefs/{name}/archive")
def put_away(held: Held, name: str) -> BriefModel:
    """Put a brief away; it can be put back."""
    return BriefModel.of(shelf.move(held.folder, name, away=True))


@router.get("/archive")
def archive(held: Held) -> ArchiveModel:
    """Return the briefs that were put away."""
    found = shelf.listed(held.folder / shelf.ARCHIVE)
    return ArchiveModel(briefs=[ListedModel.of(one) for one in found])


@router.post("/archive/{name}/restore")
def put_back(held: Held, name: str) -> BriefModel:
    """Put a brief back on the shelf."""
    return BriefModel.of(shelf.move(held.folder, name, away=False))


@router.get("/demos")
def demo_list() -> list[DemoModel]:
    """Return the demos."""
    return [DemoModel(**asdict(demo)) for demo in demos()]


@router.get("/schema/{name}")
def schema(name: str) -> dict[str, Any]:
    """Return the JSON Schema of ``brief`` or ``kit``."""
    from strutwright.exports import kit_schema  # exports are heavy; the brief's schema is not

    return kit_schema() if name == "kit" else brief_room.schema(name)


@router.post("/edit")
def edit(asked: EditAsked) -> EditModel:
    """Return a brief's text with keys changed, its values as typed, and all its problems."""
    text = changed(asked.text, [(one.key, one.value) for one in asked.changes])
    problems: list[ProblemModel] = []
    try:
        brief_room.parse_brief(text)
    except InputError as error:
        problems = problem_models(error.problems)
    return EditModel(text=text, values=values_of(text), problems=problems)
