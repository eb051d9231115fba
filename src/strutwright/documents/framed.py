"""What every document of a kit has in common: its name, its foot, its stamp, its paper."""

from __future__ import annotations

from collections.abc import Mapping

from strutwright.brief import Brief
from strutwright.design import Design
from strutwright.documents.blocks import SIGNALS, Block, Document
from strutwright.documents.book.front import stamp
from strutwright.documents.reader import Reader
from strutwright.version import __version__

__all__ = ["framed", "page_of"]


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
    return page_of(
        design.brief, reader, title, (blocks, pictures), stamp=stamp(design, reader), date=date
    )


def page_of(
    brief: Brief,
    reader: Reader,
    title: str,
    content: tuple[tuple[Block, ...], Mapping[str, bytes]],
    *,
    stamp: str = "",
    date: str = "",
) -> Document:
    """Return a document of the brief alone; `content` are its blocks and its pictures."""
    blocks, pictures = content
    return Document(
        title=title,
        kit=brief.project.name,
        blocks=blocks,
        pictures=pictures,
        foot={
            "version": reader("frame.version", version=__version__),
            "units": reader(f"frame.units_{reader.system}"),
            "date": date,
            "sheet": reader("frame.sheet"),
            "of": reader("frame.of"),
        },
        stamp=stamp,
        paper="us-letter" if reader.system == "imperial" else "a4",
        language=reader.words.language,
        signals={word: reader(f"signals.{word.lower()}") for word in SIGNALS},
    )
