"""How long the build sequence of domes takes, with every state checked."""

import time

import strutwright as sw
from strutwright.sequence import plan_sequence

TEXT = """
[project]
name = "Measured"
use = "greenhouse"
[size]
width = "{width} m"
[shape]
family = "dome"
division = [{frequency}, 0]
[struts]
stock = "emt-1"
[crew]
people = 4
platform = "8 m"
way = "{way}"
"""
SIZES = ((2, 5, "in-place"), (4, 6, "in-place"), (8, 14, "in-place"))
LARGE = (11, 18, "in-place")


def measure(frequency, width, way):
    brief = sw.parse_brief(TEXT.format(frequency=frequency, width=width, way=way), "measured.toml")
    kit = sw.make_kit(sw.make_shell(brief), brief)
    start, busy = time.perf_counter(), time.process_time()
    plan = plan_sequence(kit, brief)
    took, used = time.perf_counter() - start, time.process_time() - busy
    print(
        f"{len(kit.shell.struts):5d} struts, {plan.way:12s} {len(plan.steps):4d} steps, "
        f"at most {plan.most_props:3d} props: {took:6.1f} s, processor {used:6.1f} s",
        flush=True,
    )


if __name__ == "__main__":
    for size in (*SIZES, LARGE):
        measure(*size)
