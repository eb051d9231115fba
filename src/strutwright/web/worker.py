"""A worker process: takes tasks as JSON lines on stdin, answers as JSON lines on stdout.

Run as ``python -m strutwright.web.worker``. It ends when its stdin closes, so none outlives its
server; memory is limited where the system can; the server ends it when its time is up.
"""

from __future__ import annotations

import json
import os
import queue
import sys
import threading
import traceback
from collections.abc import Callable
from typing import Any, Final, TextIO

from strutwright.errors import InputError, Problem, ResultError

__all__ = ["main"]

MEMORY: Final = 6 * 1024**3
"""Bytes of address space; our choice: ten times what the largest shell needs."""


class _Told:
    """Progress that is written to the server."""

    def __init__(self, say: Callable[[dict[str, Any]], None]) -> None:
        self._say = say

    def stage(self, name: str, fraction: float) -> None:
        """Tell the server that stage `name` is done to `fraction`."""
        self._say({"stage": name, "fraction": round(float(fraction), 4)})

    def part(self, answer: dict[str, Any]) -> None:
        """Send what is known so far."""
        self._say({"part": answer})

    def cancelled(self) -> bool:
        """Return False: the server stops a task by ending its process."""
        return False


def main() -> None:
    """Work off tasks until stdin closes."""
    answers = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)  # what a library prints must not get between the answers
    _limit_memory()
    requests: queue.Queue[str] = queue.Queue()
    threading.Thread(target=_listen, args=(requests,), daemon=True).start()
    while True:
        _answer(json.loads(requests.get()), answers)


def _listen(requests: queue.Queue[str]) -> None:
    for line in sys.stdin:
        requests.put(line)
    os._exit(0)  # the server is gone: leave at once, also in the middle of a task


def _limit_memory() -> None:
    try:
        import resource  # not on Windows
    except ImportError:
        return
    _soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    most = MEMORY if hard == resource.RLIM_INFINITY else min(MEMORY, hard)
    resource.setrlimit(resource.RLIMIT_AS, (most, hard))


def _answer(request: dict[str, Any], answers: TextIO) -> None:
    from strutwright.web import tasks  # heavy; loaded once the process listens

    def say(message: dict[str, Any]) -> None:
        answers.write(json.dumps(message, ensure_ascii=False, allow_nan=False) + "\n")
        answers.flush()

    try:
        task = tasks.TASKS[request["task"]]
        say({"done": task(request["args"], _Told(say))})
    except (InputError, ResultError) as error:
        kind = "input" if isinstance(error, InputError) else "result"
        say({"kind": kind, "problems": [_plain(one) for one in error.problems]})
    except MemoryError:
        what = f"more than {MEMORY // 1024**3} GB of memory would be needed"
        mend = "make the shell smaller or less divided"
        say({"kind": "result", "problems": [_plain(Problem("job-memory", what, "", mend))]})
    except Exception:  # noqa: BLE001 - the last catch: a fault of ours is told, with its trace
        traceback.print_exc()
        what = "a fault of strutwright, not of your brief; the terminal shows its trace"
        problem = Problem("job-fault", what, "", "please report it")
        say({"kind": "fault", "problems": [_plain(problem)]})


def _plain(problem: Problem) -> dict[str, str]:
    return {
        "code": problem.code,
        "what": problem.what,
        "where": problem.where,
        "mend": problem.mend,
    }


if __name__ == "__main__":
    main()
