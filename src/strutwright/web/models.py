"""The forms of the JSON API; OpenAPI and the page's types come from here."""

from __future__ import annotations

import re
from dataclasses import asdict
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from strutwright.errors import Problem
from strutwright.web.shelf import LARGEST_BRIEF, Held, Listed

__all__ = [
    "ArchiveModel",
    "BriefModel",
    "Change",
    "ConflictModel",
    "DemoModel",
    "EditAsked",
    "EditModel",
    "FileModel",
    "JobAsked",
    "JobModel",
    "KitModel",
    "ListedModel",
    "NewAsked",
    "ProblemModel",
    "ProblemsModel",
    "SaveAsked",
    "ShapeAsked",
    "ShapeModel",
    "ShelfModel",
    "SurveyAsked",
    "TextAsked",
    "problem_models",
]

Text = Annotated[str, Field(max_length=LARGEST_BRIEF, description="the brief, TOML")]
Name = Annotated[str, Field(max_length=80, description="file name without .toml")]


class _Model(BaseModel):
    model_config = ConfigDict(extra="forbid")


class ProblemModel(_Model):
    """One fault, as it is told to the reader."""

    code: str
    what: str
    where: str
    mend: str
    key: str = Field(description="key of the brief; empty when it is about none")
    line: int = Field(description="line of the brief; 0 when it is about none")


class ProblemsModel(_Model):
    """Why a request was not done: all problems at once."""

    problems: list[ProblemModel]


class ListedModel(_Model):
    """A brief on the shelf."""

    name: str
    title: str
    use: str
    width: str
    length: str
    revision: str
    kit: Literal["", "fresh", "older"] = Field(description="whether its kit lies beside it")
    changed: float = Field(description="seconds of the epoch")

    @classmethod
    def of(cls, listed: Listed) -> ListedModel:
        """Return the model of `listed`."""
        return cls(**asdict(listed))


class ShelfModel(_Model):
    """The shelf."""

    folder: str
    briefs: list[ListedModel]


class ArchiveModel(_Model):
    """Briefs that were put away."""

    briefs: list[ListedModel]


class DemoModel(_Model):
    """A demo brief to begin from."""

    id: str
    title: str
    about: str


class BriefModel(_Model):
    """A brief as it lies on the disk."""

    name: str
    text: str
    revision: str

    @classmethod
    def of(cls, held: Held) -> BriefModel:
        """Return the model of `held`."""
        return cls(**asdict(held))


class ConflictModel(ProblemsModel):
    """A save that was refused: the file has changed since; nothing was written."""

    yours: str
    theirs: BriefModel


class NewAsked(_Model):
    """A brief to be made."""

    name: Name
    source: str = Field(
        pattern=r"^(starter|demo:[a-z0-9-]{1,64}|brief:.{1,80})$",
        description="starter, demo:ID or brief:NAME",
    )


class SaveAsked(_Model):
    """A brief to be saved over the revision it was made from."""

    text: Text
    revision: str = Field(max_length=64)


class TextAsked(_Model):
    """A brief's text."""

    text: Text


class Change(_Model):
    """One key to be set, or taken out when the value is null."""

    key: str = Field(max_length=120, description="such as size.width or openings[0].kind")
    value: str | bool | float | int | list[Any] | dict[str, Any] | None = None


class ShapeAsked(_Model):
    """A brief's text of which the shape is wanted."""

    text: Text
    changes: list[Change] = Field(default=[], max_length=200, description="made in the text first")
    openings: bool = Field(default=True, description="false leaves doors and vents out, for speed")


class EditAsked(_Model):
    """Keys to be changed in a brief's text."""

    text: Text
    changes: list[Change] = Field(max_length=200)


class EditModel(_Model):
    """A brief's text, its values as typed, and what is wrong with it."""

    text: str
    values: dict[str, Any]
    problems: list[ProblemModel]


class ShapeModel(_Model):
    """Shape and parts, as kit.json says them, without structure."""

    openings_made: bool = Field(description="false: drawn without its doors and vents")
    shell: dict[str, Any]
    parts: dict[str, Any]
    diameter: float = Field(description="outside of a strut, m")
    notes: list[dict[str, Any]]


class SurveyAsked(_Model):
    """Tape readings of the shell of a brief."""

    text: Text
    readings: str = Field(max_length=262144, description="READINGS.csv")


class JobAsked(_Model):
    """Long work on a brief: check it, or write its kit."""

    kind: Literal["check", "kit"]
    name: Name
    text: Text | None = Field(default=None, description="check another text than the saved one")


class JobModel(_Model):
    """How far a job is."""

    id: str
    kind: Literal["check", "kit"]
    name: str
    revision: str
    state: Literal["waiting", "working", "done", "refused", "cancelled"]
    stage: str
    fraction: float
    answers: int = Field(description="answers so far, each fuller than the one before")
    problems: list[ProblemModel]


class FileModel(_Model):
    """A file of a kit."""

    path: str
    size: int = Field(description="bytes")


class KitModel(_Model):
    """The kit that lies beside a brief."""

    name: str
    fresh: bool = Field(description="made from the brief as it is now")
    files: list[FileModel]


_PLACE = re.compile(r"(?P<key>[A-Za-z_][\w.\[\]-]*) \((?:line (?P<line>\d+)|not given.*)\)")


def problem_models(problems: tuple[Problem, ...]) -> list[ProblemModel]:
    """Return `problems` with the key and line that each is about."""
    return [_model(problem) for problem in problems]


def _model(problem: Problem) -> ProblemModel:
    found = _PLACE.fullmatch(problem.where)
    bare = re.fullmatch(r"[a-z_]+(?:\.[a-z_]+|\[\d+\])+", problem.where)
    key = found["key"] if found else problem.where if bare else ""
    return ProblemModel(
        code=problem.code,
        what=problem.what,
        where=problem.where,
        mend=problem.mend,
        key=key,
        line=int(found["line"] or 0) if found else 0,
    )
