"""``python -m benchmarks``: every benchmark after the other, each in a process of its own."""

import subprocess
import sys

BENCHMARKS = (
    "build",
    "shape",
    "fewer",
    "frame",
    "nest",
    "survey",
    "sequence",
    "cutting",
    "web",
    "stability",
    "mutations",
)

for name in BENCHMARKS:
    print(f"== {name}", flush=True)
    subprocess.run([sys.executable, "-m", f"benchmarks.{name}"], check=True)
