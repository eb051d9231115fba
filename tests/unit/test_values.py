import copy
import pickle
from dataclasses import dataclass

import numpy as np
import pytest

from strutwright.values import ArrayValue, canonical_json


@dataclass(frozen=True, eq=False)
class Pair(ArrayValue):
    name: str
    numbers: np.ndarray
    more: dict


def make(last=3.0):
    return Pair("a", np.array([1.0, 2.0, last]), {"k": np.array([1, 2])})


def test_array_is_copied_and_locked():
    given = np.array([1.0, 2.0])
    value = Pair("a", given, {})
    given[0] = 9
    assert value.numbers[0] == 1
    with pytest.raises(ValueError, match="read-only"):
        value.numbers[0] = 5


@pytest.mark.parametrize("way", [copy.deepcopy, copy.copy, lambda v: pickle.loads(pickle.dumps(v))])
def test_copies_are_equal_and_locked(way):
    twin = way(make())
    assert twin == make()
    assert not twin.numbers.flags.writeable
    assert not twin.more["k"].flags.writeable


def test_equality_is_field_by_field_and_hash_is_refused():
    assert make() == make()
    assert make() != make(4.0)
    with pytest.raises(TypeError):
        hash(make())


def test_canonical_json_has_one_text_for_equal_values():
    assert canonical_json(make()) == '{"more":{"k":[1,2]},"name":"a","numbers":[1.0,2.0,3.0]}'
    assert canonical_json({"b": -0.0, "a": 1}) == '{"a":1,"b":0.0}'


@pytest.mark.parametrize("number", [float("nan"), float("inf"), np.float64("nan")])
def test_canonical_json_refuses_numbers_without_a_form(number):
    with pytest.raises(ValueError, match="no JSON form"):
        canonical_json([number])
