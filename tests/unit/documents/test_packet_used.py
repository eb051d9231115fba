"""A utilisation in the packet is a number that was found, a bound that says so, or without end."""

import pytest

from strutwright.catalogue import Source
from strutwright.documents.packet import _used
from strutwright.structure import Check
from strutwright.structure.check import Subject


@pytest.mark.parametrize(
    ("demand", "capacity", "is_bound", "shown"),
    [
        (1.234, 1.0, False, "1.23"),
        (4321.0, 1.0, False, "4321.00"),
        (4.2, 4.41, True, "≤ 0.95"),
        (1.0, 0.0, False, "∞"),
        (0.0, 1.0, False, "0.00"),
    ],
)
def test_no_cap_is_shown_as_a_number(demand, capacity, is_bound, shown):
    check = Check.made(
        "strut-section", Subject("strut", 1), demand, capacity, unit="-", source=Source("test"),
        is_bound=is_bound,
    )  # fmt: skip
    assert _used(check) == shown
