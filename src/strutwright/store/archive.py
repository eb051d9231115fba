"""Export and import of everything as one file."""

from __future__ import annotations

import json
from typing import Any

import sqlalchemy as sa

from strutwright.errors import InputError
from strutwright.store.base import ORDERS, PRICES, RACK, Records

__all__ = ["export_records", "import_records"]

TABLES = (RACK, ORDERS, PRICES)
FORMAT = "strutwright records 1"


def export_records(records: Records) -> bytes:
    """Return everything in `records` as JSON; the same records give the same bytes."""
    data: dict[str, Any] = {"format": FORMAT}
    with records.begin() as connection:
        for table in TABLES:
            key = next(iter(table.primary_key))
            rows = connection.execute(sa.select(table).order_by(key)).mappings()
            data[table.name] = [{k: _plain(v) for k, v in row.items()} for row in rows]
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def _plain(value: Any) -> Any:  # noqa: ANN401 - whatever a column holds
    return value if isinstance(value, int | float | str | None) else str(value)


def import_records(records: Records, data: bytes) -> int:
    """Put everything of `data` into empty `records`, and return the number of rows.

    Raises
    ------
    InputError
        ``records-import``: not such a file, or the records are not empty.
    """
    try:
        content = json.loads(data)
        rows = {table.name: list(content[table.name]) for table in TABLES}
        known = content["format"] == FORMAT
    except (ValueError, KeyError, TypeError) as error:
        raise _refuse("the file holds no exported records") from error
    if not known:
        raise _refuse(f"the file is of the form {content['format']!r}")
    with records.begin() as connection:
        for table in TABLES:
            if connection.execute(sa.select(sa.func.count()).select_from(table)).scalar():
                raise _refuse("the records are not empty")
        for table in TABLES:
            if rows[table.name]:
                connection.execute(table.insert(), rows[table.name])
        if connection.dialect.name == "postgresql":
            _advance(connection)
    return sum(len(some) for some in rows.values())


def _advance(connection: sa.Connection) -> None:
    """Let new rows count on after the imported ones."""
    for table in TABLES:
        key = next(iter(table.primary_key))
        last = sa.select(sa.func.coalesce(sa.func.max(key), 0) + 1).scalar_subquery()
        name = sa.func.pg_get_serial_sequence(table.name, key.name)
        connection.execute(sa.select(sa.func.setval(name, last, False)))


def _refuse(what: str) -> InputError:
    return InputError(
        "records-import", what, "import", "export with this program, into records of their own"
    )
