"""The command line: one file a command family; prints and exit codes, nothing else."""

import os

for _setting in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    # shells are small: threads of linear algebra wait for each other far longer than they work
    os.environ.setdefault(_setting, "1")

from strutwright.cli.main import main  # noqa: E402 - numpy reads the settings when it is loaded

__all__ = ["main"]
