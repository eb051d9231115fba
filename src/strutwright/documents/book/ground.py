"""The ground's chapter: slope, legs, anchors, the order of staking."""

from __future__ import annotations

import math
from typing import Final

from strutwright.catalogue import anchor
from strutwright.design import Design
from strutwright.documents.blocks import Block, Bullets, Heading, NewPage, Paragraph, Table
from strutwright.documents.reader import Reader
from strutwright.site import AnchorPlan, Terrain, legs_of
from strutwright.units import show_share

__all__ = ["ground_chapter"]

POST_DEPTH: Final = 0.6
"""m that a post is dug in where frost asks for no more: common practice, no source."""
POST_FREE: Final = 0.8
"""m above the ground from which a post is braced as a leg is: our choice."""


def ground_chapter(design: Design, reader: Reader) -> tuple[Block, ...]:
    """Return the chapter; nothing where neither slope nor anchors were worked out."""
    blocks: list[Block] = []
    if design.terrain is not None:
        blocks += _slope(design, design.terrain, reader)
    if legs := legs_of(design.shell):
        head = tuple(reader(f"ground.{key}_head") for key in ("hub", "leg", "bracing"))
        rows = tuple(
            (str(leg.hub), reader.length(leg.length), reader("ground.both") if leg.braced else "")
            for leg in legs
        )
        blocks.append(Table(head, rows, "rrl", reader("ground.legs")))
    if design.anchors is not None and design.anchors.hubs:
        blocks += _anchors(design.anchors, reader, design.shell.recipe.family)
    if not blocks:
        return ()
    return (Heading(1, reader("ground.title")), *blocks, NewPage())


def _slope(design: Design, ground: Terrain, reader: Reader) -> list[Block]:
    bearing = math.degrees(math.pi / 2 + design.brief.site.north - ground.downhill) % 360
    items = [
        reader(
            "ground.slope",
            gradient=show_share(ground.gradient, decimals=1),
            bearing=f"{bearing:.0f}°",
            fall=reader.length(ground.fall),
        ),
        reader(
            "ground.readings",
            enough=ground.enough,
            sigma=reader.length(1.96 * ground.sigma),
            detectable=reader.length(ground.detectable),
        ),
        reader("ground.terrace", volume=reader.quantity(ground.terrace, "volume")),
        *_posts(design, reader),
        reader("ground.tape"),
    ]
    sheet = design.setting_out
    head = tuple(reader(f"ground.{key}_head") for key in ("hub", "peg", "more", "peg", "more"))
    rows = tuple(
        (str(row.hub), row.a, reader.length(float(a)), row.b, reader.length(float(b)))
        for row, (a, b) in zip(sheet.rows, ground.too_long, strict=True)
    )
    blunders = reader.notes(n for n in design.notes if n.code.startswith(("levels-", "legs-")))
    return [
        Bullets((*items, *blunders)),
        Table(head, rows, "rcrcr", reader("ground.too_long")),
    ]


def _posts(design: Design, reader: Reader) -> tuple[str, ...]:
    """Return how long posts in the ground would be in place of legs; nothing without legs."""
    legs = legs_of(design.shell)
    if not legs:
        return ()
    depth = max(POST_DEPTH, design.brief.site.frost or 0.0)
    longest = depth + max(leg.length for leg in legs)
    said = {"depth": depth, "longest": longest, "free": POST_FREE}
    return (reader("ground.posts", **{key: reader.length(value) for key, value in said.items()}),)


def _anchors(plan: AnchorPlan, reader: Reader, family: str) -> list[Block]:
    names = dict.fromkeys(row.anchor for row in plan.hubs)
    blocks: list[Block] = [Heading(2, reader("ground.anchors_title"))]
    blocks += [
        Paragraph(reader("ground.anchor", name=anchor(name).name), "limit") for name in names
    ]
    remarks = tuple(remark for name in names for remark in anchor(name).remarks)
    notes = reader.notes(plan.notes)
    blocks.append(Bullets((*notes, *remarks, reader("ground.pull_test"))))
    has_torque = any(row.torque is not None for row in plan.hubs)
    several = len(names) > 1
    keys = [
        "hub", *(["kind"] if several else []), "up", "side", "demand", "number",
        *(["torque"] if has_torque else []),
    ]  # fmt: skip
    head = tuple(reader(f"ground.{key}_head") for key in keys)
    rows = []
    for row in plan.hubs:
        kind = [anchor(row.anchor).name] if several else []
        cells = [
            str(row.hub), *kind, reader.force(row.uplift), reader.force(row.horizontal),
            reader.force(row.demand), str(row.quantity),
        ]  # fmt: skip
        if has_torque:
            cells.append(reader.quantity(row.torque, "moment") if row.torque else "")
        rows.append(tuple(cells))
    align = "".join("l" if key == "kind" else "r" for key in keys)
    blocks.append(Table(head, tuple(rows), align, reader("ground.anchors")))
    blocks += _options(plan, reader)
    order = ", ".join(str(hub) for hub in plan.order.tolist())
    blocks.append(
        Paragraph(reader("ground.order" if family == "dome" else "ground.order_long", order=order))
    )
    if plan.ties:
        head = (reader("ground.tie_head"), reader("ground.force_head"))
        ties = tuple((f"{tie.i} - {tie.j}", reader.force(tie.force)) for tie in plan.ties)
        blocks += [
            Paragraph(reader("ground.ties_intro")),
            Table(head, ties, "lr", reader("ground.ties")),
        ]
    return blocks


def _options(plan: AnchorPlan, reader: Reader) -> list[Block]:
    """Return the table of every anchor in this soil, with its safety; nothing for a ballast."""
    rows = []
    for one in plan.options:
        name = anchor(one.anchor).name
        if one.most is None:
            rows.append((name, one.why, "", "", ""))
        else:
            rows.append(
                (name, reader.force(one.up), reader.force(one.side), f"{one.safety:g}",
                 str(one.most))
            )  # fmt: skip
    if not rows:
        return []
    head = tuple(reader(f"ground.{key}_head") for key in ("anchor", "up", "side", "safety", "most"))
    return [Table(head, tuple(rows), "llrrr", reader("ground.options"))]
