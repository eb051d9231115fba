"""A build of the demo kit, stage by stage, as a whole process: `python -m benchmarks.build`.

Wall time is what a user waits; processor time tells the work on a busy machine. The peer is the
interpreter with the libraries alone: what no stage of ours can go below.
"""

import json
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from strutwright.brief import read_brief
from strutwright.design import run
from strutwright.documents import build_book, typeset
from strutwright.exports import Order, export, kit_json
from strutwright.folder import kit_files, write_files

DEMO = Path(__file__).resolve().parent.parent / "examples" / "mosswick-seedling-house.toml"
SPINE = ("read", "shape", "parts", "cut plan", "setting out")
"""Stages that every kit has, checked or not; its book, tables and drawings come to them."""
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


def timed(stages, name, work):
    stages.stage(name, 0.0)
    made = work()
    stages.stage("between", 1.0)
    return made


def spine():
    """Print what the files that every kit has take, each alone, nothing typeset before."""
    design = run(read_brief(DEMO))
    stages = Stages()
    book = timed(stages, "book", lambda: build_book(design))
    timed(stages, "book typeset", lambda: typeset(book))
    timed(stages, "kit.json", lambda: kit_json(design))
    shown = design.brief.project.show
    order = Order(design.kit, design.cutting.bars, shown, design.brief.struts.step, book.stamp)
    timed(stages, "tables and drawings", lambda: export(order))
    print(json.dumps({k: v for k, v in stages.took.items() if k not in {"read", "between"}}))


def spine_of_its_own():
    command = [sys.executable, "-m", "benchmarks.build", "spine"]
    return json.loads(subprocess.run(command, check=True, capture_output=True).stdout)


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
    every = {name: stages.took[name] for name in SPINE} | spine_of_its_own()
    for name, (wall, work) in (stages.took | every).items():
        print(f"{name}: {wall:.2f} s, processor {work:.2f} s")
    for name, some in (("stages that every kit has", every), ("all stages", stages.took)):
        wall, work = (sum(took[k] for took in some.values()) for k in (0, 1))
        print(f"{name}, imports left out: {wall:.2f} s, processor {work:.2f} s")


if __name__ == "__main__":
    spine() if sys.argv[1:] == ["spine"] else main()
