from dataclasses import replace

import numpy as np
import pytest

from strutwright.catalogue import connector, stock
from strutwright.errors import InputError
from strutwright.parts import PartChoices, assemble_kit
from strutwright.shape import Recipe, Shell
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import node_lengths


def choices(name="emt-3/4", joint="flattened-bolt", **more):
    made = stock(name)
    return PartChoices(made, connector(joint, made.section.outside), **more)


def two_frequency(radius=3.0):
    return dome(DomeSpec(radius, division=(2, 0)))


def with_strut(shell, i, j, role):
    """Return `shell` with one more strut, its rows in order."""
    struts = np.vstack([shell.struts, [min(i, j), max(i, j)]])
    roles = np.append(shell.role, role)
    order = np.lexsort((struts[:, 1], struts[:, 0]))
    return replace(shell, struts=struts[order], role=roles[order])


def test_two_frequency_dome_has_two_strut_types_and_three_hub_types():
    kit = assemble_kit(two_frequency(), choices())
    assert [(t.label, t.quantity) for t in kit.strut_types] == [("A", 35), ("B", 30)]
    assert [(h.valence, h.quantity) for h in kit.hub_types] == [(6, 10), (5, 6), (4, 10)]
    assert kit.strut_types[0].node_length == pytest.approx(3 * 0.618034, abs=1e-5)
    assert {t.band for t in kit.strut_types} == {"n", "w"}


def test_a_flattened_end_reaches_past_its_bolt():
    kit = assemble_kit(two_frequency(), choices())
    for kind in kit.strut_types:
        assert kind.cut_length == pytest.approx(kind.node_length + 2 * 0.022)


def test_a_socket_takes_its_allowance_from_the_width_of_the_pipe():
    kit = assemble_kit(two_frequency(), choices("pvc-sch40-1", "socket-tie"))
    off = 0.006 + 1.315 * 0.0254
    assert kit.strut_types[0].cut_length == pytest.approx(kit.strut_types[0].node_length - 2 * off)


def test_hub_and_its_mirror_image_are_one_for_a_bolt_and_two_for_a_socket():
    bolted = assemble_kit(two_frequency(), choices())
    socketed = assemble_kit(two_frequency(), choices("pvc-sch40-1", "socket-tie"))
    assert [(h.valence, h.quantity) for h in bolted.hub_types][-1] == (4, 10)
    assert [(h.valence, h.quantity) for h in socketed.hub_types][-2:] == [(4, 5), (4, 5)]
    assert not socketed.is_mirrored.any()
    assert bolted.is_mirrored.sum() == 5


def test_sockets_of_each_hub_take_the_labels_of_its_type():
    kit = assemble_kit(two_frequency(), choices())
    for hub in range(len(kit.shell.hubs)):
        kind = kit.hub_types[kit.hub_type_of[hub]]
        found = [kit.strut_types[kit.strut_type_of[s]].label for s in kit.sockets(hub)]
        assert found == list(kind.sockets)
        assert all(hub in kit.shell.struts[s] for s in kit.sockets(hub))


def test_fasteners_of_a_bolted_hub_are_by_hub_and_of_a_tied_one_by_end():
    bolted = assemble_kit(two_frequency(), choices())
    count = {f.item: f.quantity for f in bolted.fasteners}
    # 26 hubs: 10 with four ends (10 mm of flats), 6 with five, 10 with six (15 mm)
    assert count == {
        "bolt M8 x 25 8.8, zinc plated": 10,
        "bolt M8 x 30 8.8, zinc plated": 16,
        "self-locking nut M8": 26,
        "washer M8, wide": 52,
    }
    tied = assemble_kit(two_frequency(), choices("pvc-sch40-1", "socket-tie"))
    assert [f.quantity for f in tied.fasteners] == [2 * 65]


def test_mass_is_the_sum_of_what_is_in_the_kit():
    kit = assemble_kit(two_frequency(), choices())
    sawn = sum(t.cut_length * t.quantity for t in kit.strut_types)
    fasteners = 26 * (0.030 + 0.006 + 2 * 0.007)
    assert kit.mass == pytest.approx(sawn * 46 * 0.45359237 / 30.48 + fasteners)
    assert sum(kit.masses.values()) == pytest.approx(kit.mass)


def test_types_that_look_alike_are_named():
    kit = assemble_kit(dome(DomeSpec(3.0, division=(4, 0))), choices())
    assert kit.confusable == (("C", "D"), ("C", "E"), ("D", "E"))
    (note,) = [n for n in kit.notes if n.code == "types-confusable"]
    assert "D/E 2.1 mm" in note.text


def test_types_sawn_alike_are_told_apart_by_their_job_alone():
    shell = dome(DomeSpec(3.0, division=(2, 0)))
    role = shell.role.copy()
    lengths = node_lengths(shell)
    one = int(lengths.argmax())
    role[one] = "jamb"
    kit = assemble_kit(replace(shell, role=role), choices())
    first, second, *_ = kit.strut_types
    assert {first.quantity, second.quantity} == {34, 1}
    assert ("A", "B") not in kit.confusable
    (note,) = [n for n in kit.notes if n.code == "types-alike"]
    assert "A/B" in note.text


def test_a_strut_too_short_for_its_hub_is_refused_with_both_lengths():
    with pytest.raises(InputError) as caught:
        assemble_kit(two_frequency(0.3), choices("pvc-sch40-1-1/2", "socket-tie"))
    assert caught.value.code == "strut-too-short"
    assert len(caught.value.problems) == 2
    assert "type A is 77 mm (node length 185 mm), below the 120 mm" in caught.value.what
    assert caught.value.mend


def test_a_connector_refuses_what_it_cannot_hold():
    with pytest.raises(InputError) as caught:
        assemble_kit(two_frequency(), choices("pvc-sch40-1", "flattened-bolt"))
    assert caught.value.code == "connector-material"
    rod = choices()
    solid = replace(rod.stock, section=replace(rod.stock.section, shape="rod"))
    with pytest.raises(InputError) as caught:
        assemble_kit(two_frequency(), replace(rod, stock=solid))
    assert caught.value.code == "connector-material"


def test_struts_longer_than_a_parcel_come_in_equal_pieces_with_a_coupler():
    kit = assemble_kit(two_frequency(), choices(longest_piece=1.71, limited_by="the parcel"))
    a, b = kit.strut_types
    assert [p.label for p in a.pieces] == ["A1"]
    assert a.pieces[0].quantity == 70
    assert a.pieces[0].length == pytest.approx(a.cut_length / 2)
    assert a.coupler_at == pytest.approx((a.cut_length / 2,))
    assert [(p.label, p.quantity) for p in b.pieces] == [("B", 30)]
    assert {f.item: f.quantity for f in kit.fasteners}["coupler"] == 35
    assert {f.item: f.quantity for f in kit.fasteners}["sheet screw 4.8 x 16"] == 140
    assert any(n.code == "struts-split" and "type A " in n.text for n in kit.notes)


def test_a_strut_as_long_as_the_limit_stays_whole():
    shell = two_frequency()
    whole = assemble_kit(shell, choices()).strut_types[0].cut_length
    kit = assemble_kit(shell, choices(longest_piece=whole))
    assert kit.strut_types[0].coupler_at == ()


def test_an_inner_brace_is_of_two_pieces_and_stands_back_from_the_struts_beside_it():
    shell = two_frequency()
    top = len(shell.hubs) - 1
    far = int(np.flatnonzero(shell.course == shell.course.max() - 2)[0])
    kit = assemble_kit(with_strut(shell, far, top, "brace"), choices("pvc-sch40-1", "socket-tie"))
    (brace,) = [t for t in kit.strut_types if t.role == "brace"]
    assert [p.quantity for p in brace.pieces] == [2]
    row = int(brace.struts[0])
    assert kit.allowances[row].min() > 1.5 * kit.allowances[0, 0]
    # at its end the brace's axis is a pipe's width from the axis of the nearest strut
    i = kit.shell.struts[row, 0]
    along = kit.shell.hubs[kit.shell.struts[row, 1]] - kit.shell.hubs[i]
    end = kit.shell.hubs[i] + along / np.linalg.norm(along) * kit.allowances[row, 0]
    apart = []
    for s in kit.sockets(int(i)):
        if s != row:
            other = kit.shell.hubs[kit.shell.struts[s].sum() - i] - kit.shell.hubs[i]
            apart.append(
                np.linalg.norm(np.cross(other, end - kit.shell.hubs[i])) / np.linalg.norm(other)
            )
    assert min(apart) >= kit.stock.section.width


def test_crowded_struts_are_told():
    # a flat fan of twelve struts around one hub: neighbours at 30 degrees
    turn = np.linspace(0, 2 * np.pi, 12, endpoint=False)
    hubs = np.vstack([np.stack([np.cos(turn), np.sin(turn), 0 * turn], axis=1), [[0, 0, 0.3]]])
    faces = np.array([[k, (k + 1) % 12, 12] for k in range(12)])
    from strutwright.shape import topology

    struts = topology.struts_of(faces)
    shell = Shell(
        hubs=hubs,
        struts=struts,
        role=np.full(len(struts), "shell"),
        faces=faces,
        course=np.array([0] * 12 + [1]),
        base=np.arange(12),
        groups={},
        recipe=Recipe("imported"),
    )
    kit = assemble_kit(shell, choices("pvc-sch40-1", "socket-tie"))
    (note,) = [n for n in kit.notes if n.code == "hub-crowded"]
    assert "1 hub (12)" in note.text
    assert not any(n.code == "hub-crowded" for n in assemble_kit(shell, choices()).notes)


def test_timber_of_one_length_and_two_folds_is_two_types():
    # 3-frequency: the 0.40355 strut has dihedrals of 165.54 and 168.64 degrees
    shell = dome(DomeSpec(3.0, division=(3, 0), truncation="5/9", level_base="none"))
    kit = assemble_kit(shell, choices("timber-45x70", "plate-bolt"))
    mine = [
        t
        for t in kit.strut_types
        if abs(t.node_length - 3 * 0.403548) < 1e-4 and t.end_cuts[0].bevel
    ]
    folds = [180 - 2 * np.degrees(t.end_cuts[0].bevel) for t in mine]
    assert sorted(folds) == pytest.approx([165.5423, 168.6411], abs=1e-3)
    # the saw is tilted by the dip, asin(c / 2)
    for kind in mine:
        for end in kind.end_cuts:
            assert end.tilt == pytest.approx(np.arcsin(0.403548 / 2), abs=1e-5)
    bare = [t for t in kit.strut_types if t.end_cuts[0].bevel is None]
    assert sum(t.quantity for t in bare) == len(shell.base)


def test_a_tolerance_joins_lengths_no_further_apart_than_itself():
    shell = dome(DomeSpec(3.0, division=(4, 0)))
    fine = assemble_kit(shell, choices())
    coarse = assemble_kit(shell, choices(length_tolerance=0.0022))
    assert len(fine.strut_types) - len(coarse.strut_types) == 1
    joined = next(t for t in coarse.strut_types if t.quantity == 90)
    d, e = fine.strut_types[3], fine.strut_types[4]
    assert joined.cut_length == pytest.approx((d.cut_length + e.cut_length) / 2)


def test_a_kit_with_a_strut_in_two_types_is_no_kit():
    kit = assemble_kit(two_frequency(), choices())
    with pytest.raises(ValueError, match="exactly one type"):
        replace(kit, strut_types=(kit.strut_types[0], kit.strut_types[0]))
    with pytest.raises(ValueError, match="another"):
        replace(kit, strut_type_of=np.roll(kit.strut_type_of, 1))
    with pytest.raises(ValueError, match="stands twice"):
        replace(kit, hub_types=tuple(replace(h, label="A") for h in kit.hub_types))
    short = replace(kit.strut_types[0], cut_length=1.0)
    with pytest.raises(ValueError, match="do not sum"):
        replace(kit, strut_types=(short, kit.strut_types[1]))
