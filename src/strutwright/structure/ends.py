"""Which end of the joints' stiffness is run."""

from __future__ import annotations

from typing import Literal

__all__ = ["End"]

End = Literal["low", "high"]
