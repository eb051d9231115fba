"""Shop cards and quote of a small dome: right numbers in the pages, pages that typeset."""

import re

import pytest

from strutwright.brief import parse_brief
from strutwright.design import run
from strutwright.documents import build_quote, build_shop_cards, document_text, typeset
from strutwright.documents.pictures.bars import bars_alike as alike
from strutwright.units import show_mass

BRIEF = """
[project]
name = "Fernlow shelter"
[size]
width = "5 m"
[shape]
family = "dome"
division = [2, 0]
[struts]
stock = "emt-3/4"
bars = [{ length = "10 ft", price = 9.80 }]
kerf = "2 mm"
end_trim = "5 mm"
step = "1 mm"
[price]
hour = 38.0
[delivery]
carrier = "freight"
"""


@pytest.fixture(scope="module")
def design():
    return run(parse_brief(BRIEF, "fernlow.toml"))


@pytest.mark.whole
def test_cards_hold_every_cut_and_typeset(design):
    cards = alike(design.cutting)
    assert sum(n for _, n in cards) == len(design.cutting.bars)
    document = build_shop_cards(design)
    text = document_text(document)
    bar, _ = cards[0]
    first = bar.start + bar.cuts[0].length
    assert bar.stops[0] == pytest.approx(first)
    assert f"{bar.cuts[0].label} {round(1000 * first)} mm" in text
    # the slips: every parcel with what a scale must read
    for parcel in design.packing.parcels:
        assert show_mass(parcel.mass, "metric") in text
    assert typeset(document)[:5] == b"%PDF-"


@pytest.mark.whole
def test_the_quote_names_total_and_what_is_missing(design):
    text = document_text(build_quote(design))
    total = f"{design.price.total:,.2f}".replace(",", " ")
    assert total in text
    assert "coupler" in text or "bolt" in text
    assert re.search(r"valid for \d+ days", text)
    assert typeset(build_quote(design))[:5] == b"%PDF-"


@pytest.mark.whole
def test_parcels_and_plan_hold_the_same_pieces(design):
    packed = {}
    for parcel in design.packing.parcels:
        for label, n in parcel.counts.items():
            packed[label] = packed.get(label, 0) + n
    wanted = {p.label: p.quantity for t in design.kit.strut_types for p in t.pieces}
    wanted |= {h.label: h.quantity for h in design.kit.hub_types}
    assert packed == wanted
