"""The quick check of a long shell, and the path of a dome: `python -m benchmarks.stability`.

Wall time is what a user waits; processor time tells the work on a busy machine.
"""

import time
from pathlib import Path

from strutwright.brief import parse_brief, read_brief
from strutwright.parts import make_kit
from strutwright.shape import make_shell
from strutwright.structure.analyse import analyse, bars_of
from strutwright.structure.answers import answer_cases
from strutwright.structure.asked import (
    combinations_of,
    loads_of,
    setting_of,
    strength_format,
)
from strutwright.structure.buckle import scenes, worst_buckling
from strutwright.structure.stability import shell_stability

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"


class Watch:
    """Prints wall and processor time of a stretch of work."""

    def __init__(self, name):
        self.name = name

    def __enter__(self):
        self.start = time.perf_counter(), time.process_time()

    def __exit__(self, *_):
        wall = time.perf_counter() - self.start[0]
        work = time.process_time() - self.start[1]
        print(f"{self.name}: {wall:.2f} s, processor {work:.2f} s", flush=True)


def quick_check(brief, title):
    kit = make_kit(make_shell(brief), brief)
    setting = setting_of(brief)
    with Watch(f"{title}, {len(kit.shell.struts)} struts: all combinations, buckling of 12"):
        cases = loads_of(kit, brief).cases
        strong = combinations_of(cases, brief, strength_format(kit, setting.family))
        soft = combinations_of(cases, brief, "-")
        calm = combinations_of(cases, brief, "allowable")
        answers = answer_cases(kit, cases, (*strong, *soft, *calm), setting)
        analyse(kit, answers, strong, setting)
        analyse(kit, answers, soft, setting)
        bars, _ = bars_of(kit, setting.temperature)
        found = scenes(kit, answers, calm, setting)
        worst_buckling(answers, found, bars)
    print(f"  {len(strong)} + {len(soft)} combinations of {len(cases)} cases")
    return kit, setting, answers, calm


def main() -> None:
    quick_check(read_brief(EXAMPLES / "long-ambery-tunnel.toml"), "plant tunnel")
    brief = parse_brief((EXAMPLES / "mosswick-seedling-house.toml").read_text("utf-8"), "dome")
    kit, setting, answers, calm = quick_check(brief, "seedling house")
    with Watch(f"{len(kit.shell.struts)} struts: buckling of 12 and two paths"):
        found = shell_stability(kit, [(setting, answers)], calm)
    for trial in found.trials:
        print(f"  {trial.shape}: {trial.ended} at {trial.factor:.3g}, {trial.combination}")


if __name__ == "__main__":
    main()
