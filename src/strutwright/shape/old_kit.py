"""From a brief to the shell of an old kit: from its lines, or recognised by its lengths."""

from __future__ import annotations

from typing import Final

from strutwright.brief import Brief, read_old_kit
from strutwright.errors import InputError, Problem
from strutwright.shape.dome import dome
from strutwright.shape.imported import shell_from_lines
from strutwright.shape.recognise import Match, recognise
from strutwright.shape.shell import Shell
from strutwright.shape.sizing import AGREE, Sizes, measure_sizes
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
            shell = shell.with_notes(Note("import-read", _what_was_read(shell, shape.file)))
    except InputError as error:
        raise InputError.of(
            Problem(p.code, p.what, f"{path.name}, {p.where}", p.mend) for p in error.problems
        ) from None
    _check_sizes(brief, sizes, shell)
    return shell


def _what_was_read(shell: Shell, name: str) -> str:
    braces = int((shell.role == "brace").sum())
    return (
        f"{name}: {len(shell.hubs)} hubs, {len(shell.struts)} struts, of them {braces} that bound "
        f"no face, {len(shell.faces)} faces"
    )


def _recognised(lengths: tuple[tuple[float, int], ...], name: str) -> Shell:
    matches = recognise(lengths)
    best = matches[0]
    text = f"{name} is recognised as {match_words(best)}"
    others = [match_words(m) for m in matches[1:] if m.misfit <= best.misfit + ALIKE]
    if others:
        text += "; it may as well be " + ", or ".join(others[:MOST_NAMED])
    return dome(best.spec).with_notes(Note("import-recognised", text))


def match_words(match: Match) -> str:
    """Return a dome that was recognised, in words."""
    spec = match.spec
    return (
        f"a dome of the {spec.seed}, division {list(spec.division)}, point law {spec.point_law}, "
        f"{spec.truncation} courses, {match.hubs} hubs, {match.width:.3f} m wide, joints taking "
        f"{match.allowance * 1000:.0f} mm an end; lengths fit within {match.misfit * 1000:.1f} mm"
    )


def _check_sizes(brief: Brief, sizes: Sizes, shell: Shell) -> None:
    found = measure_sizes(shell, headroom=False)
    problems = []
    for key in ("width", "rise", "floor_area"):
        wish, is_ = getattr(sizes, key), getattr(found, key)
        if wish is not None and abs(is_ - wish) > AGREE * wish:
            what = f"the old kit has {key} {is_:.4g}, but {wish:.4g} is given (m, m2)"
            mend = f"leave {key} out: an old kit keeps its size"
            where = brief.where(f"size.{key}")
            problems.append(Problem("size-contradiction", what, where, mend))
    if problems:
        raise InputError.of(problems)
