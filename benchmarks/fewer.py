"""How far hubs move and how long it takes to have fewer lengths: `python -m benchmarks.fewer`."""

import time

from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.fewer import length_tradeoff


def main() -> None:
    for frequency in (4, 6, 8, 12, 18):
        shell = dome(DomeSpec(3.0, division=(frequency, 0)))
        start = time.perf_counter()
        tradeoff = length_tradeoff(shell)
        took = time.perf_counter() - start
        price = {e.lengths: f"{1000 * e.drift:.2f}" for e in tradeoff.entries if not e.refused}
        print(f"{frequency}-frequency, {len(shell.struts)} struts, {took:.2f} s, mm: {price}")


if __name__ == "__main__":
    main()
