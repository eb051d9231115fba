"""From a Document to the bytes of a tagged PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from importlib.resources import files
from typing import Any

from strutwright.documents.blocks import (
    Block,
    Card,
    Document,
)
from strutwright.errors import ResultError
from strutwright.values import canonical_json

__all__ = ["compiled", "document_text", "typeset"]

ROOM = files("strutwright.documents")


def typeset(document: Document) -> bytes:
    """Return `document` as PDF (PDF/UA-1); the same document gives the same bytes.

    Raises
    ------
    ResultError
        The typesetter refused: a glyph that the fonts lack, a picture without its text.
    """
    return compiled("document.typ", _data(document), document.pictures, document.title)


def compiled(
    template: str, data: Mapping[str, Any], pictures: Mapping[str, bytes], title: str
) -> bytes:
    """Return `data` and `pictures` (SVG by name) laid out by `template` as PDF (PDF/UA-1).

    Raises
    ------
    ResultError
        ``typeset-failed``, naming `title`.
    """
    import typst  # heavy (0.1 s), and needed by this function alone

    sources: dict[str, bytes] = {
        "main.typ": (ROOM / "templates" / template).read_bytes(),
        "document.json": canonical_json(data).encode(),
    }
    sources |= {f"pictures/{name}.svg": content for name, content in pictures.items()}
    try:
        pdf: bytes = typst.compile(
            sources,  # type: ignore[call-overload]  # its stubs lack the in-memory form
            format="pdf",
            font_paths=[str(ROOM / "fonts")],
            ignore_system_fonts=True,
            pdf_standards=["ua-1"],
        )
    except typst.TypstError as error:
        raise ResultError(
            "typeset-failed",
            f"the page could not be set: {error}",
            title,
            "report this brief: it is a fault of the program",
        ) from error
    return pdf


def _data(document: Document) -> dict[str, Any]:
    data = {
        field.name: getattr(document, field.name)
        for field in fields(document)
        if field.name not in {"blocks", "pictures", "cover"}
    }
    data["cover"] = _open(document.cover) if document.cover else None
    data["blocks"] = [_open(block) for block in document.blocks]
    return data


def _open(block: Block | Card) -> dict[str, Any]:
    data: dict[str, Any] = {"kind": type(block).__name__.lower()}
    for field in fields(block):
        data[field.name] = _cell(getattr(block, field.name))
    return data


def _cell(value: object) -> object:
    if isinstance(value, Card | Block):
        return _open(value)
    if isinstance(value, tuple):
        return [_cell(item) for item in value]
    return value


def document_text(document: Document) -> str:
    """Return the words and numbers of `document` as plain lines, for comparison in tests."""
    lines = [f"{document.title} | {document.kit} | {document.stamp}", *document.lead]
    for block in document.blocks:
        lines.extend(_lines(block))
    return "\n".join(lines) + "\n"


def _lines(block: Block) -> list[str]:
    data = _open(block)
    kind = data.pop("kind")
    flat = [f"[{kind}]"]
    for value in data.values():
        if isinstance(value, list):
            flat.extend("  " + canonical_json(item) for item in value)
        else:
            flat.append(f"  {value}")
    return flat
