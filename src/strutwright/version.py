"""The version of the program, printed in every file it writes."""

__version__ = "0.1.0"
