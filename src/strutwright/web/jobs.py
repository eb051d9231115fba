"""Long work: a queue of jobs with progress, one after the other, that a browser may leave alone."""

from __future__ import annotations

import asyncio
import contextlib
import itertools
import secrets
from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, Literal

from strutwright.errors import Problem
from strutwright.web.names import kit_folder
from strutwright.web.pool import Refused, Worker
from strutwright.web.shelf import revision_of

__all__ = ["Job", "Jobs", "TooManyJobs"]

Kind = Literal["check", "kit"]
State = Literal["waiting", "working", "done", "refused", "cancelled"]
LONGEST: Final = {"check": 300.0, "kit": 900.0}
"""Seconds a job may take; our choice: ten times the largest demo on a slow machine."""
MOST_WAITING: Final = 32
MOST_KEPT: Final = 48
LEFT: Final = 5.0
"""Seconds after which a check that nobody follows any more is stopped; a reload takes less."""
_QUIET: Final = 15.0
"""Seconds after which a listener is sent a sign of life."""


class TooManyJobs(Exception):  # noqa: N818 - a state of the server, not a fault
    """So many jobs wait that no further one is taken."""


@dataclass
class Job:
    """One piece of long work and how far it is."""

    id: str
    kind: Kind
    name: str
    text: str
    revision: str
    state: State = "waiting"
    stage: str = ""
    fraction: float = 0.0
    problems: tuple[Problem, ...] = ()
    result: bytes | None = None
    answers: int = 0
    wanted: int = 1
    followers: int = 0
    changes: int = 0
    work: asyncio.Task[None] | None = field(default=None, repr=False)

    @property
    def over(self) -> bool:
        """Whether nothing more will happen."""
        return self.state in ("done", "refused", "cancelled")


class Jobs:
    """The jobs of one server."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._worker = Worker(most_waiting=MOST_WAITING)
        self._jobs: dict[str, Job] = {}
        self._changed = asyncio.Condition()
        self._numbers = itertools.count(1)
        self._tellers: set[asyncio.Task[None]] = set()

    def find(self, number: str) -> Job | None:
        """Return the job, or None when it is not known (any more)."""
        return self._jobs.get(number)

    def begin(self, kind: Kind, name: str, text: str) -> Job:
        """Take on a job; the same work that is on already, or done, is returned as it is."""
        revision = revision_of(text)
        for job in reversed(self._jobs.values()):
            same = (job.kind, job.name, job.revision) == (kind, name, revision)
            if same and (not job.over or (job.state == "done" and kind == "check")):
                job.wanted += 1
                return job
        if sum(not job.over for job in self._jobs.values()) >= MOST_WAITING:
            raise TooManyJobs
        job = Job(f"{next(self._numbers)}-{secrets.token_hex(6)}", kind, name, text, revision)
        self._jobs[job.id] = job
        job.work = asyncio.create_task(self._work(job))
        self._forget()
        return job

    def cancel(self, job: Job) -> None:
        """Stop `job` once all who began it have let it go; what it had not finished is not kept."""
        job.wanted -= 1
        if job.wanted <= 0 and not job.over and job.work is not None:
            job.work.cancel()

    async def follow(self, job: Job) -> AsyncIterator[Job | None]:
        """Yield `job` whenever it has changed, until it is over; None as a sign of life."""
        job.followers += 1
        try:
            async for state in self._states(job):
                yield state
        finally:
            job.followers -= 1
            if not job.over and job.kind == "check":
                asyncio.get_running_loop().call_later(LEFT, self._let_go, job, job.wanted)

    def _let_go(self, job: Job, wanted: int) -> None:
        """Stop a check whose browser is gone, unless another has asked for it since."""
        if not job.followers and job.wanted <= wanted and job.work is not None:
            job.work.cancel()

    async def _states(self, job: Job) -> AsyncIterator[Job | None]:
        seen = -1
        while True:
            if job.changes != seen:
                seen = job.changes
                yield job
                if job.over:
                    return
                continue
            try:
                async with self._changed:
                    await asyncio.wait_for(self._changed.wait(), _QUIET)
            except TimeoutError:
                yield None

    async def warm(self) -> None:
        """Load the worker."""
        await self._worker.warm()

    async def close(self) -> None:
        """Stop everything."""
        for job in self._jobs.values():
            job.wanted = 0
            self.cancel(job)
        work = [job.work for job in self._jobs.values() if job.work]
        await asyncio.gather(*work, return_exceptions=True)
        await self._worker.end()

    async def _work(self, job: Job) -> None:
        def told(stage: str, fraction: float) -> None:
            self._set(job, state="working", stage=stage, fraction=fraction)

        def known(answer: bytes) -> None:
            self._set(job, result=answer, answers=job.answers + 1)

        asked = {"text": job.text, "name": str(self._folder / f"{job.name or 'brief'}.toml")}
        if job.kind == "kit":
            asked["out"] = str(kit_folder(self._folder, job.name))
        try:
            seconds = LONGEST[job.kind]
            answer = await self._worker.raw(job.kind, asked, seconds=seconds, told=told, part=known)
            self._set(job, state="done", fraction=1.0, result=answer, answers=job.answers + 1)
        except Refused as refused:
            self._set(job, state="refused", problems=refused.problems)
        except asyncio.CancelledError:
            self._set(job, state="cancelled")

    def _set(self, job: Job, **values: Any) -> None:  # noqa: ANN401 - fields of a Job
        for name, value in values.items():
            setattr(job, name, value)
        job.changes += 1
        teller = asyncio.get_running_loop().create_task(self._tell())
        self._tellers.add(teller)
        teller.add_done_callback(self._tellers.discard)

    async def _tell(self) -> None:
        with contextlib.suppress(asyncio.CancelledError):
            async with self._changed:
                self._changed.notify_all()

    def _forget(self) -> None:
        over = [job.id for job in self._jobs.values() if job.over]
        for number in over[: max(0, len(self._jobs) - MOST_KEPT)]:
            del self._jobs[number]
