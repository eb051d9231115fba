"""The addresses of the JSON API, one module a subject."""

from strutwright.web.routes import briefs, files, work

__all__ = ["briefs", "files", "work"]
