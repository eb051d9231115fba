"""What holds for the parts of any shell."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from strutwright.catalogue import connector, stock
from strutwright.parts import PartChoices, assemble_kit
from strutwright.shape.dome import DomeSpec, dome
from strutwright.shape.measure import node_lengths

JOINTS = [
    ("emt-1", "flattened-bolt"),
    ("pvc-sch40-1", "socket-tie"),
    ("timber-45x70", "plate-bolt"),
]
calm = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def kits(draw):
    name, joint = draw(st.sampled_from(JOINTS))
    made = stock(name)
    division = draw(st.sampled_from([(1, 0), (2, 0), (3, 0), (4, 0), (1, 1), (2, 2), (2, 1)]))
    shell = dome(
        DomeSpec(
            radius=draw(st.floats(2.5, 6.0)),
            division=division,
            seed=draw(st.sampled_from(["icosahedron", "octahedron"])),
            truncation=draw(st.sampled_from(["1/2", "2/3"])),
        )
    )
    limit = draw(st.sampled_from([None, 1.16, 2.0]))
    return assemble_kit(
        shell,
        PartChoices(made, connector(joint, made.section.outside), longest_piece=limit),
    )


@calm
@given(kits())
def test_every_part_is_counted_once(kit):
    assert sum(t.quantity for t in kit.strut_types) == len(kit.shell.struts)
    assert sum(h.quantity for h in kit.hub_types) == len(kit.shell.hubs)
    nodes = node_lengths(kit.shell)
    for kind in kit.strut_types:
        assert np.abs(nodes[kind.struts] - kind.node_length).max() < 0.5e-3
        off = kit.allowances[kind.struts].sum(axis=1)
        assert np.abs(nodes[kind.struts] - off - kind.cut_length).max() <= 0.25e-3 + 1e-7
        whole = sum(p.length * p.quantity for p in kind.pieces)
        assert whole == pytest.approx(kind.cut_length * kind.quantity)


@calm
@given(kits())
def test_labels_run_from_the_longest_down(kit):
    cuts = [t.cut_length for t in kit.strut_types]
    assert all(a >= b - 1e-6 for a, b in pairwise(cuts))
    assert len({t.band for t in kit.strut_types}) == len(kit.strut_types)


@calm
@given(kits(), st.floats(0.0, 2 * np.pi))
def test_types_do_not_depend_on_how_the_shell_is_turned(kit, turn):
    c, s = np.cos(turn), np.sin(turn)
    spin = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])
    recipe = kit.shell.recipe
    shell = replace(kit.shell, hubs=kit.shell.hubs @ spin.T, recipe=recipe)
    again = assemble_kit(shell, PartChoices(kit.stock, kit.connector))
    first = assemble_kit(kit.shell, PartChoices(kit.stock, kit.connector))
    assert same_parts(first.hub_type_of, again.hub_type_of)
    assert same_parts(first.strut_type_of, again.strut_type_of)


def same_parts(a, b):
    pairs = {*zip(a.tolist(), b.tolist(), strict=True)}
    return len(pairs) == len(set(a.tolist())) == len(set(b.tolist()))


@calm
@given(kits())
def test_spokes_of_each_hub_are_those_of_its_type(kit):
    """Directions of the struts at a hub, measured anew, agree with its type's azimuths and dips."""
    tolerance = 0.25 * np.pi / 180
    for hub in range(0, len(kit.shell.hubs), 7):
        kind = kit.hub_types[kit.hub_type_of[hub]]
        struts = kit.sockets(hub)
        other = kit.shell.struts[struts].sum(axis=1) - hub
        out = kit.shell.hubs[other] - kit.shell.hubs[hub]
        out /= np.linalg.norm(out, axis=1, keepdims=True)
        flat = np.stack(
            [
                np.cos(kind.spokes[:, 1]) * np.cos(kind.spokes[:, 0]),
                np.cos(kind.spokes[:, 1]) * np.sin(kind.spokes[:, 0]),
                -np.sin(kind.spokes[:, 1]),
            ],
            axis=1,
        )
        # angles between all pairs of struts do not know any frame
        assert np.abs(out @ out.T - flat @ flat.T).max() < 4 * tolerance
