"""``strutwright price`` and ``strutwright quote``: price lists and quotes at them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from strutwright.brief import read_brief
from strutwright.brief.price_file import read_prices
from strutwright.cli.records import DEFAULT, Where
from strutwright.cli.shown import Bar, note_line
from strutwright.design import run
from strutwright.design.priced import priced_anew
from strutwright.documents import build_quote, typeset
from strutwright.saving import save_file
from strutwright.store import get_prices, list_price_lists, open_records, set_prices

__all__ = ["register"]


def register(app: typer.Typer) -> None:
    """Add the commands of this family to `app`."""
    price = typer.Typer(help="Price lists of the workshop.", no_args_is_help=True)
    price.command("set")(price_set)
    price.command("list")(price_list)
    app.add_typer(price, name="price")
    app.command("quote")(quote)


def price_set(
    name: Annotated[str, typer.Argument(help="Name of the list, such as 2026-autumn.")],
    file: Annotated[Path, typer.Argument(help="A CSV file: item,price.")],
    records: Where = DEFAULT,
) -> None:
    """Put the prices of a file in the place of what a list held."""
    prices = read_prices(file)
    set_prices(open_records(records), name, prices)
    print(f"{len(prices)} prices in list {name}")


def price_list(
    name: Annotated[str, typer.Argument(help="Name of the list; without it all are named.")] = "",
    records: Where = DEFAULT,
) -> None:
    """Print a price list, or the names of all."""
    held = open_records(records)
    if not name:
        for known, n in list_price_lists(held).items():
            print(f"{known}  {n} items")
        return
    print("item,price")
    for item, price in get_prices(held, name).items():
        print(f'"{item}",{price.normalize():f}')


def quote(
    brief: Annotated[Path, typer.Argument(help="The brief, a TOML file.")],
    prices: Annotated[str, typer.Option(help="Name of the price list.")],
    out: Annotated[Path, typer.Option(help="PDF to write.")] = Path("quote.pdf"),
    records: Where = DEFAULT,
) -> None:
    """Write the quote of a brief at the prices of a list."""
    known = get_prices(open_records(records), prices)
    bar = Bar(sys.stderr)
    design = run(read_brief(brief), bar)
    bar.close()
    priced, unused = priced_anew(design, known)
    save_file(out, typeset(build_quote(priced)))
    for note in priced.price.notes:
        sys.stderr.write(f"{note_line(note, priced.brief.project.show)}\n")
    if unused:
        print(f"Not in this kit: {', '.join(unused)}")
    print(f"{priced.price.currency} {priced.price.total}: {out}")
