"""``strutwright stock``, ``order`` and ``part``: the workshop's records."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import Rack, read_brief, read_rack
from strutwright.cli.cut import plan_lines
from strutwright.cli.shown import Bar, note_line
from strutwright.design import pool_cuts, run
from strutwright.saving import save_file
from strutwright.store import (
    add_bars,
    add_order,
    book_cut,
    export_records,
    find_part,
    get_order,
    import_records,
    list_orders,
    list_rack,
    open_records,
)
from strutwright.units import parse_length, show_length

__all__ = ["register"]

RECORDS = typer.Option("--records", help="A file, or a URL such as postgresql://host/name.")
Where = Annotated[str, RECORDS]
DEFAULT = "workshop.sqlite"


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    stock = typer.Typer(help="The rack of bars and offcuts.", no_args_is_help=True)
    stock.command("list")(stock_list)
    stock.command("add")(stock_add)
    stock.command("cut")(stock_cut)
    stock.command("export")(records_export)
    stock.command("import")(records_import)
    app.add_typer(stock, name="stock")
    order = typer.Typer(help="Orders with their frozen briefs.", no_args_is_help=True)
    order.command("add")(order_add)
    order.command("list")(order_list)
    order.command("show")(order_show)
    app.add_typer(order, name="order")
    app.command("part")(part)


def stock_list(records: Where = DEFAULT) -> None:
    """List what is in the rack."""
    for row in list_rack(open_records(records)):
        price = "" if row.price is None else f"  {row.price:.2f}"
        came = "" if row.came_from is None else f"  from #{row.came_from}"
        print(f"#{row.id}  {row.stock}  {show_length(row.length, 'metric')}{price}{came}")


def stock_add(
    rack: Annotated[Path, typer.Argument(help="Bars to put in, a CSV file.")],
    records: Where = DEFAULT,
) -> None:
    """Put the bars of a CSV file into the rack."""
    read = read_rack(rack)
    for note in read.notes:
        sys.stderr.write(f"{note_line(note)}\n")
    numbers = add_bars(open_records(records), read.bars)
    print(f"{len(numbers)} bars in: #{numbers[0]} to #{numbers[-1]}" if numbers else "0 bars in")


def stock_cut(
    briefs: Annotated[list[Path], typer.Argument(help="Briefs whose kits are cut together.")],
    job: Annotated[str, typer.Option(help="Name of the job that takes the bars.")],
    keep: Annotated[str, typer.Option(help="Least length of a rest that goes in.")] = "400 mm",
    records: Where = DEFAULT,
) -> None:
    """Plan from the rack, take its bars out and put the rests in, all or nothing."""
    held, wishes = open_records(records), [read_brief(path) for path in briefs]
    least = parse_length(keep, "--keep")
    rack = Rack(tuple(row.bar() for row in list_rack(held)), records)
    bar = Bar(sys.stderr)
    plans = pool_cuts(wishes, rack, keep=least, progress=bar)
    bar.close()
    for plan in plans:
        numbers = book_cut(held, plan.plan, job, keep=least)
        for line in plan_lines(plan, wishes):
            print(line)
        print(f"  into the rack: {', '.join(f'#{n}' for n in numbers) or 'nothing'}")


def records_export(
    out: Annotated[Path, typer.Argument(help="File to write.")], records: Where = DEFAULT
) -> None:
    """Write all records to one file."""
    save_file(out, export_records(open_records(records)))
    print(f"Records written: {out}")


def records_import(
    file: Annotated[Path, typer.Argument(help="Exported records.")], records: Where = DEFAULT
) -> None:
    """Read exported records into empty ones."""
    print(f"{import_records(open_records(records), file.read_bytes())} rows read")


def order_add(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    records: Where = DEFAULT,
) -> None:
    """Freeze a brief with its parts as an order."""
    bar = Bar(sys.stderr)
    design = run(read_brief(brief), bar)
    bar.close()
    order = add_order(open_records(records), design)
    print(f"Order {order.number}: {order.name}, kit {order.kit}")


def order_list(records: Where = DEFAULT) -> None:
    """List all orders."""
    for order in list_orders(open_records(records)):
        print(f"{order.number}  {order.name}  kit {order.kit}  strutwright {order.version}")


def order_show(
    number: Annotated[int, typer.Argument(help="Number of the order.")],
    brief: Annotated[
        bool, typer.Option("--brief", help="Print the frozen brief, to build it again.")
    ] = False,
    records: Where = DEFAULT,
) -> None:
    """Print an order: its parts, or the brief as it was."""
    order = get_order(open_records(records), number)
    if brief:
        print(order.brief, end="")
        return
    print(
        f"Order {order.number}: {order.name}, kit {order.kit}, strutwright {order.version}, "
        f"catalogue {order.catalogue}"
    )
    for kind in order.parts["struts"]:
        length = show_length(kind["cut_length"], "metric")
        print(f"  {kind['label']}  {len(kind['ids'])} x {length}")
    for kind in order.parts["hubs"]:
        print(f"  {kind['label']}  {len(kind['ids'])} x {kind['valence']} sockets")


def part(
    order: Annotated[int, typer.Argument(help="Number of the order.")],
    length: Annotated[str, typer.Argument(help='Measured length, such as "1084 mm".')],
    sockets: Annotated[
        int | None, typer.Option(help="Sockets of the hub at one end of it.")
    ] = None,
    within: Annotated[str, typer.Option(help="How far tape and saw may be off.")] = "5 mm",
    records: Where = DEFAULT,
) -> int:
    """Say which part a measured piece is, and where it sits."""
    known = get_order(open_records(records), order)
    least = parse_length(within, "--within")
    found = find_part(known, parse_length(length, "LENGTH"), sockets, least)
    for one in found:
        apart = f"{1000 * one.apart:+.1f} mm"
        print(
            f"{one.label}: sawn {show_length(one.length, 'metric')} ({apart}), courses "
            f"{', '.join(map(str, one.courses))}"
        )
        print("  " + ", ".join(f"strut {s} (hubs {i}-{j})" for s, i, j in one.places))
    if not found:
        print("No part of this order is near that length.")
    return 0 if found else 1
