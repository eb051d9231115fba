"""The command line: one file a command family; prints and exit codes, nothing else."""

from strutwright.cli.main import main

__all__ = ["main"]
