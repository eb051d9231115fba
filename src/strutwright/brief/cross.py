"""Faults that show only when two keys of a brief are seen together."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePosixPath
from typing import Final

from strutwright.brief.schema_file import BriefTable
from strutwright.brief.tables import HubsTable, ShapeTable, SizeTable, StockInline
from strutwright.brief.tables_site import CoverTable, OpeningTable, SiteTable
from strutwright.errors import Problem
from strutwright.units import show_length

__all__ = ["contradictions"]

WIND_BASIS: Final = {"en": "10 min mean", "asce7-16": "3 s gust", "asce7-22": "3 s gust"}
"""Averaging time of the basic wind speed. Source: EN 1991-1-4, 4.2 (10 minutes mean, 10 m above
ground); ASCE 7, 26.2 (3-second gust, 10 m above ground, exposure C)."""
EXPOSURES: Final = {
    "en": ("0", "I", "II", "III", "IV"),  # EN 1991-1-4, table 4.1
    "asce7-16": ("B", "C", "D"),  # ASCE 7, 26.7.3
    "asce7-22": ("B", "C", "D"),
}
CONSEQUENCES: Final = {
    "en": ("CC1", "CC2", "CC3"),  # EN 1990, table B1
    "asce7-16": ("I", "II", "III", "IV"),  # ASCE 7, table 1.5-1
    "asce7-22": ("I", "II", "III", "IV"),
}
_ONLY_IN: Final = {
    "bays": ("long-dome", "vault"),
    "cap_symmetry": ("long-dome",),
    "rows": ("long-dome",),
    "profile": ("long-dome", "vault"),
    "grid": ("vault",),
    "side_walls": ("vault",),
    "ends": ("vault",),
    "file": ("imported",),
    "unit": ("imported",),
    "up": ("imported",),
    "join": ("imported",),
}
_OF_IMPORTED: Final = ("family", "file", "unit", "up", "join", "lengths", "drift")
_PROFILES: Final = {
    "long-dome": ("circle", "ellipse"),
    "vault": ("circle", "parabola", "pointed"),
}


def contradictions(table: BriefTable) -> Iterator[Problem]:
    """Yield each fault between keys of `table`, where a Problem's `where` is the bare key."""
    is_imported = table.shape is not None and table.shape.family == "imported"
    yield from _size(table.size, table.site, is_imported=is_imported)
    if table.shape:
        yield from _shape(table.shape, table.size)
    if table.struts and isinstance(table.struts.stock, StockInline):
        yield from _stock(table.struts.stock)
    if table.site:
        yield from _site(table.site)
    if table.hubs is not None:
        yield from _hubs(table.hubs)
    if table.cover:
        yield from _cover(table.cover)
    for index, opening in enumerate(table.openings):
        yield from _opening(opening, f"openings[{index}]")


def family_of(shape: ShapeTable | None, size: SizeTable) -> str:
    """Return the family that is asked for, or follows from the size."""
    if shape and shape.family:
        return shape.family
    is_long = size.length is not None and size.width is not None and size.length > size.width
    return "long-dome" if is_long else "dome"


def _size(size: SizeTable, site: SiteTable | None, *, is_imported: bool) -> Iterator[Problem]:
    enough = (size.width, size.rise, size.floor_area, size.longest_strut, size.headroom)
    if not any(enough) and not is_imported:
        what = "no size is given"
        yield Problem("size-missing", what, "size", 'add width, such as width = "6.0 m"')
    if size.width and size.length and size.length < size.width:
        what = f"length {_mm(size.length)} is shorter than the width {_mm(size.width)}"
        mend = "exchange the two, or leave length out for a dome"
        yield Problem("size-length-short", what, "size.length", mend)
    if size.width and size.rise and size.rise > size.width:
        what = f"rise {_mm(size.rise)} is more than the width {_mm(size.width)}"
        mend = "a half sphere rises half its width; set it on a riser to gain height"
        yield Problem("size-rise-high", what, "size.rise", mend)
    top = (size.rise or 0.0) + ((site.riser if site else None) or 0.0)
    if size.headroom and size.rise and size.headroom > top:
        what = f"headroom {_mm(size.headroom)} is more than the rise with its riser, {_mm(top)}"
        yield Problem("size-headroom-high", what, "size.headroom", "raise rise, or lower headroom")
    free = size.freedom
    least, largest = (free.least, free.largest) if free else (None, None)
    if size.width and least and largest and not least <= size.width <= largest:
        what = f"width {_mm(size.width)} is not from {_mm(least)} to {_mm(largest)}"
        yield Problem("size-freedom", what, "size.freedom", "let the two widths enclose width")


def _shape(shape: ShapeTable, size: SizeTable) -> Iterator[Problem]:
    family = family_of(shape, size)
    if family == "dome" and size.length and size.width and size.length > size.width:
        what = f"a dome is round, and length {_mm(size.length)} is more than width"
        mend = 'write family = "long-dome" or "vault", or leave length out'
        yield Problem("shape-family", what, "shape.family", mend)
    for key, families in _ONLY_IN.items():
        if family == "imported" and "imported" not in families:
            continue  # told with all the others below
        if getattr(shape, key) is not None and family not in families:
            what = f"{key} is for {' and '.join(families)} alone, and the family is {family}"
            mend = f'leave {key} out, or write family = "{families[0]}"'
            yield Problem("shape-key", what, f"shape.{key}", mend)
    if family == "imported":
        yield from _imported(shape)
    known = _PROFILES.get(family)
    if shape.profile and known and shape.profile not in known:
        what = f'a {family} has no profile "{shape.profile}"'
        yield Problem("shape-profile", what, "shape.profile", "write " + " or ".join(known))


def _imported(shape: ShapeTable) -> Iterator[Problem]:
    for key in sorted(shape.model_fields_set - set(_OF_IMPORTED)):
        what = f"{key} is for shapes that are worked out, and this one comes from a file"
        yield Problem("shape-key", what, f"shape.{key}", f"leave {key} out")
    if shape.file is None:
        mend = 'add file = "old-kit.csv", a file beside the brief'
        yield Problem("import-file", "no file is named", "shape.file", mend)
    elif _leaves_the_folder(shape.file):
        what = f'"{shape.file}" does not lie beside the brief'
        mend = "put the file into the brief's folder and write its name"
        yield Problem("import-file", what, "shape.file", mend)


def _stock(stock: StockInline) -> Iterator[Problem]:
    tube = stock.outside is not None
    batten = stock.depth is not None and stock.breadth is not None
    if tube == batten or (stock.depth is None) != (stock.breadth is None):
        what = "a stock is either round (outside) or a batten (depth and breadth)"
        mend = 'write outside = "25 mm", or depth = "70 mm" and breadth = "45 mm"'
        yield Problem("stock-section", what, "struts.stock", mend)
    if stock.outside and stock.wall and stock.wall > stock.outside / 2:
        what = f"wall {_mm(stock.wall)} is more than half the outside {_mm(stock.outside)}"
        mend = "correct the wall; leave it out for a solid bar"
        yield Problem("stock-wall", what, "struts.stock.wall", mend)


def _site(site: SiteTable) -> Iterator[Problem]:
    standard = site.standard or "en"
    basis = WIND_BASIS[standard]
    if site.basic_wind and site.basic_wind.basis != basis:
        what = f'basis "{site.basic_wind.basis}" under {standard}, which uses the {basis}'
        mend = f"take the {basis} from the map of {standard}; a converted value is no map value"
        yield Problem("wind-basis", what, "site.basic_wind.basis", mend)
    for key, known in (
        ("exposure", EXPOSURES[standard]),
        ("consequence", CONSEQUENCES[standard]),
    ):
        word = getattr(site, key)
        if word is not None and word not in known:
            what = f'{key} "{word}" is none of {standard}'
            mend = "write one of " + ", ".join(f'"{each}"' for each in known)
            yield Problem(f"site-{key}", what, f"site.{key}", mend)
    if site.levels and _leaves_the_folder(site.levels):
        what = f'"{site.levels}" does not lie beside the brief'
        mend = "put the file into the brief's folder and write its name"
        yield Problem("levels-path", what, "site.levels", mend)
    if site.dome_table and _leaves_the_folder(site.dome_table):
        what = f'"{site.dome_table}" does not lie beside the brief'
        mend = "put the file into the brief's folder and write its name"
        yield Problem("dome-table", what, "site.dome_table", mend)


def _hubs(hubs: HubsTable) -> Iterator[Problem]:
    if hubs.test_file and _leaves_the_folder(hubs.test_file):
        what = f'"{hubs.test_file}" does not lie beside the brief'
        mend = "put the file into the brief's folder and write its name"
        yield Problem("test-file-path", what, "hubs.test_file", mend)


def _leaves_the_folder(name: str) -> bool:
    path = PurePosixPath(name.replace("\\", "/"))
    return path.is_absolute() or ".." in path.parts or ":" in name


def _cover(cover: CoverTable) -> Iterator[Problem]:
    if cover.roll is not None and cover.sheet is not None:
        mend = "leave out the one that is not bought"
        yield Problem("cover-roll-or-sheet", "both roll and sheet are given", "cover.sheet", mend)
    sized = cover.roll or cover.sheet or cover.layers
    if cover.material is None and sized:
        what = "a cover is described, and material is not given"
        mend = 'add material = "pe-film-180", or leave the section out for a bare frame'
        yield Problem("cover-material-missing", what, "cover.material", mend)


def _opening(opening: OpeningTable, place: str) -> Iterator[Problem]:
    has_size = opening.width is not None and opening.height is not None
    needs = {
        "door": ("width and height", has_size),
        "slot": ("width", opening.width is not None),
        "vent": ("share, or width and height", has_size or opening.share is not None),
    }
    wanted, is_there = needs[opening.kind]
    if not is_there:
        what = f"a {opening.kind} needs {wanted}"
        yield Problem("opening-size", what, place, f"add {wanted}")
    for key in ("share", "place"):
        if opening.kind != "vent" and getattr(opening, key) is not None:
            what = f"{key} is for vents alone"
            mend = f'leave {key} out, or write kind = "vent"'
            yield Problem("opening-key", what, f"{place}.{key}", mend)


def _mm(metres: float) -> str:
    return show_length(metres)
