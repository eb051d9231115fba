import pytest

from strutwright.parts.split import n_pieces, split


@pytest.mark.parametrize(
    ("length", "role", "limit", "n"),
    [
        (1.9, "shell", None, 1),
        (1.9, "brace", None, 2),
        (1.9, "shell", 1.71, 2),
        (1.71, "shell", 1.71, 1),
        (3.43, "shell", 1.71, 3),
        (3.43, "brace", 1.71, 3),
        (1.71 * (1 + 1e-12), "shell", 1.71, 1),
    ],
)
def test_number_of_pieces(length, role, limit, n):
    assert n_pieces(length, role, limit) == n


def test_pieces_sum_to_the_strut():
    pieces, couplers = split("C", 3.0, 5, 3)
    assert [(p.label, p.quantity) for p in pieces] == [("C1", 15)]
    assert sum(p.length * p.quantity for p in pieces) == pytest.approx(15.0)
    assert couplers == pytest.approx((1.0, 2.0))
