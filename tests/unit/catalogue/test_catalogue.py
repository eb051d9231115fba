from dataclasses import fields
from importlib.resources import files

import numpy as np
import pytest

from strutwright import catalogue
from strutwright.catalogue import (
    DURATIONS,
    anchor,
    anchor_ids,
    carrier,
    carrier_ids,
    connector,
    connector_ids,
    cover,
    cover_ids,
    material,
    materials,
    modulus_at,
    stock,
    stock_ids,
    temperature_factor,
)
from strutwright.catalogue.connectors import _all as all_connectors
from strutwright.catalogue.load import UNITS
from strutwright.errors import InputError
from strutwright.structure.standards import pvc_practice
from strutwright.values import plain

RECORDS = [
    *materials().values(),
    *(stock(name) for name in stock_ids()),
    *(made for sizes in all_connectors().values() for made in sizes),
    *(cover(name) for name in cover_ids()),
    *(anchor(name) for name in anchor_ids()),
    *(carrier(name) for name in carrier_ids()),
]
# Worked out from other fields, or a record of its own with its own sources.
DERIVED = {"section", "material", "id"}


def holds_numbers(value):
    if isinstance(value, bool | str) or value is None:
        return False
    if isinstance(value, int | float | np.ndarray):
        return True
    if hasattr(value, "values"):
        return any(holds_numbers(item) for item in value.values())
    if isinstance(value, tuple):
        return any(holds_numbers(item) or hasattr(item, "length") for item in value)
    return False


@pytest.mark.parametrize("record", RECORDS, ids=lambda r: f"{type(r).__name__}-{r.id}")
def test_every_number_has_its_source(record):
    missing = [
        field.name
        for field in fields(record)
        if field.name not in DERIVED | {"sources"}
        and holds_numbers(getattr(record, field.name))
        and plain(getattr(record, field.name)) != field.default
        and field.name not in record.sources
    ]
    assert missing == []


def test_what_was_recalled_is_not_called_verified():
    assert not material("6060-t66").sources["yield_strength"].verified
    assert material("s235").sources["yield_strength"].verified
    assert not material("emt-steel").verified


@pytest.mark.parametrize(
    ("find", "wrong", "near"),
    [
        (stock, "emt3/4", "emt-3/4"),
        (material, "c25", "c24"),
        (cover, "pe-film", "pe-film-180"),
        (carrier, "parcel175", "parcel-175"),
        (anchor, "stake", "stake-25x915"),
        (lambda name: connector(name, 0.03), "flat-bolt", "flattened-bolt"),
    ],
)
def test_unknown_id_names_the_nearest(find, wrong, near):
    with pytest.raises(InputError) as caught:
        find(wrong)
    assert caught.value.code == "catalogue-unknown"
    assert wrong in caught.value.what
    assert near in caught.value.mend


def test_connector_comes_in_the_size_of_the_stock():
    assert connector("flattened-bolt", stock("emt-3/4").section.outside).bolt_diameter == 0.008
    assert connector("flattened-bolt", stock("emt-1/2").section.outside).bolt_diameter == 0.006
    with pytest.raises(InputError) as caught:
        connector("flattened-bolt", 0.1)
    assert caught.value.code == "connector-size"
    assert "100.0 mm" in caught.value.what


def test_every_connector_leaves_the_bolt_its_end_distance():
    # EN 1993-1-8, Table 3.3: at least 1.2 hole diameters
    for name in connector_ids():
        for made in all_connectors()[name]:
            if made.bolt_from_end is not None:
                assert made.bolt_from_end >= 1.2 * made.hole_diameter
            if made.kind == "flattened":
                assert made.allowance == pytest.approx(-made.bolt_from_end)


def test_hot_pvc_is_weaker_and_too_hot_is_refused():
    pvc = material("pvc-12454")
    assert temperature_factor(pvc, pvc.strength_by_temperature, 43) == pytest.approx(0.50)
    assert temperature_factor(pvc, pvc.strength_by_temperature, -10) == 1.0
    assert temperature_factor(pvc, pvc.strength_by_temperature, 45.0) == pytest.approx(
        0.4667, abs=1e-4
    )
    with pytest.raises(InputError) as caught:
        temperature_factor(pvc, pvc.strength_by_temperature, 61)
    assert caught.value.code == "material-too-hot"


def test_the_longer_the_load_the_softer_the_pvc():
    moduli = [modulus_at(material("pvc-12454"), duration) for duration in DURATIONS]
    assert moduli == sorted(moduli)
    assert moduli[0] == 965e6
    assert modulus_at(material("s235"), "permanent") == 210e9
    with pytest.raises(ValueError, match="forever"):
        modulus_at(material("s235"), "forever")


def test_carrier_takes_pieces_shorter_than_its_longest_parcel():
    assert carrier("parcel-175").longest_piece == pytest.approx(1.71)


def test_a_units_table_entry_is_si():
    assert UNITS["ksi"] == pytest.approx(6.894757e6, rel=1e-6)
    assert UNITS["lb/ft"] == pytest.approx(1.488164, rel=1e-6)


def test_public_names_are_the_package():
    for name in catalogue.__all__:
        assert hasattr(catalogue, name)


def test_no_factor_of_a_standard_stands_among_the_materials():
    # k_mod and C_D belong to their standards, which alone know of them; two copies drift apart
    text = (files("strutwright.catalogue") / "data" / "materials.toml").read_text("utf-8")
    for word in ("kmod", "CD =", "gM", "kdef", "CM_"):
        assert word not in text


def test_pvc_practice_takes_its_numbers_from_the_catalogue():
    pipe = material("pvc-12454")
    assert dict(pipe.modulus_by_duration) == dict(pvc_practice.E_BY_DURATION)
    assert pvc_practice.allowable_stress(38) == pytest.approx(0.62 * pipe.strengths["working"])
