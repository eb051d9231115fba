"""The permit packet: every base hub with its reactions, what is not checked, what is to confirm."""

from dataclasses import replace

import numpy as np
import pytest

from strutwright.brief import parse_brief
from strutwright.catalogue import cover
from strutwright.design import run
from strutwright.documents import build_packet, document_text, typeset
from strutwright.structure.movement import Movement
from strutwright.structure.standards import en1993_1_1

BRIEF = """
[project]
name = "Test shelter"
language = "{language}"
[size]
width = "4.0 m"
[shape]
family = "dome"
division = [2, 0]
[hubs.connector]
allowance = "20 mm"
eccentricity = "2 mm"
stiffness = "300 Nm/rad"
strength = "9 kN"
[cover]
material = "pc-6"
[site]
base = "staked"
ground_snow = "300 Pa"
basic_wind = {{ value = "20 m/s", basis = "10 min mean" }}
"""


def design_in(language):
    return run(parse_brief(BRIEF.format(language=language), "test.toml"))


@pytest.fixture(scope="module")
def design():
    return design_in("en")


def test_reactions_stand_for_every_base_hub_with_the_largest_uplift(design):
    packet = build_packet(design)
    table = next(b for b in packet.blocks if getattr(b, "head", ("",))[0] == "Hub")
    strength = design.judgement.strength
    assert [row[0] for row in table.rows] == [str(hub) for hub in strength.ground]
    for k, row in enumerate(table.rows):
        up = strength.reactions[:, k, 2]
        assert row[4] == strength.combinations[int(up.argmin())].name


def test_every_check_that_was_not_made_is_named_with_its_reason(design):
    text = document_text(build_packet(design))
    for check in design.checks:
        assert check.code in text
        if check.status == "not_checked":
            assert check.note[:40] in text


def test_recalled_sources_of_stock_are_listed_to_confirm(design):
    text = document_text(build_packet(design))
    unsure = [s for s in design.kit.stock.material.sources.values() if not s.verified]
    assert unsure
    assert all(str(source) in text for source in unsure)


def test_plan_elevations_sections_and_shapes_are_drawn(design):
    packet = build_packet(design)
    shown = {block.picture for block in packet.blocks if hasattr(block, "picture")}
    assert shown >= {"plan", "front", "side", "across", "along", "deflected", "buckled"}
    assert shown <= set(packet.pictures)
    for shape in ("deflected", "buckled"):  # with the legend of utilisation
        assert b"used above 1" in packet.pictures[shape]


def test_site_is_told_in_the_reader_s_units(design):
    site = next(b for b in build_packet(design).blocks if getattr(b, "head", ("",))[0] == "Item")
    rows = dict(site.rows)
    assert rows["Altitude"] == "0 m"
    assert rows["Temperature of the frame"] == "-10 °C to 45 °C"


def test_coefficients_stand_with_their_source(design):
    text = document_text(build_packet(design))
    for symbol in ("q_p(z_e)", "c_pi", "C_e", "Windward quarter", "snow drifted"):
        assert symbol in text


def test_a_movement_is_drawn_and_told(design):
    moves = np.zeros_like(design.shell.hubs)
    moves[0, 0] = 1.0
    moving = Movement(moves, "the base can spread at mid-length")
    judged = replace(design.judgement, movement=moving)
    packet = build_packet(replace(design, judgement=judged))
    assert "moving" in packet.pictures
    assert "the base can spread at mid-length" in document_text(packet)


def test_recalled_numbers_of_site_cover_and_member_rules_are_to_confirm(design):
    packet = build_packet(design)
    title = next(
        k for k, b in enumerate(packet.blocks) if getattr(b, "text", "").startswith("Values to")
    )
    confirm = " ".join(packet.blocks[title + 2].items)
    assert "EN 1991-1-3 (2003), Table 5.1" in confirm  # C_e, recalled
    assert "7.2.9(6)" in confirm  # c_pi
    assert "Fig. 7.12" in confirm  # the hemisphere's arcs
    for source in en1993_1_1.SOURCES.values():
        assert source.verified or str(source) in confirm
    for source in cover("pc-6").sources.values():
        assert source.verified or str(source) in confirm


@pytest.mark.parametrize("language", ["de", "es"])
def test_the_packet_is_set_in_other_languages(language):
    assert typeset(build_packet(design_in(language))).startswith(b"%PDF")
