"""Which dome to make when the brief leaves the shape open: the choice, and what else there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from strutwright.errors import InputError
from strutwright.shape.dome import DomeSpec, cut_ratios, dome
from strutwright.shape.measure import node_lengths, width
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import AGREE, Sizes
from strutwright.shape.subdivide import HIGHEST_FREQUENCY

__all__ = [
    "FITTING_STRUT",
    "Alternative",
    "alternative",
    "count_lengths",
    "cut_for",
    "division_for",
    "dome_alternatives",
    "nearest_cut",
    "rank",
]

FITTING_STRUT: Final = 1.6
"""m; the longest strut aimed at where neither stock nor carrier nor brief sets a bound: our
choice, longer tubes of usual kit size bend between hubs before they buckle."""
SAME_LENGTH: Final = 0.0005
"""m; struts closer in length than this are one type here: half a millimetre, as sawn."""
LONGEST_CHORD: Final = {"icosahedron": 1.3, "octahedron": 1.9}
"""Longest chord factor of class I times the frequency, rounded up: to know where to look."""
COARSER, FINER = 1, 2


@dataclass(frozen=True)
class Alternative:
    """A shell that meets the wish, before openings, inner braces and legs.

    Parameters
    ----------
    shell : Shell
    family : str
    seed : str
        Of a dome; empty of another family.
    division : (int, int)
        Of a vault: the row gaps over the arch, and 0.
    truncation : int
        Courses kept of a dome; 0 of another family.
    bays : int
        None in a dome: 0.
    kind : str
        What else tells it apart: ``symmetry 6, rows along``, ``lamella``; empty of a dome.
    hubs, struts, types : int
        Types are different strut lengths, to half a millimetre.
    longest : float, m
    width, rise : float, m
    fits : bool
        Whether the longest strut keeps within the bound.
    spec : DomeSpec or None
        What a dome is made from.
    """

    shell: Shell
    family: str
    seed: str
    division: tuple[int, int]
    truncation: int
    bays: int
    kind: str
    hubs: int
    struts: int
    types: int
    longest: float
    width: float
    rise: float
    fits: bool
    spec: DomeSpec | None = None


def count_lengths(shell: Shell) -> int:
    """Return how many strut lengths `shell` has, to half a millimetre."""
    lengths = np.sort(node_lengths(shell))
    return int((np.diff(lengths) > SAME_LENGTH).sum()) + 1


def dome_alternatives(
    sizes: Sizes, longest: float | None = None, spec: DomeSpec | None = None
) -> tuple[Alternative, ...]:
    """Return domes of `sizes`, the one to choose first; at least three.

    Vertex-up class I domes of the icosahedron and the octahedron, cut where rise over width comes
    nearest to the wish (in half where none is given); the rise is scaled where the cut does not
    give it. First come those whose longest strut keeps within its bound, fewest struts first,
    then the others, shortest longest strut first; in both, domes whose height is not scaled come
    before those whose height is, as scaling makes many lengths.

    Parameters
    ----------
    sizes : Sizes
    longest : float or None, m
        Longest strut that stock and carrier allow; the wish in `sizes` counts too.
    spec : DomeSpec or None
        Point law and way of levelling to keep.

    Raises
    ------
    InputError
        ``size-*``: as for a dome.
    """
    bounds = [b for b in (sizes.longest_strut, longest) if b is not None]
    bound = min(bounds, default=FITTING_STRUT)
    wish = sizes if _sets_size(sizes) else replace(sizes, longest_strut=bound)
    if _sets_size(sizes):
        wish = replace(sizes, longest_strut=None)
    found: dict[tuple[str, tuple[int, int], int], Alternative] = {}
    refused: InputError | None = None
    for trial in _trials(wish, bound, spec or DomeSpec()):
        try:
            choice = _alternative(cut_for(trial), bound)
        except InputError as error:
            refused = error
            continue
        found.setdefault((choice.seed, choice.division, choice.truncation), choice)
    if not found:
        raise refused or InputError("size-missing", "no size is given", "size", "give the width")
    return tuple(sorted(found.values(), key=rank))


def division_for(spec: DomeSpec, bound: float, *, suit_rise: bool = False) -> tuple[int, int]:
    """Return the coarsest class I division of `spec` whose longest strut keeps within `bound`, m.

    The finest there is when none does. With `suit_rise` each is cut where it suits the rise.
    """
    for frequency in range(1, HIGHEST_FREQUENCY + 1):
        trial = replace(spec, division=(frequency, 0))
        try:
            shell = dome(replace(trial, truncation=nearest_cut(trial)) if suit_rise else trial)
        except InputError as error:
            if error.code not in {"shape-truncation", "size-contradiction"}:
                raise
            if error.code == "shape-truncation" and _is_fine(trial, bound):
                raise _beyond(trial, error) from None
            continue
        if node_lengths(shell).max() <= bound:
            return frequency, 0
    return HIGHEST_FREQUENCY, 0


def _is_fine(trial: DomeSpec, bound: float) -> bool:
    """Return whether struts of half a sphere of `trial` keep within `bound`, m."""
    try:
        half = dome(replace(trial, truncation="1/2"))
    except InputError:
        return False
    return float(node_lengths(half).max()) <= bound


def _beyond(trial: DomeSpec, error: InputError) -> InputError:
    """Return the refusal of a cut that no division with usual struts has."""
    (problem,) = error.problems
    what = f"{problem.what}, at division {list(trial.division)}, whose struts are short enough"
    mend = f"{problem.mend}, or give a finer division"
    return InputError(problem.code, what, problem.where, mend)


def nearest_cut(spec: DomeSpec) -> int:
    """Return the courses to keep for the wished rise over width, or for half a sphere."""
    wish = spec.sizes or Sizes()
    ratio = 0.5 if wish.width is None or wish.rise is None else wish.rise / wish.width
    return min(cut_ratios(spec), key=lambda cut: abs(cut[1] - ratio))[0]


def _sets_size(sizes: Sizes) -> bool:
    given = (sizes.width, sizes.rise, sizes.floor_area, sizes.headroom)
    return any(value is not None for value in given)


def _trials(wish: Sizes, bound: float, like: DomeSpec) -> Iterator[DomeSpec]:
    for seed, chord in LONGEST_CHORD.items():
        start = DomeSpec(None, seed, (2, 0), like.point_law, sizes=wish, level_base=like.level_base)
        plain = replace(wish, rise=wish.rise if wish.width is None else None, headroom=None)
        if not _sets_size(plain) and wish.longest_strut is None:
            plain = wish
        radius = dome(replace(start, sizes=plain)).recipe.radius or 1.0
        middle = int(np.clip(np.ceil(chord * radius / bound), 1, HIGHEST_FREQUENCY))
        finest = min(middle + FINER, HIGHEST_FREQUENCY) if seed == "icosahedron" else middle
        for frequency in range(max(1, middle - COARSER), finest + 1):
            yield replace(start, division=(frequency, 0))


def rank(choice: Alternative) -> tuple[bool, bool, float]:
    """Return the key by which alternatives are put in order, the one to choose first."""
    if not choice.fits:
        return True, choice.spec is not None and choice.spec.scale_rise, choice.longest
    return False, choice.spec is not None and choice.spec.scale_rise, choice.struts


def cut_for(spec: DomeSpec) -> DomeSpec:
    """Return `spec` cut where it comes nearest to the wished rise over width, or in half.

    The rise is scaled where that cut does not give it.
    """
    plain = replace(spec, truncation=nearest_cut(spec))
    try:
        dome(plain)
    except InputError as error:
        if error.code != "size-contradiction":
            raise
        return replace(plain, scale_rise=True)
    return plain


def _alternative(spec: DomeSpec, bound: float) -> Alternative:
    return alternative(dome(spec), bound, spec)


def alternative(shell: Shell, bound: float, spec: DomeSpec | None = None) -> Alternative:
    """Return what is to be known of `shell` for choosing; `bound` is of its struts, m."""
    settings, family = shell.recipe.settings, shell.recipe.family
    longest = float(node_lengths(shell).max())
    b, c = settings.get("division") or (settings.get("gaps", 0), 0)
    kinds = [f"symmetry {settings['cap_symmetry']}"] if "cap_symmetry" in settings else []
    kinds += [f"rows {settings['rows']}"] if "rows" in settings else []
    kinds += [str(settings["grid"])] if "grid" in settings else []
    return Alternative(
        shell=shell,
        family=family,
        seed=str(settings.get("seed", "")),
        division=(int(b), int(c)),
        truncation=int(settings.get("courses", 0)) if family == "dome" else 0,
        bays=int(settings.get("bays", 0)),
        kind=", ".join(kinds),
        hubs=len(shell.hubs),
        struts=len(shell.struts),
        types=count_lengths(shell),
        longest=longest,
        width=width(shell),
        rise=float(shell.hubs[:, 2].max()),
        fits=longest <= bound * (1 + AGREE),
        spec=spec,
    )
