"""The workshop's records: rack, orders, parts; SQLite by default, PostgreSQL by URL."""

from strutwright.store.archive import export_records, import_records
from strutwright.store.base import Records, open_records
from strutwright.store.orders import Order, add_order, get_order, list_orders
from strutwright.store.parts import FoundPart, find_part
from strutwright.store.prices import get_prices, list_price_lists, set_prices
from strutwright.store.rack import RackRow, add_bars, book_cut, list_rack

__all__ = [
    "FoundPart",
    "Order",
    "RackRow",
    "Records",
    "add_bars",
    "add_order",
    "book_cut",
    "export_records",
    "find_part",
    "get_order",
    "get_prices",
    "import_records",
    "list_orders",
    "list_price_lists",
    "list_rack",
    "open_records",
    "set_prices",
]
