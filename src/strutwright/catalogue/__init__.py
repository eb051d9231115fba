"""Data with its source beside every number."""

from strutwright.catalogue.source import Source

__all__ = ["Source"]
