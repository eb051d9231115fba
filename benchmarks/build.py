"""A build of the demo kit, stage by stage, as a whole process: `python -m benchmarks.build`.

Wall time is what a user waits; processor time tells the work on a busy machine. The peer is the
interpreter with the libraries alone: what no stage of ours can go below.
"""

import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from strutwright.brief import read_brief
from strutwright.design import run
from strutwright.folder import kit_files, write_files

DEMO = Path(__file__).resolve().parent.parent / "examples" / "mosswick-seedling-house.toml"
SPINE = ("read", "shape", "parts", "cut plan", "setting out", "files", "build book", "write")
"""Stages that every kit has, checked or not."""
PEER = "import numpy, scipy.sparse.linalg, scipy.optimize, pydantic, typer, typst, ezdxf"


class Stages:
    """Adds up what each stage took; given to a job as its progress."""

    def __init__(self):
        self.took = {}
        self.name = "read"
        self.at = time.perf_counter(), time.process_time()

    def stage(self, name, _fraction):
        now = time.perf_counter(), time.process_time()
        wall, work = self.took.get(self.name, (0.0, 0.0))
        self.took[self.name] = (wall + now[0] - self.at[0], work + now[1] - self.at[1])
        self.name, self.at = name, now

    def cancelled(self):
        return False


def process(code):
    """Wall time of a fresh interpreter that runs `code`, s."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True)
    return time.perf_counter() - start


def main() -> None:
    peer, ours = process(PEER), process("import strutwright.cli.build, strutwright.folder")
    print(f"imports: {ours:.2f} s; the libraries alone {peer:.2f} s, ratio {ours / peer:.1f}")
    stages = Stages()
    with TemporaryDirectory() as folder:
        design = run(read_brief(DEMO), stages)
        files = kit_files(design, progress=stages)
        stages.stage("write", 0.0)
        write_files(files, Path(folder) / "kit")
        stages.stage("end", 1.0)
    for name, (wall, work) in stages.took.items():
        print(f"{name}: {wall:.2f} s, processor {work:.2f} s")
    for name, some in (("stages that every kit has", SPINE), ("all stages", stages.took)):
        wall, work = (sum(stages.took.get(one, (0, 0))[k] for one in some) for k in (0, 1))
        print(f"{name}, imports left out: {wall:.2f} s, processor {work:.2f} s")


if __name__ == "__main__":
    main()
