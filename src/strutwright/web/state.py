"""What the server holds while it runs."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, cast

from fastapi import Depends, Request

from strutwright.web.jobs import Jobs
from strutwright.web.pool import Worker

__all__ = ["Held", "State"]

MOST_SHAPES = 64
"""Answers kept: a slider that goes back finds them; our choice."""


@dataclass
class State:
    """The project folder, the workers and the shapes that were asked for lately."""

    folder: Path
    jobs: Jobs
    warm: bool = False
    live: Worker = field(default_factory=lambda: Worker(most_waiting=8))
    """Eight wait at most: who comes later is told at once, and the page asks again."""
    shapes: OrderedDict[tuple[str, bool], bytes] = field(default_factory=OrderedDict)

    def remember(self, key: tuple[str, bool], shape: bytes) -> None:
        """Keep `shape` for the next who asks the same."""
        self.shapes[key] = shape
        self.shapes.move_to_end(key)
        while len(self.shapes) > MOST_SHAPES:
            self.shapes.popitem(last=False)


def _state_of(request: Request) -> State:
    return cast("State", request.app.state.held)


Held = Annotated[State, Depends(_state_of)]
