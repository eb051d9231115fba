"""Price lists: read whole or refused line by line, kept by name, exact to the cent."""

from decimal import Decimal

import pytest

from strutwright.brief.price_file import parse_prices
from strutwright.errors import InputError
from strutwright.store import export_records, get_prices, list_price_lists, set_prices

TEXT = """# autumn
item,price
hub bodies,3.40
"bolt M8x40, 8.8",0.275
minutes: saw,1.5
"""


def test_a_list_is_kept_by_name_and_replaced_whole(records):
    prices = parse_prices(TEXT)
    assert prices["bolt M8x40, 8.8"] == Decimal("0.275")
    set_prices(records, "autumn", prices)
    assert get_prices(records, "autumn") == prices
    set_prices(records, "autumn", {"hub bodies": Decimal("3.50")})
    set_prices(records, "winter", prices)
    assert get_prices(records, "autumn") == {"hub bodies": Decimal("3.50")}
    assert list_price_lists(records) == {"autumn": 1, "winter": 3}
    assert b"bolt M8x40, 8.8" in export_records(records)


def test_every_bad_line_is_named_and_nothing_is_taken():
    text = TEXT + 'hub bodies,3.60\ncover,"1,80"\nfreight\nhour,-2\nhour,nan\n'
    with pytest.raises(InputError) as caught:
        parse_prices(text, "list.csv")
    found = [(p.code, p.where) for p in caught.value.problems]
    assert found == [("prices-line", f"list.csv (line {n})") for n in range(6, 11)]


@pytest.mark.parametrize("text", ["", "price,item\na,1\n", "item,price\n"])
def test_what_is_no_list_is_refused(text):
    with pytest.raises(InputError) as caught:
        parse_prices(text)
    assert caught.value.code == "prices-unreadable"


def test_a_list_that_is_not_there_is_named(records):
    with pytest.raises(InputError) as caught:
        get_prices(records, "summer")
    assert caught.value.code == "prices-unknown"
