"""The mend table: a change that it says passes does pass when the brief asks for it."""

import re

from strutwright.brief import parse_brief
from strutwright.catalogue import stock, stock_ids
from strutwright.design import mended, run
from strutwright.structure.judge import judge

BRIEF = """
[project]
name = "Test"
use = "{use}"
[size]
width = "3.0 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "{stock}"
[cover]
material = "pc-6"
[site]
base = "staked"
ground_snow = "{snow} kN/m2"
basic_wind = {{ value = "16 m/s", basis = "10 min mean" }}
"""


def wished(**changes):
    usual = {"use": "greenhouse", "stock": "emt-1/2", "snow": 2.0}
    return parse_brief(BRIEF.format(**{**usual, **changes}), "test.toml")


def failing(judged):
    return [c.code for c in judged.checks if c.required and c.status == "fail"]


def test_what_passes_stands_first_with_the_least_change_and_does_pass():
    design = run(wished())
    assert failing(design.judgement)
    table = mended(design).mends
    flags = [mend.passes for mend in table]
    assert flags == sorted(flags, reverse=True)
    passing = [mend for mend in table if mend.passes]
    assert passing
    changes = [abs(mend.mass - design.kit.mass) for mend in passing]
    assert changes == sorted(changes)
    named = {stock(one).name: one for one in stock_ids()}
    for mend in passing:
        of_stock = re.fullmatch(r"stock (.+)", mend.change)
        if of_stock:
            again = run(wished(stock=named[of_stock[1]]))
            assert not failing(judge(again.kit, again.brief, limits=False))
            assert abs(again.kit.mass - mend.mass) < 1e-9
            break


def test_a_kit_that_stands_and_a_use_that_is_refused_get_no_table():
    fine = run(wished(snow=0.2, stock="steel-48.3x3.2"))
    assert not failing(fine.judgement)
    assert mended(fine).mends == ()
    assert mended(run(wished(use="climbing"))).mends == ()
