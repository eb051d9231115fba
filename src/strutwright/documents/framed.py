"""What every document of a kit has in common: its name, its foot, its stamp, its paper."""

from __future__ import annotations

from collections.abc import Mapping

from strutwright.design import Design
from strutwright.documents.blocks import Block, Document
from strutwright.documents.book.front import stamp
from strutwright.documents.reader import Reader
from strutwright.version import __version__

__all__ = ["framed"]


def framed(
    design: Design,
    reader: Reader,
    title: str,
    blocks: tuple[Block, ...],
    pictures: Mapping[str, bytes],
    *,
    date: str = "",
) -> Document:
    """Return a document of the kit without a cover, on the paper of its reader.

    Parameters
    ----------
    design : Design
    reader : Reader
    title : str
    blocks : tuple of Block
    pictures : mapping of str to bytes
        SVG by name.
    date : str
        Printed as given; empty prints none.
    """
    return Document(
        title=title,
        kit=design.brief.project.name,
        blocks=blocks,
        pictures=pictures,
        foot={
            "version": reader("frame.version", version=__version__),
            "units": reader(f"frame.units_{reader.system}"),
            "date": date,
            "sheet": reader("frame.sheet"),
            "of": reader("frame.of"),
        },
        stamp=stamp(design, reader),
        paper="us-letter" if reader.system == "imperial" else "a4",
        language=reader.words.language,
    )
