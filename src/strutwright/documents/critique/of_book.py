"""Rules for the whole book: safety, limits, words, type, pictures, chapters, languages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from typing import Final

from strutwright.design import kit_number
from strutwright.documents.blocks import (
    SIGNALS,
    Bullets,
    Caution,
    Heading,
    Paragraph,
    Table,
    Together,
)
from strutwright.documents.book.front import stamp
from strutwright.documents.critique.finding import Case, Finding, figures_of, flat, texts_of
from strutwright.documents.critique.glyphs import known_characters
from strutwright.documents.words import messages
from strutwright.sentences import LANGUAGES

__all__ = ["BOOK_RULES"]

MOST_WORDS: Final = 20
LEAST_TYPE: Final = 10.0
LEAST_LIMIT: Final = 12.0
"""Points of running text and of limits and warnings. Source: ISO/IEC Guide 37:2012, d)."""
LEAST_CONTRAST: Final = 4.5
OTHER_TERMS: Final = {
    "en": re.compile(r"\b(vertex|vertices|poles?|tiers?|layers?|nodes?)\b", re.IGNORECASE),
    "de": re.compile(r"\b(Naben?|Stangen?|Streben|Lagen?|Schichten?|Etagen?)\b"),
    "es": re.compile(r"\b(nodos?|varillas?|v[ée]rtices?|capas?|pisos?)\b", re.IGNORECASE),
}
"""Words for what the book calls hub, strut and course."""
PASSIVE: Final = {
    "en": re.compile(r"\b(?:is|are|be|been|being)\s+(?:\w+ed|put|set|laid|held|driven)\b"),
    "de": re.compile(r"\b(?:wird|werden|worden)\b"),
    "es": re.compile(r"\b(?:es|son|ser|será|serán|sea|sean)\s+\w+[ai]d[oa]s?\b"),
}
"""What a step is told to do has an imperative. Source: ISO 20607:2019, annex C, second-hand."""
CHAPTERS: Final = (
    "cautions.title", "crew.title", "crew.tools", "parts.title", "ring.title",
    "ring.ground_title", "steps.title",
    "steps.done_title", "hubs.title", "after.title", "after.care_title", "after.change_title",
    "after.spare_title", "after.store_title", "after.waste_title", "after.left_title",
)  # fmt: skip


def safety(case: Case) -> Iterator[Finding]:
    """Ask for safety before step 1, whole messages, and the gravest first."""
    blocks = case.book.blocks
    first = next((k for k, b in enumerate(blocks) if isinstance(b, Together)), len(blocks))
    grouped = [block for block in blocks[:first] if isinstance(block, Caution)]
    if not grouped:
        yield Finding("safety-first", "front", "no safety message stands before step 1")
    ranks = [SIGNALS.index(one.word) for one in grouped if one.word in SIGNALS]
    if ranks != sorted(ranks):
        yield Finding("severity-order", "front", "messages are not sorted by severity")
    words = {word: case.reader(f"signals.{word.lower()}") for word in SIGNALS}
    if dict(case.book.signals) != words:
        yield Finding("signal-language", "messages", f"they say {dict(case.book.signals)}")
    for block in flat(case.book):
        if not isinstance(block, Caution):
            continue
        if block.word not in SIGNALS:
            yield Finding("signal-word", block.hazard, f"{block.word!r} is no signal word")
        if not (block.hazard and block.consequence and block.avoidance):
            yield Finding(
                "message-whole", block.word, "hazard, consequence or avoidance is missing"
            )


def limits(case: Case) -> Iterator[Finding]:
    """Hold the limits to the calculation, climbing to forbidden, the stamp to the verdict."""
    reader, brief = case.reader, case.design.brief
    wanted = [reader.force(brief.loads.hung), reader("cautions.limit_climb_value")]
    if brief.site.ground_snow is not None:
        wanted.append(reader.pressure(brief.site.ground_snow))
    if brief.site.basic_wind is not None:
        wanted.append(reader.speed(brief.site.basic_wind.value))
    said = "\n".join(text for b in case.book.blocks if isinstance(b, Table) for text in texts_of(b))
    for text in wanted:
        if text not in said:
            yield Finding("limits", "limits of the kit", f"{text} is not there")
    if case.book.stamp != stamp(case.design, reader):
        yield Finding("stamp", "every page", f"it says {case.book.stamp!r}")


def chapters(case: Case) -> Iterator[Finding]:
    """Ask for every chapter, a table of contents and page numbers."""
    heads = {block.text for block in flat(case.book) if isinstance(block, Heading)}
    for key in CHAPTERS:
        if case.reader(key) not in heads:
            yield Finding("chapter", key, "it is missing")
    if not (case.book.contents and case.book.foot.get("sheet") and case.book.foot.get("of")):
        yield Finding("pages", "every page", "contents or page x of y is missing")
    if not (case.book.kit and case.book.foot.get("version") and case.book.cover):
        yield Finding("cover", "cover", "kit, version or picture is missing")
    if not any(kit_number(case.design.brief) in line for line in case.book.lead):
        yield Finding("cover", "cover", "the number of the kit is missing")


def sentences(case: Case) -> Iterator[Finding]:
    """Ask for short sentences in one set of terms."""
    language = case.reader.words.language
    for block in _instructions(case):
        for text in texts_of(block):
            for sentence in re.split(r"(?<=[.!?:;]) ", text):
                count = len(re.findall(r"[^\W\d_]{2,}", sentence))
                if count > MOST_WORDS:
                    yield Finding("sentence-length", sentence[:40], f"{count} words")
            if other := OTHER_TERMS[language].search(text):
                yield Finding("one-term", text[:40], f"{other.group()!r} is not our word for it")
        if isinstance(block, Bullets):
            for text in texts_of(block):
                if passive := PASSIVE[language].search(text):
                    yield Finding("active-voice", text[:40], f"{passive.group()!r}")


def _instructions(case: Case) -> Iterator[Caution | Bullets | Paragraph]:
    for block in case.book.blocks:
        if isinstance(block, Together):
            yield from (b for b in block.blocks if isinstance(b, Caution | Bullets))
            yield from (b for b in block.blocks if isinstance(b, Paragraph) and b.weight == "limit")
        elif isinstance(block, Caution) or (isinstance(block, Bullets) and block.numbered):
            yield block


def pictures(case: Case) -> Iterator[Finding]:
    """Ask for every figure and its text."""
    for block in flat(case.book):
        for figure in figures_of(block):
            if figure.picture not in case.book.pictures:
                yield Finding("picture", figure.picture, "it is not there")
            if len(figure.alt.split()) < 2:
                yield Finding("alt-text", figure.picture, "it has no text")


def signs(case: Case) -> Iterator[Finding]:
    """Ask for letter and bands on every strut type: colour only helps."""
    kinds = case.design.kit.strut_types
    if len({kind.label for kind in kinds}) < len(kinds) or not all(k.band for k in kinds):
        yield Finding("colour-alone", "strut types", "a type has no letter or band of its own")


def both_units(case: Case) -> Iterator[Finding]:
    """Ask for inches beside millimetres where both systems are shown."""
    if case.reader.system != "both":
        return
    for block in _instructions(case):
        for text in texts_of(block):
            if found := re.search(r"\d mm(?! ?\()", text):
                yield Finding("both-units", text[:40], f"{found.group()} stands alone")


def glyphs(case: Case) -> Iterator[Finding]:
    """Ask for every character in the font."""
    known = known_characters()
    for block in flat(case.book):
        for text in texts_of(block):
            if strange := sorted(set(text) - known):
                yield Finding("glyphs", text[:40], f"the font lacks {strange}")


def typography(_: Case) -> Iterator[Finding]:
    """Ask for type that is large and dark enough."""
    source = (files("strutwright.documents") / "templates" / "document.typ").read_text("utf-8")
    body = re.search(r"#set text\(.*size: ([\d.]+)pt", source)
    if body is None or float(body.group(1)) < LEAST_TYPE:
        yield Finding("type-size", "running text", f"under {LEAST_TYPE:g} pt")
    for line in source.splitlines():
        if "b.avoidance" in line or 'b.weight == "limit"' in line:
            sizes = [float(n) for n in re.findall(r"size: ([\d.]+)pt", line)]
            if min(sizes, default=0.0) < LEAST_LIMIT:
                yield Finding("type-size", "limits and warnings", f"under {LEAST_LIMIT:g} pt")
    colours = dict(re.findall(r'#let (\w+) = rgb\("(#\w+)"\)', source))
    for name in ("ink", "quiet", "alarm"):
        for ground in ("#ffffff", colours.get("tint", "#ffffff")):
            ratio = contrast(colours.get(name, "#ffffff"), ground)
            if ratio < LEAST_CONTRAST:
                yield Finding("contrast", name, f"{ratio:.1f}:1 on {ground}")


def contrast(one: str, two: str) -> float:
    """Return the contrast ratio of two colours as ``#rrggbb``. Source: WCAG 2.2, recalled."""
    high, low = sorted((_luminance(one), _luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def languages(_: Case) -> Iterator[Finding]:
    """Ask for every text in every language."""
    english = set(messages(LANGUAGES[0]))
    for language in LANGUAGES[1:]:
        if missing := english - set(messages(language)):
            yield Finding("languages", language, f"{len(missing)} texts are missing")


BOOK_RULES: Final = (
    safety, limits, chapters, sentences, pictures, signs, both_units, glyphs, typography, languages,
)  # fmt: skip
"""Rules for the whole book."""
