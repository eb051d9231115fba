import dataclasses
import pickle

import numpy as np
import pytest

from strutwright.shape import Recipe, Shell, topology


def cap(base="level"):
    """Five faces round a pole: the top of an icosahedron."""
    turn = 2 * np.pi * np.arange(5) / 5
    ring = np.stack([np.cos(turn), np.sin(turn), np.zeros(5)], axis=1)
    hubs = np.vstack([ring, [[0, 0, 0.5]]])
    faces = np.array([[k, (k + 1) % 5, 5] for k in range(5)])
    struts = topology.struts_of(faces)
    return {
        "hubs": hubs,
        "struts": struts,
        "role": np.full(len(struts), "shell"),
        "faces": faces,
        "course": np.array([0] * 5 + [1]),
        "base": np.arange(5),
        "groups": {},
        "recipe": Recipe("dome", base=base),
    }


def test_a_right_shell_is_made_and_survives_pickle():
    shell = Shell(**cap())
    assert pickle.loads(pickle.dumps(shell)) == shell
    assert len(topology.boundary_rings(shell.faces)) == 1


def swapped(parts, name, change):
    value = np.array(parts[name])
    change(value)
    return {**parts, name: value}


@pytest.mark.parametrize(
    ("name", "change", "says"),
    [
        ("hubs", lambda a: a.__setitem__((0, 0), np.nan), "not finite"),
        ("hubs", lambda a: a.__setitem__((0, 2), 0.1), "off z = 0"),
        ("hubs", lambda a: a.__setitem__(0, a[1]), "one point"),
        ("struts", lambda a: a.__setitem__(1, a[0]), "ascending"),
        ("struts", lambda a: a.__setitem__(0, a[0][::-1].copy()), "i < j"),
        ("faces", lambda a: a.__setitem__(0, a[0][::-1].copy()), "same direction"),
        ("faces", lambda a: a.__setitem__(slice(None), a[:, ::-1].copy()), "inwards"),
        ("role", lambda a: a.__setitem__(0, "brace"), "may bound a face"),
        ("role", lambda a: a.__setitem__(0, "pole"), "unknown role"),
        ("base", lambda a: a.__setitem__(0, 1), "twice"),
    ],
)
def test_a_broken_invariant_is_refused(name, change, says):
    with pytest.raises(ValueError, match=says):
        Shell(**swapped(cap(), name, change))


def test_an_unused_hub_is_refused():
    parts = cap()
    parts["hubs"] = np.vstack([parts["hubs"], [[9.0, 9, 9]]])
    parts["course"] = np.append(parts["course"], 0)
    with pytest.raises(ValueError, match="no strut"):
        Shell(**parts)


def test_two_caps_touching_in_a_hub_are_no_shell():
    parts = cap()
    far = parts["faces"] + 6
    faces = np.where(far == 6, 0, far)
    with pytest.raises(ValueError, match="one fan"):
        topology.check_manifold(np.vstack([parts["faces"], faces]))


def test_notes_are_added_to_the_recipe():
    shell = Shell(**cap())
    from strutwright.values import Note

    more = shell.with_notes(Note("x", "y"))
    assert more.recipe.notes == (Note("x", "y"),)
    assert dataclasses.replace(more, recipe=shell.recipe) == shell
