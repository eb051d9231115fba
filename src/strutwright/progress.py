"""How long work tells where it is, and how it is stopped."""

from __future__ import annotations

from typing import Protocol

__all__ = ["SILENT", "Cancelled", "Progress", "step"]


class Cancelled(Exception):  # noqa: N818 - not a fault: the user asked for it
    """The user stopped the work between two steps; nothing was written."""


class Progress(Protocol):
    """Receiver of progress; implemented by the command line and the web app."""

    def stage(self, name: str, fraction: float) -> None:
        """Take note that stage `name` is done to `fraction` (0 to 1)."""

    def cancelled(self) -> bool:
        """Return True when the work should stop at the next step."""


class _Silent:
    """Progress that tells nobody and never stops."""

    def stage(self, name: str, fraction: float) -> None:
        """Drop the report."""

    def cancelled(self) -> bool:
        """Return False."""
        return False


SILENT: Progress = _Silent()


def step(progress: Progress, name: str, fraction: float) -> None:
    """Report `fraction` of stage `name` and raise `Cancelled` if the user asked to stop."""
    progress.stage(name, fraction)
    if progress.cancelled():
        raise Cancelled(name)
