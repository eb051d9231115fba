"""The server's side of its worker processes: one task at a time, ended when its time is up."""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import sys
from collections.abc import Callable, Mapping
from typing import Any, Final

from strutwright.errors import Problem

__all__ = ["Refused", "Worker"]

Stage = Callable[[str, float], None]
Part = Callable[[bytes], None]
_LONGEST_LINE: Final = 256 * 1024**2
"""Bytes of one answer; our choice: kit.json of the largest shell is a tenth of it."""
_DONE: Final = b'{"done": '
_PART: Final = b'{"part": '
_STAGE: Final = b'{"stage": '
"""How the lines of a worker begin: an answer is handed on as it was written, not read."""


class Refused(Exception):  # noqa: N818 - carries what the task said
    """The task ended with problems."""

    def __init__(self, problems: tuple[Problem, ...], kind: str) -> None:
        super().__init__("; ".join(str(one) for one in problems))
        self.problems, self.kind = problems, kind


def _ignore(_name: str, _fraction: float) -> None:
    pass


def _ignore_part(_answer: bytes) -> None:
    pass


class Worker:
    """A worker process that is started when needed and again after it was ended."""

    def __init__(self, most_waiting: int = 64) -> None:
        self._process: asyncio.subprocess.Process | None = None
        self._turn = asyncio.Lock()
        self._waiting = 0
        self._most_waiting = most_waiting

    async def run(
        self, task: str, asked: Mapping[str, Any], *, seconds: float, told: Stage = _ignore
    ) -> dict[str, Any]:
        """Return what `task` answers; raises as `raw` does."""
        answer: dict[str, Any] = json.loads(await self.raw(task, asked, seconds=seconds, told=told))
        return answer

    async def raw(
        self,
        task: str,
        asked: Mapping[str, Any],
        *,
        seconds: float,
        told: Stage = _ignore,
        part: Part = _ignore_part,
    ) -> bytes:
        """Return what `task` answers as the JSON that it wrote; `part` is given earlier answers.

        Raises
        ------
        Refused
            The task found problems, took more than `seconds`, or too many wait for their turn.
        """
        if self._waiting >= self._most_waiting:
            raise _refused("busy", f"{self._waiting} tasks wait", "try again in a moment")
        self._waiting += 1
        try:
            async with self._turn:
                try:
                    return await asyncio.wait_for(self._ask(task, asked, told, part), seconds)
                except TimeoutError:
                    what = f"the task took longer than {seconds:g} s and was ended"
                    mend = "make the shell smaller or less divided, or build on the command line"
                    raise _refused("job-too-long", what, mend) from None
        finally:
            self._waiting -= 1

    async def _ask(self, task: str, asked: Mapping[str, Any], told: Stage, part: Part) -> bytes:
        whole, request = False, json.dumps({"task": task, "args": dict(asked)})
        try:
            line = await self._exchange(request, told, part)
            whole = True
        finally:
            if not whole:  # cancelled or out of time: the process is in the middle of something
                await self.end()
        if line.startswith(_DONE):
            return _inside(line, _DONE)
        answer = json.loads(line)
        problems = tuple(Problem(**one) for one in answer["problems"])
        raise Refused(problems, answer["kind"])

    async def _exchange(self, request: str, told: Stage, part: Part) -> bytes:
        process = await self._started()
        if process.stdin is None or process.stdout is None:
            msg = "a worker has pipes"
            raise RuntimeError(msg)
        with contextlib.suppress(ConnectionError):
            process.stdin.write(request.encode() + b"\n")
            await process.stdin.drain()
        while line := await process.stdout.readline():
            if line.startswith(_STAGE):
                stage = json.loads(line)
                told(stage["stage"], stage["fraction"])
            elif line.startswith(_PART):
                part(_inside(line, _PART))
            else:
                return line
        await self.end()
        mend = "make the shell smaller or less divided, or build on the command line"
        raise _refused("job-lost", "the process that did the work has ended", mend)

    async def _started(self) -> asyncio.subprocess.Process:
        if self._process is None or self._process.returncode is not None:
            self._process = await asyncio.create_subprocess_exec(
                sys.executable, "-m", "strutwright.web.worker",
                stdin=asyncio.subprocess.PIPE, stdout=asyncio.subprocess.PIPE,
                limit=_LONGEST_LINE, env={**os.environ, **_one_thread(), **_this_package()},
            )  # fmt: skip
        return self._process

    async def warm(self) -> None:
        """Start the process and let it load, so that the first task does not wait."""
        with contextlib.suppress(Refused):
            await self.run("nothing", {}, seconds=60.0)

    async def end(self) -> None:
        """End the process, at once."""
        process, self._process = self._process, None
        if process is not None and process.returncode is None:
            with contextlib.suppress(ProcessLookupError):
                process.kill()
            await process.wait()


def _inside(line: bytes, head: bytes) -> bytes:
    """Return the answer that stands in `line` after its `head`, as it was written."""
    return line[len(head) :].rstrip()[:-1]


def _one_thread() -> dict[str, str]:
    """Return settings that keep linear algebra to one thread: shells are small, cores few."""
    return {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def _this_package() -> dict[str, str]:
    """Return the search path that finds the very package that is running."""
    return {"PYTHONPATH": os.pathsep.join(part for part in sys.path if part)}


def _refused(code: str, what: str, mend: str) -> Refused:
    return Refused((Problem(code, what, "", mend),), "result")
