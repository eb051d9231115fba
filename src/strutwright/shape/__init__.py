"""Shapes: what changes hubs or struts takes a Shell and returns a Shell."""

from strutwright.shape.alternatives import alternatives
from strutwright.shape.choose import Alternative
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.make import Shaped, make_shell, shape_of
from strutwright.shape.shell import Recipe, Shell
from strutwright.shape.sizing import Sizes

__all__ = [
    "Alternative",
    "DomeSpec",
    "Recipe",
    "Shaped",
    "Shell",
    "Sizes",
    "alternatives",
    "dome",
    "make_shell",
    "shape_of",
]
