import pytest

from strutwright.brief import parse_rack, read_rack
from strutwright.errors import InputError

TEXT = """# rack of the workshop, after the autumn count
name,stock,length,quantity,price,unusable
,emt-3/4,10 ft,,9.80,
R1,emt-3/4,2.40 m,1,4.00,0.90 m to 0.95 m; 2 m to 2.1 m
R2,emt-3/4,7 ft 10 1/2 in,2,3.00,
R3,emt-1,1.80 m,0,,
%#!! dropped by the printer
R4,emt-3/4,5 ft,12,5.60,
"""


def test_rubbish_in_line_7_is_named_and_the_rest_kept():
    rack = parse_rack(TEXT, "rack.csv")
    assert [note.code for note in rack.notes] == ["rack-line"]
    assert "rack.csv (line 7)" in rack.notes[0].text
    assert [bar.name for bar in rack.bars] == ["", "R1", "R2", "R3", "R4"]
    assert [bar.quantity for bar in rack.of("emt-3/4")] == [None, 1, 2, 12]
    assert rack.bars[2].length == pytest.approx(2.4003)
    assert rack.bars[1].zones == ((0.90, 0.95), (2.0, 2.1))


@pytest.mark.parametrize(
    "line",
    [
        "R9,emt-1,0 m,1,2,",
        "R9,emt-1,2.0,1,2,",
        "R9,,2 m,1,2,",
        "R9,emt-1,2 m,-1,2,",
        "R9,emt-1,2 m,1.5,2,",
        "R9,emt-1,2 m,1,nan,",
        "R9,emt-1,2 m,1,-3,",
        "R9,emt-1,2 m,1,3,1 m to 2.5 m",
        "R9,emt-1,2 m,1,3,1 m",
        "R9,emt-1,2 m,1,3,,,7",
    ],
)
def test_a_line_out_of_bounds_is_left_out_with_its_number(line):
    rack = parse_rack(TEXT + line + "\n", "rack.csv")
    assert len(rack.bars) == 5
    assert sum("(line 9)" in note.text for note in rack.notes) == 1


def test_a_bar_without_a_price_counts_at_the_least_metre_price_and_says_so():
    rack = parse_rack("stock,length,price\nemt-1,3 m,9\nemt-1,2 m,5\nemt-1,1 m,\n")
    assert rack.bars[2].price == pytest.approx(2.5)
    assert [note.code for note in rack.notes] == ["rack-price-assumed"]


@pytest.mark.parametrize("text", ["", "# nothing\n", "name,length\nR1,2 m\n", "stock,length\n"])
def test_a_file_without_a_bar_is_refused(text):
    with pytest.raises(InputError) as caught:
        parse_rack(text)
    assert caught.value.code == "rack-unreadable"


def test_only_bad_lines_are_all_named():
    with pytest.raises(InputError) as caught:
        parse_rack("stock,length\nemt-1,much\nemt-1,0 m\n")
    assert len(caught.value.problems) == 2


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(InputError) as caught:
        read_rack(tmp_path / "none.csv")
    assert caught.value.code == "rack-unreadable"
