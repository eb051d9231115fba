"""A price list stands before brief and catalogue; what it does not know is named."""

from decimal import Decimal

import pytest

from strutwright.brief import parse_brief
from strutwright.cutting import plan_cuts
from strutwright.design.priced import price_of
from strutwright.parts import make_kit
from strutwright.shape import make_shell

TEXT = """
[project]
name = "Priced dome"
[size]
width = "4 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
"""


@pytest.fixture(scope="module")
def made():
    brief = parse_brief(TEXT, "priced-dome.toml")
    kit = make_kit(make_shell(brief), brief)
    return kit, plan_cuts(kit, brief), brief


def test_prices_of_a_list_are_taken(made):
    kit, cutting, brief = made
    item = kit.fasteners[0].item
    prices = {item: Decimal("0.31"), "hour": Decimal(50), "minutes: saw": Decimal(3)}
    price = price_of(kit, cutting, 2, None, brief, sensitivity=False, prices=prices)
    lines = {line.item: line for line in price.lines}
    assert lines[item].amount == Decimal("0.31") * kit.fasteners[0].quantity
    n = sum(len(bar.cuts) for bar in cutting.bars)
    saw = lines[f"work: saw x {n}"]
    assert saw.quantity == pytest.approx(3 * n / 60, abs=0.006)
    assert saw.each == 50


def test_without_a_list_nothing_changes(made):
    kit, cutting, brief = made
    one = price_of(kit, cutting, 2, None, brief, sensitivity=False)
    assert one == price_of(kit, cutting, 2, None, brief, sensitivity=False, prices={})
