"""Tables and the connection; the schema is made by migrations, one step after the other."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Any, Final

import sqlalchemy as sa

from strutwright.errors import InputError

__all__ = ["ORDERS", "PRICES", "RACK", "STEPS", "Records", "open_records"]

META: Final = sa.MetaData()
RACK: Final = sa.Table(
    "rack",
    META,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("name", sa.Text, nullable=False, server_default=""),
    sa.Column("stock", sa.Text, nullable=False),
    sa.Column("length", sa.Float, nullable=False),
    sa.Column("price", sa.Float),
    sa.Column("unusable", sa.Text, nullable=False, server_default="[]"),
    sa.Column("taken_by", sa.Text),
    sa.Column("came_from", sa.Integer),
)
"""One row a bar or offcut; `taken_by` names the job that sawed it, `came_from` the bar before."""
ORDERS: Final = sa.Table(
    "orders",
    META,
    sa.Column("number", sa.Integer, primary_key=True),
    sa.Column("kit", sa.Text, nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("brief", sa.Text, nullable=False),
    sa.Column("version", sa.Text, nullable=False),
    sa.Column("catalogue", sa.Text, nullable=False),
    sa.Column("parts", sa.Text, nullable=False),
)
"""One row an order: the brief as read, tool and catalogue version, kit number, the parts."""
PRICES: Final = sa.Table(
    "prices",
    META,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("list", sa.Text, nullable=False),
    sa.Column("item", sa.Text, nullable=False),
    sa.Column("price", sa.Numeric(12, 4), nullable=False),
    sa.UniqueConstraint("list", "item"),
)
"""Price lists by name."""
_STATE: Final = sa.Table("state", sa.MetaData(), sa.Column("step", sa.Integer, nullable=False))


def _first(connection: sa.Connection) -> None:
    META.create_all(connection)


STEPS: Final[tuple[Callable[[sa.Connection], None], ...]] = (_first,)
"""Migrations in order; a step that was shipped is never changed."""


@dataclass(frozen=True)
class Records:
    """An open set of records."""

    engine: sa.Engine

    def begin(self) -> AbstractContextManager[sa.Connection]:
        """Return a transaction: all of it is kept, or nothing."""
        return self.engine.begin()


def open_records(where: str = "workshop.sqlite") -> Records:
    """Return the records at `where`: a file (SQLite) or a URL such as ``postgresql://...``.

    Raises
    ------
    InputError
        ``records-unreachable``, or ``records-newer``: made by a later version.
    """
    url = where if "://" in where else f"sqlite:///{where}"
    if url.startswith("postgresql://"):
        url = url.replace("postgresql://", "postgresql+psycopg://", 1)
    try:
        engine = sa.create_engine(url, poolclass=sa.pool.NullPool)
        if engine.dialect.name == "sqlite":
            _lock_on_begin(engine)
        with engine.begin() as connection:
            _migrate(connection, where)
    except (sa.exc.SQLAlchemyError, ImportError) as error:
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise InputError(
            "records-unreachable", f"the records cannot be opened: {reason}", where,
            "name a file in a folder that exists, or a URL that a server answers",
        ) from error  # fmt: skip
    return Records(engine)


def _lock_on_begin(engine: sa.Engine) -> None:
    """Make a SQLite transaction take the write lock at once: two seats never read one bar free."""

    def plain(connection: Any, _: object) -> None:  # noqa: ANN401 - the driver's own
        connection.isolation_level = None

    def begin(connection: sa.Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    sa.event.listen(engine, "connect", plain)
    sa.event.listen(engine, "begin", begin)


def _migrate(connection: sa.Connection, where: str) -> None:
    _STATE.create(connection, checkfirst=True)
    done = connection.execute(sa.select(_STATE.c.step)).scalar()
    if done is not None and done > len(STEPS):
        raise InputError(
            "records-newer", f"the records are of step {done}, this version knows {len(STEPS)}",
            where, "use the version that made them, or a later one",
        )  # fmt: skip
    for step in STEPS[done or 0 :]:
        step(connection)
    connection.execute(_STATE.delete())
    connection.execute(_STATE.insert().values(step=len(STEPS)))
