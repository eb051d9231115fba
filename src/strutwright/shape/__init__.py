"""Shapes: what changes hubs or struts takes a Shell and returns a Shell."""

from strutwright.shape.shell import Recipe, Shell

__all__ = ["Recipe", "Shell"]
