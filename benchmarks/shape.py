"""How long it takes to make, measure and sort domes into parts: `python -m benchmarks.shape`."""

import time

from strutwright.catalogue import connector, stock
from strutwright.parts import PartChoices, assemble_kit
from strutwright.shape import measure
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.rigidity import count_mechanisms

SPECS = {
    "2-frequency hemisphere": DomeSpec(3.0, division=(2, 0)),
    "3-frequency 5/9, whole sphere levelled": DomeSpec(3.0, division=(3, 0), truncation=5),
    "4-frequency hemisphere": DomeSpec(3.0, division=(4, 0)),
    "4-frequency hemisphere, even lengths": DomeSpec(3.0, division=(4, 0), point_law="even"),
    "class II (3, 3), cut by height": DomeSpec(3.0, division=(3, 3)),
    "class III (5, 3), cut by height": DomeSpec(3.0, division=(5, 3)),
    "16-frequency hemisphere": DomeSpec(6.0, division=(16, 0)),
    "16-frequency hemisphere, arc": DomeSpec(6.0, division=(16, 0), point_law="arc"),
    "16-frequency hemisphere, even lengths": DomeSpec(6.0, division=(16, 0), point_law="even"),
    "24-frequency hemisphere": DomeSpec(9.0, division=(24, 0)),
}


def best_of(times, work, *args):
    """Shortest time of `times` runs in ms, and the result of the last."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        result = work(*args)
        found.append(time.perf_counter() - start)
    return 1000 * min(found), result


def measured(shell):
    measure.dihedrals(shell)
    measure.spoke_table(shell)
    return measure.angle_deficits(shell)


def main() -> None:
    tube = stock("emt-1")
    choices = PartChoices(tube, connector("flattened-bolt", tube.section.outside))
    for name, spec in SPECS.items():
        made, shell = best_of(5, dome, spec)
        took, _ = best_of(5, measured, shell)
        sorted_, _ = best_of(3, assemble_kit, shell, choices)
        print(
            f"{name}: {len(shell.struts)} struts, shape {made:.1f} ms, angles {took:.1f} ms, "
            f"parts {sorted_:.1f} ms, shape and parts {made + sorted_:.1f} ms"
        )
    shell = dome(SPECS["4-frequency hemisphere"])
    fixed = (shell.course == 0)[:, None].repeat(3, axis=1)
    took, _ = best_of(5, count_mechanisms, shell.hubs, shell.struts, fixed)
    print(f"mechanisms of the 4-frequency hemisphere: {took:.1f} ms")


if __name__ == "__main__":
    main()
