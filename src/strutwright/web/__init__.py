"""The web app: the same calls as the command line, for a browser on this machine."""

from strutwright.web.serve import serve

__all__ = ["serve"]
