"""The command line's entry: commands gathered, errors turned into text and exit codes."""

from __future__ import annotations

import signal
import sys
import traceback
from collections.abc import Iterable
from importlib import import_module
from types import FrameType
from typing import NoReturn

import typer

from strutwright.errors import InputError, ResultError
from strutwright.progress import Cancelled

__all__ = ["FAMILIES", "main", "make_app"]

_REFUSED = next(kind for kind in typer.BadParameter.__mro__ if kind.__name__ == "ClickException")
"""What typer raises for wrong words; which package it comes from differs with its version."""
DONE, CHECKS_FAIL, WRONG_INPUT, OUR_FAULT, STOPPED = 0, 1, 2, 3, 130

FAMILIES = (
    "start", "build", "compare", "cut", "survey", "recognise", "critique", "labels", "prices",
    "records", "serve", "explain",
)  # fmt: skip


def make_app(families: Iterable[str] = FAMILIES) -> typer.Typer:
    """Return the command line with the commands of `families`, one module each."""
    app = typer.Typer(
        name="strutwright",
        help="From one brief to the whole kit of a triangulated strut-and-hub shell.",
        add_completion=False,
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
    )
    for family in families:
        import_module(f"strutwright.cli.{family}").register(app)
    if len(app.registered_commands) == 1:
        app.callback()(_only_names)  # else the one command would stand without its name
    return app


def _only_names() -> None:
    """From one brief to the whole kit of a triangulated strut-and-hub shell."""


def main(args: list[str] | None = None) -> NoReturn:
    """Run the command line and exit: 0 done, 1 checks fail, 2 wrong input, 3 our fault."""
    signal.signal(signal.SIGTERM, _stop)
    sys.exit(run(args))


def run(args: list[str] | None = None) -> int:
    """Run the command line with `args` (the process's own when None) and return its exit code."""
    words = sys.argv[1:] if args is None else args
    light = ("serve",) if words[:1] == ["serve"] else FAMILIES  # a page waits for its server
    try:
        outcome = make_app(light)(args, standalone_mode=False)
    except (Cancelled, KeyboardInterrupt, typer.Abort):
        sys.stderr.write("stopped; nothing was written\n")
        return STOPPED
    except InputError as error:
        _report(error)
        return WRONG_INPUT
    except ResultError as error:
        _report(error)
        return OUR_FAULT
    except Exception as error:  # noqa: BLE001 - the last catch: a fault of ours is told, with its trace
        if isinstance(error, _REFUSED):
            sys.stderr.write(f"error usage: {error}\n  mend: see strutwright --help\n")
            return WRONG_INPUT
        traceback.print_exc()
        sys.stderr.write("\nThis is a fault of strutwright, not of your brief. Please report it.\n")
        return OUR_FAULT
    return outcome if isinstance(outcome, int) else DONE


def _stop(_number: int, _frame: FrameType | None) -> NoReturn:
    raise KeyboardInterrupt


def _report(error: InputError | ResultError) -> None:
    count = len(error.problems)
    if count > 1:
        sys.stderr.write(f"{count} problems:\n")
    for problem in error.problems:
        sys.stderr.write(f"error {problem.code}: {problem.what}\n")
        if problem.where:
            sys.stderr.write(f"  at:   {problem.where}\n")
        if problem.mend:
            sys.stderr.write(f"  mend: {problem.mend}\n")
    sys.stderr.write(f"more: strutwright explain {error.code}\n")
