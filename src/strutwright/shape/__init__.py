"""Shapes: what changes hubs or struts takes a Shell and returns a Shell."""

from strutwright.shape.choose import Alternative
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.make import alternatives, make_shell
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.sizing import Sizes

__all__ = [
    "Alternative",
    "DomeSpec",
    "Recipe",
    "Shell",
    "Sizes",
    "alternatives",
    "dome",
    "make_shell",
]
