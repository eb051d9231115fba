"""Inner braces: struts on the inside from a hub to the hub two courses further over the arch.

A rib is the row of barrel hubs at one place of the length, counted from 0 at the end with the
smallest x: groups ``hubs.rib.N``. Where struts join the hubs of a rib, a brace skips a hub; where
the rib's hubs stand on every second strut row, the neighbours are two courses apart already.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from strutwright.errors import InputError
from strutwright.sentences import note
from strutwright.shape.edit import assemble, loosen, pair
from strutwright.shape.shell import Shell

__all__ = ["add_braces", "middle_rows", "usual_rows"]

RIB = "hubs.rib."


def add_braces(shell: Shell, rows: str | Sequence[int]) -> Shell:
    """Return `shell` with inner braces in its `rows`, of role ``brace``, straight hub to hub.

    Parameters
    ----------
    rows : str or sequence of int
        ``all``, ``none``, ``auto`` (`usual_rows`, with a note), or numbers of ribs.

    Raises
    ------
    InputError
        ``shape-braces``: the shell has no barrel, or no such rib.
    """
    ribs = _ribs(shell)
    if isinstance(rows, str) and rows not in {"all", "none", "auto"}:
        what = f'inner_braces "{rows}" is not all, none or auto'
        raise InputError("shape-braces", what, "shape.inner_braces", "take one of these")
    if rows == "none":
        return shell
    if not ribs:
        what = f"a shell of family {shell.recipe.family} has no barrel whose rows could be braced"
        raise InputError("shape-braces", what, "shape.inner_braces", "take none")
    chosen = _chosen(shell, rows, len(ribs))
    net = loosen(shell)
    for row in chosen:
        for i, j in _pairs(shell, ribs[row]):
            net.set_role(i, j, "brace")
    recipe = replace(shell.recipe, steps=(*shell.recipe.steps, _step(chosen)))
    braced = assemble(net, recipe)
    if rows != "auto":
        return braced
    n = int((braced.role == "brace").sum())
    return braced.with_notes(note("braces-usual", ribs=tuple(chosen), of=len(ribs), n=n))


def middle_rows(shell: Shell) -> tuple[int, ...]:
    """Return about half of `usual_rows`, those nearest to the middle, the ends alike."""
    rows, n = usual_rows(shell), len(_ribs(shell))
    off = sorted(abs(2 * row - n + 1) for row in rows)
    return tuple(row for row in rows if abs(2 * row - n + 1) <= off[(len(off) - 1) // 2])


def usual_rows(shell: Shell) -> tuple[int, ...]:
    """Return the ribs that are usually braced, counted from the middle so that the ends are alike.

    Every second rib where the ribs are of one kind. Where they stand in turn on the odd and on
    the even strut rows, three neighbours together stiffen what hangs between them ten times as
    much as the same braces apart: three at the middle, a single rib four further on, then three
    again. For the six-fold shell with rows along and three bays that is 12 braces on 17 hubs
    (common practice, no source): of the ways to place so many with both ends alike, those with
    the three middle ribs alone make a load at the mid crown sink 12 times less far.
    """
    ribs = _ribs(shell)
    middle = (len(ribs) - 1) // 2
    one_kind = bool(ribs) and _stride(shell, ribs[middle]) == 2
    period, places = (2, (0,)) if one_kind else (8, (0, 1, 4, 7))
    return tuple(row for row in range(len(ribs)) if (row - middle) % period in places)


def _ribs(shell: Shell) -> list[list[int]]:
    """Return the hubs of each rib from +y to -y over the arch."""
    names = [name for name in shell.groups if name.startswith(RIB)]
    names.sort(key=lambda name: int(name.removeprefix(RIB)))
    ribs = [shell.groups[name] for name in names]
    return [rib[np.argsort(-_around(shell, rib), kind="stable")].tolist() for rib in ribs]


def _around(shell: Shell, rib: np.ndarray) -> np.ndarray:
    """Return the angle of the hubs of a rib about the axis of the base, from -y, rad."""
    return np.asarray(np.arctan2(shell.hubs[rib, 2], -shell.hubs[rib, 1]))


def _stride(shell: Shell, rib: list[int]) -> int:
    """Return how many places of the rib lie two courses on: 2 where struts join neighbours."""
    struts = set(map(tuple, shell.struts[shell.role != "brace"].tolist()))
    joined = [pair(i, j) in struts for i, j in pairwise(rib)]
    return 2 if any(joined) else 1


def _pairs(shell: Shell, rib: list[int]) -> list[tuple[int, int]]:
    stride = _stride(shell, rib)
    return list(zip(rib[:-stride], rib[stride:], strict=True))


def _chosen(shell: Shell, rows: str | Sequence[int], n_ribs: int) -> tuple[int, ...]:
    if rows == "all":
        return tuple(range(n_ribs))
    if isinstance(rows, str):
        return usual_rows(shell)
    wrong = [row for row in rows if not 0 <= row < n_ribs]
    if wrong:
        what = f"rib {wrong[0]} of inner_braces is outside 0 to {n_ribs - 1}"
        raise InputError("shape-braces", what, "shape.inner_braces", "count the ribs from 0")
    return tuple(sorted(set(rows)))


def _step(rows: Sequence[int]) -> str:
    return f"inner braces in ribs {', '.join(map(str, rows))}"
