"""How often a swap is found from tape readings: `python -m benchmarks.survey [trials]`.

Every swap of two unlike neighbours that can be forced together (no strut end needs more than
300 N) is built in turn, with errors: each strut 1.5 mm, base heights 3 mm, tape 3 mm (standard
deviations). The diagnosis is not told what kind of fault there is: swaps, wrong types, turned
hubs, pegs, spread, bent struts and misread tapes all compete for the first three places. The
readings are those that the plan gives, between hubs up to 2.2 m.

Covered: one swap of struts that share a hub, nothing else wrong. Not covered: two faults at once,
a real shell. The stiffness of the joints is assumed, not measured: ends give 1 mm under 300 N,
hubs bend like hinges; stiffer joints let fewer swaps close. The errors are those that the
diagnosis supposes.
"""

import os
import sys
import time

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command line does

import numpy as np

from strutwright.brief import parse_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.survey import Spread, make_elastic
from strutwright.survey.diagnose import diagnose
from strutwright.survey.plan import UNLIKE, choose_readings, closing_swaps
from strutwright.survey.screening import Case
from strutwright.survey.simulate import Stand, built, simulate_swaps, simulate_true, taped

REACH = 2.2
SPREAD = Spread(strut=0.0015, tape=0.003, level=0.003, cut=0.0033)
SHELLS = {
    "2": """[size]
width = "6.0 m"
[shape]
family = "dome"
division = [2, 0]""",
    "4": """[size]
width = "6.0 m"
[shape]
family = "dome"
division = [4, 0]""",
    "long": """[size]
width = "5.0 m"
length = "11.0 m"
freedom = "5 %"
[shape]
family = "long-dome"
division = [1, 1]
bays = 3
inner_braces = "none" """,
}
RUNS = (("2", 3), ("2", 6), ("4", 12), ("4", 16), ("4", 20), ("long", 8), ("long", 12))


def tell(stand: Stand, unlike: list[Case], trials: int) -> None:
    """Print the counts after every round in which each swap is built once."""
    first = three = noticed = done = 0
    while done < trials:
        found = simulate_swaps(stand, unlike, min(len(unlike), trials - done), done + 1)
        done += found.n
        first, three, noticed = (
            first + found.first, three + found.among_three, noticed + found.alarms
        )  # fmt: skip
        print(
            f"  {done} swaps over 20 mm: first {first / done:.1%}, among three "
            f"{three / done:.1%}, noticed {noticed / done:.1%}",
            flush=True,
        )


def main(trials: int, runs=RUNS) -> None:
    for name, n_readings in runs:
        text = f'[project]\nname = "Bench"\n{SHELLS[name]}\n[struts]\nstock = "emt-3/4"\n'
        brief = parse_brief(text)
        kit = make_kit(make_shell(brief), brief)
        elastic = make_elastic(kit)
        start = time.perf_counter()
        closing = closing_swaps(kit, elastic)
        unlike = [one for one in closing if one.hypothesis.gap > UNLIKE]
        planned = choose_readings(elastic, unlike, SPREAD, REACH, (n_readings, 2.0))
        took = time.perf_counter() - start
        stand = Stand(kit, elastic, tuple(one.hubs for one in planned), SPREAD)
        print(
            f"{name}: {len(closing)} swaps close, {len(unlike)} of them over 20 mm; "
            f"{n_readings} readings planned in {took:.1f} s, promise {planned[-1].told:.1%}",
            flush=True,
        )
        rng = np.random.default_rng(9)
        measures = taped(built(elastic, unlike[7], SPREAD, rng), stand.pairs, SPREAD, rng)
        start, used = time.perf_counter(), time.process_time()
        diagnose(kit, elastic, measures, SPREAD)
        took, used = time.perf_counter() - start, time.process_time() - used
        print(f"  one diagnosis {took:.2f} s ({used:.2f} s of one core)", flush=True)
        tell(stand, unlike, trials)
        true = simulate_true(stand, max(trials // 4, 20), 2)
        print(f"  {true.n} true shells: false alarms {true.alarms / true.n:.1%}", flush=True)


if __name__ == "__main__":
    chosen = tuple((a, int(b)) for a, b in (one.split("/") for one in sys.argv[2:])) or RUNS
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000, chosen)
