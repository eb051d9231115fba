"""From a brief to the shell of an old kit: from its lines, or recognised by its lengths."""

from __future__ import annotations

from typing import Final

from strutwright.brief import Brief, read_old_kit
from strutwright.errors import InputError, Problem
from strutwright.sentences import Sentence, note, sentence
from strutwright.shape.dome import dome
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.recognise import Match, recognise
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import AGREE, Sizes, measure_sizes
from strutwright.units import show_area, show_length
from strutwright.values import Note

__all__ = ["match_words", "old_shell"]

ALIKE: Final = 0.002
"""m; matches whose misfit is larger than the best by no more than this are named beside it."""
MOST_NAMED: Final = 3


def old_shell(brief: Brief, sizes: Sizes) -> Shell:
    """Return the shell of the old kit whose file `brief` names.

    Raises
    ------
    InputError
        ``import-*`` and ``recognise-*``: the file cannot be used; ``size-contradiction``: it has
        another size than the brief gives.
    """
    shape = brief.shape
    if shape is None or shape.file is None:
        mend = 'write file = "old-kit.csv" under [shape]'
        raise InputError("import-file", "no file is named", "shape.file", mend)
    path = brief.beside(shape.file)
    kit = read_old_kit(path, unit=shape.unit, up=shape.up)
    try:
        if kit.lengths:
            shell = _recognised(kit.lengths, shape.file)
        else:
            shell = shell_from_lines(kit.lines, shape.join)
            shell = shell.with_notes(_what_was_read(shell, shape.file))
    except InputError as error:
        raise InputError.of(
            Problem(p.code, p.what, f"{path.name}, {p.where}", p.mend) for p in error.problems
        ) from None
    _check_sizes(brief, sizes, shell)
    return shell


def _what_was_read(shell: Shell, name: str) -> Note:
    return note(
        "import-read",
        name=name,
        hubs=len(shell.hubs),
        struts=len(shell.struts),
        braces=int((shell.role == "brace").sum()),
        faces=len(shell.faces),
    )


def _recognised(lengths: tuple[tuple[float, int], ...], name: str) -> Shell:
    matches = recognise(lengths)
    best = matches[0]
    others = [match_words(m) for m in matches[1:] if m.misfit <= best.misfit + ALIKE]
    said = note("import-recognised", name=name, dome=match_words(best))
    if others:
        named = tuple(others[:MOST_NAMED])
        said = note("import-recognised.more", name=name, dome=match_words(best), others=named)
    return dome(best.spec).with_notes(said)


def match_words(match: Match) -> Sentence:
    """Return a dome that was recognised, in words."""
    spec = match.spec
    b, c = spec.division
    key = f"dome-recognised.{spec.level_base}"
    return sentence(
        "dome-recognised" if spec.level_base == "none" else key,
        seed=spec.seed,
        b=b,
        c=c,
        law=spec.point_law,
        courses=spec.truncation,
        hubs=match.hubs,
        width=match.width,
        allowance=match.allowance,
        misfit=match.misfit,
    )


def _check_sizes(brief: Brief, sizes: Sizes, shell: Shell) -> None:
    found = measure_sizes(shell, headroom=False)
    problems = []
    for key in ("width", "rise", "floor_area"):
        wish, is_ = getattr(sizes, key), getattr(found, key)
        if wish is not None and abs(is_ - wish) > AGREE * wish:
            show = show_area if key == "floor_area" else show_length
            what = f"the old kit has {key} {show(is_, 'both')}, but {show(wish, 'both')} is given"
            mend = f"leave {key} out: an old kit keeps its size"
            where = brief.where(f"size.{key}")
            problems.append(Problem("size-contradiction", what, where, mend))
    if problems:
        raise InputError.of(problems)
