import pytest

from strutwright.brief import parse_brief
from strutwright.errors import InputError
from strutwright.parts import make_kit, part_choices
from strutwright.shape.dome import DomeSpec, dome

HEAD = '[project]\nname = "Fernlow shelter"\n[size]\nwidth = "6 m"\nrise = "3 m"\n'


def brief(text):
    return parse_brief(HEAD + text, "fernlow.toml")


def test_parcel_limits_the_pieces_of_a_full_kit_and_the_bar_those_of_hubs_alone():
    full, _ = part_choices(brief('[struts]\nstock = "emt-1"\n[delivery]\ncarrier = "parcel-175"\n'))
    assert full.longest_piece == pytest.approx(1.71)
    assert full.limited_by == "parcel-175"
    hubs, _ = part_choices(brief('[struts]\nstock = "emt-1"\n[delivery]\nkit = "hubs-only"\n'))
    assert hubs.longest_piece == pytest.approx(3.048 - 0.005)


def test_the_saw_step_is_twice_the_tolerance():
    made, _ = part_choices(brief('[struts]\nstep = "2 mm"\n'))
    assert made.length_tolerance == pytest.approx(0.001)


def test_bars_and_prices_of_the_brief_stand_in_the_stock():
    text = (
        '[struts]\nbars = [{ length = "5 ft", quantity = 12 }, { length = "10 ft", price = 9.8 }]\n'
    )
    made, notes = part_choices(brief(text))
    assert [(b.length, b.price, b.quantity) for b in made.stock.bars] == [
        (pytest.approx(3.048), 9.8, None),
        (pytest.approx(1.524), None, 12),
    ]
    assert notes == ()


def test_own_stock_and_own_connector():
    text = """
[struts.stock]
material = "s235"
outside = "33.7 mm"
wall = "2 mm"
[hubs.connector]
allowance = "40 mm"
mass = "0.8 kg"
stiffness = "2 kNm/rad"
"""
    made, notes = part_choices(brief(text))
    assert made.stock.section.outside == pytest.approx(0.0337)
    assert made.stock.mass == pytest.approx(0.02466 * 2 * (33.7 - 2), rel=1e-3)
    assert made.connector.allowance == pytest.approx(0.040)
    assert made.connector.rotational_stiffness == (2000.0, 2000.0)
    assert [n.code for n in notes] == ["assumed-bars"]
    kit = make_kit(dome(DomeSpec(3.0, division=(2, 0))), brief(text))
    assert kit.masses["hubs"] == pytest.approx(26 * 0.8)
    assert kit.strut_types[0].cut_length == pytest.approx(kit.strut_types[0].node_length - 0.08)
    assert kit.notes[0].code == "assumed-bars"


def test_own_batten_lies_as_it_is_given():
    text = '[struts]\nstock = { material = "c24", depth = "45 mm", breadth = "70 mm" }\n'
    made, _ = part_choices(brief(text + '[hubs]\nconnector = "plate-bolt"\n'))
    assert made.stock.section.depth == pytest.approx(0.045)
    assert made.stock.section.width == pytest.approx(0.070)


@pytest.mark.parametrize(
    ("text", "key", "near"),
    [
        ('[struts]\nstock = "emt3-4"\n', "struts.stock", "emt-3/4"),
        ('[hubs]\nconnector = "sockettie"\n', "hubs.connector", "socket-tie"),
        ('[delivery]\ncarrier = "parcel-1750"\n', "delivery.carrier", "parcel-175"),
    ],
)
def test_an_unknown_id_is_refused_with_its_key_and_line(text, key, near):
    with pytest.raises(InputError) as caught:
        part_choices(brief(text))
    assert caught.value.code == "catalogue-unknown"
    assert caught.value.where == f"{key} (line 7)"
    assert near in caught.value.mend
