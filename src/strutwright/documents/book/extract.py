"""Single pages for the phone: one step, what a hub joins, where a strut type goes."""

from __future__ import annotations

from strutwright.design import Design
from strutwright.documents.blocks import Block, Document, Figure, Heading, Table
from strutwright.documents.book.after import hub_table, strut_table
from strutwright.documents.book.step_pictures import hub_picture, step_pictures
from strutwright.documents.book.steps import step_blocks
from strutwright.documents.framed import framed
from strutwright.documents.pictures import kit_signs
from strutwright.documents.reader import Reader
from strutwright.drawing import svg
from strutwright.errors import InputError

__all__ = ["hub_page", "left_over_page", "step_page"]


def step_page(design: Design, number: int) -> Document:
    """Return the page of one step.

    Raises
    ------
    InputError
        ``no-such-step``: the sequence has no step of that number.
    """
    steps = design.sequence.steps
    if not 1 <= number <= len(steps):
        raise InputError(
            "no-such-step", f"step {number} is not one of 1 to {len(steps)}", "--step",
            "give the number that stands in the book",
        )  # fmt: skip
    reader = Reader.of(design)
    blocks = step_blocks(design, reader, steps[number - 1])
    sheets = step_pictures(design, reader, kit_signs(design.kit))
    wanted = {f"step-{number}", f"hub-of-{number}"}
    pictures = {name: svg(sheet) for name, sheet in sheets.items() if name in wanted}
    return _page(design, reader, blocks, pictures)


def hub_page(design: Design, hub: int) -> Document:
    """Return the page of one hub: its sockets, and the hubs that its struts go to.

    Raises
    ------
    InputError
        ``no-such-hub``: the shell has no hub of that number.
    """
    count = len(design.shell.hubs)
    if not 0 <= hub < count:
        raise InputError(
            "no-such-hub", f"hub {hub} is not one of 0 to {count - 1}", "--hub",
            "give the number that stands at the hub in the book",
        )  # fmt: skip
    reader = Reader.of(design)
    note = reader("steps.hub_note", hub=hub)
    alt = reader("steps.hub_alt", hub=hub)
    blocks = (
        Heading(1, reader("after.hub_title")),
        hub_table(design, reader, [hub]),
        Figure("hub", alt, note, 120.0),
    )
    return _page(design, reader, blocks, {"hub": svg(hub_picture(design, reader, hub))})


def left_over_page(design: Design, labels: tuple[str, ...]) -> Document:
    """Return where the parts of some strut types go, step by step.

    Raises
    ------
    InputError
        ``no-such-part``: the kit has no strut type of that letter.
    """
    known = {kind.label for kind in design.kit.strut_types}
    if strange := [label for label in labels if label not in known]:
        raise InputError(
            "no-such-part", f"{strange[0]!r} is no strut type of this kit", "--part",
            f"its types are {', '.join(sorted(known))}",
        )  # fmt: skip
    reader = Reader.of(design)
    table: Table = strut_table(design, reader, labels)
    return _page(design, reader, (Heading(1, reader("after.left_title")), table), {})


def _page(
    design: Design, reader: Reader, blocks: tuple[Block, ...], pictures: dict[str, bytes]
) -> Document:
    return framed(
        design,
        reader,
        reader("book.title"),
        blocks,
        pictures,
    )
