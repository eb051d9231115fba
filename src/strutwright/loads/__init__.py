"""From a shell and its site to load cases and combinations."""

from strutwright.loads import standards

__all__ = ["standards"]
