"""From one brief to the whole kit of a triangulated strut-and-hub shell."""

from strutwright.errors import InputError, Problem, ResultError
from strutwright.version import __version__

__all__ = ["InputError", "Problem", "ResultError", "__version__"]
