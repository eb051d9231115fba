"""Cards for saw, drill and bench: bars with their stops, ends, hubs, labels."""

from __future__ import annotations

import io
from collections import Counter
from itertools import pairwise

from strutwright.design import Design, fixings_of, kit_number
from strutwright.documents.blocks import (
    Block,
    Card,
    Cards,
    Document,
    Figure,
    Heading,
    NewPage,
    Paragraph,
    Table,
)
from strutwright.documents.framed import framed
from strutwright.documents.hub_cards import hub_cards, hub_pictures
from strutwright.documents.pictures import kit_signs, marking
from strutwright.documents.pictures.bars import bars_pictures
from strutwright.documents.pictures.jig import end_jig
from strutwright.documents.reader import Reader
from strutwright.documents.slips import packing_slips
from strutwright.drawing import Sheet, svg
from strutwright.making import EndWork, end_work
from strutwright.parts import EndCut

__all__ = ["build_shop_cards"]


def build_shop_cards(design: Design, *, date: str = "") -> Document:
    """Return the shop cards of `design`."""
    reader = Reader.of(design)
    fixings = fixings_of(design)
    pictures = hub_pictures(design.kit, fixings, reader)
    for sign in kit_signs(design.kit):
        pictures[f"strut-{sign.label}"] = svg(marking(sign))
        pictures[f"code-{sign.label}"] = _code(design, sign.label)
    jigs = _jigs(design, reader)
    pictures |= {name: svg(sheet) for name, sheet in jigs.items()}
    bars = bars_pictures(design.cutting, reader)
    pictures |= {name: svg(sheet) for name, sheet in bars.items()}
    return framed(
        design,
        reader,
        reader("shop.title"),
        (*_saw(design, reader), *_bars(tuple(bars), reader), *_ends(design, tuple(jigs), reader),
                *hub_cards(design.kit, fixings, reader),
                *packing_slips(design.packing, design.sequence, reader),
                *_labels(design, reader)),
        pictures,
        date=date,
    )  # fmt: skip


def _saw(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return a row for every kind of bar, with the stops from its datum end."""
    alike: Counter[tuple[str, float, tuple[tuple[str, float], ...], float]] = Counter()
    for bar in design.cutting.bars:
        cuts = tuple((cut.label, stop) for cut, stop in zip(bar.cuts, bar.stops, strict=True))
        alike[bar.stock, bar.length, cuts, bar.offcut] += 1
    rows = tuple(
        (
            str(number),
            str(count),
            reader.length(length),
            " · ".join(f"{label} {reader.sawn(stop)}" for label, stop in cuts),
            reader.length(rest),
        )
        for number, ((_, length, cuts, rest), count) in enumerate(alike.items(), 1)
    )
    head = tuple(reader(f"shop.{key}_head") for key in ("card", "bars", "bar", "stops", "rest"))
    pieces = [piece for kind in design.kit.strut_types for piece in kind.pieces]
    pieces.sort(key=lambda piece: -piece.length)
    lengths = [piece.length for piece in pieces]
    nearer = ["", *(reader.sawn(a - b) for a, b in pairwise(lengths))]
    totals = tuple(
        (piece.label, str(piece.quantity), reader.sawn(piece.length), less)
        for piece, less in zip(pieces, nearer, strict=True)
    )
    return (
        Heading(1, reader("shop.saw")),
        Paragraph(reader("shop.saw_intro", kerf=reader.length(design.brief.struts.kerf))),
        Table(head, rows, "rrrlr", widths=(0, 0, 0, 1, 0)),
        Table(
            tuple(reader(f"shop.{key}_head") for key in ("strut", "pieces", "stop", "nearer")),
            totals, "lrrr", reader("shop.totals"),
        ),
        NewPage(),
    )  # fmt: skip


def _bars(names: tuple[str, ...], reader: Reader) -> tuple[Block, ...]:
    """Return the picture of all bars, in the order of the cards."""
    figures = (Figure(name, reader("shop.bars_alt", bars=len(names))) for name in names)
    return (Heading(2, reader("shop.all_bars")), *figures, NewPage())


def _jigs(design: Design, reader: Reader) -> dict[str, Sheet]:
    """Return the jig of each strut type that is drilled, by the name of its picture."""
    jigs = {}
    for row in end_work(design.kit):
        title = reader("shop.jig", label=row.label)
        sheet = end_jig(row, reader.sawn, title, reader("shop.jig_alt", label=row.label))
        if sheet is not None:
            jigs[f"jig-{row.label}"] = sheet
    return jigs


def _ends(design: Design, jigs: tuple[str, ...], reader: Reader) -> tuple[Block, ...]:
    rows = tuple(_end_row(row, reader) for row in end_work(design.kit))
    keys = ("strut", "cut", "hole", "from_end", "between", "flattened", "bend")
    head = tuple(reader(f"shop.{key}_head") for key in keys)
    timber: tuple[Block, ...] = ()
    cuts = [
        (kind.label, *(_end_cut(cut, reader) for cut in kind.end_cuts))
        for kind in design.kit.strut_types
        if kind.end_cuts
    ]
    if cuts:
        names = tuple(reader(f"shop.{key}_head") for key in ("strut", "one_end", "other_end"))
        timber = (Table(names, tuple(cuts), "lll", reader("shop.timber")),)
    return (
        Heading(1, reader("shop.ends")),
        Paragraph(reader("shop.ends_intro")),
        Table(head, rows, "lrrrrrr"),
        *timber,
        *((Heading(2, reader("shop.jigs")), Paragraph(reader("shop.jigs_intro"))) if jigs else ()),
        *(Figure(name, reader("shop.jig_alt", label=name.removeprefix("jig-"))) for name in jigs),
        NewPage(),
    )


def _end_cut(cut: EndCut, reader: Reader) -> str:
    bevel = "" if cut.bevel is None else f" / {reader.angle(cut.bevel)}"
    return f"{reader.angle(cut.tilt)}{bevel}"


def _end_row(row: EndWork, reader: Reader) -> tuple[str, ...]:
    def shown(length: float | None) -> str:
        return "" if length is None else reader.length(length)

    bend = "" if row.bend is None else " - ".join(reader.angle(angle) for angle in row.bend)
    return (
        row.label, reader.sawn(row.cut_length), shown(row.hole), shown(row.from_end),
        shown(row.between), shown(row.flattened), bend,
    )  # fmt: skip


def _labels(design: Design, reader: Reader) -> tuple[Block, ...]:
    cards = tuple(
        Card(
            reader("shop.label", label=kind.label, quantity=kind.quantity),
            Figure(f"code-{kind.label}", reader("shop.code_alt", label=kind.label), width=22),
            (
                design.brief.project.name,
                reader("shop.length", cut=_both(kind.cut_length, design, reader)),
                reader("shop.bands", bands=kind.band),
            ),
        )
        for kind in design.kit.strut_types
    )
    return (Heading(1, reader("shop.labels")), Paragraph(reader("shop.labels_intro")),
            Cards(cards, columns=3))  # fmt: skip


def _both(metres: float, design: Design, reader: Reader) -> str:
    both = Reader(reader.words, "both", design.brief.struts.step)
    return both.sawn(metres)


def _code(design: Design, label: str) -> bytes:
    """Return the QR code of a strut type: the number of the kit and the label, as on labels."""
    import segno

    out = io.BytesIO()
    name = f"{kit_number(design.brief)}/{label}"
    segno.make(name, error="m", micro=False).save(out, kind="svg", scale=2, border=2, xmldecl=False)
    return out.getvalue()
