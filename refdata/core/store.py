"""The built database, opened read-only; its rows come back with their figures as quantities."""

from __future__ import annotations

import os
import sqlite3
import threading
from functools import lru_cache

from .errors import NoDatabase, NotUnderstood
from .quantity import Quantity

PATH = os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "refdata.db")
_local = threading.local()


def connection() -> sqlite3.Connection:
    """This thread's read-only connection. Raises NoDatabase."""
    try:
        return _local.connection
    except AttributeError:
        pass
    if not os.path.exists(PATH):
        raise NoDatabase(f"there is no database at {PATH}: run python -m build_db in the checkout")
    # immutable: the file is only ever replaced whole, so no locks are needed
    _local.connection = sqlite3.connect(f"file:{_quoted(PATH)}?mode=ro&immutable=1", uri=True)
    return _local.connection


def _quoted(path: str) -> str:
    return path.replace("%", "%25").replace("?", "%3f").replace("#", "%23")


def select(sql: str, *parameters) -> list[tuple]:
    """All rows of a query."""
    return connection().execute(sql, parameters).fetchall()


class Record(dict):
    """One row of a table: text by column name, figures as Quantity, blanks as None."""

    table: str

    @property
    def source(self) -> str:
        return self["source"]


_CELL_COLUMNS = "column_name, printed, value, unit, source, standing"


@lru_cache(maxsize=256)
def _statement(table: str, where: str) -> tuple[str, tuple[str, ...]]:
    columns = tuple(row[1] for row in select(f"PRAGMA table_info([{table}])"))
    cells = ", ".join(f"c.{name.strip()}" for name in _CELL_COLUMNS.split(","))
    sql = f"""SELECT t.*, {cells} FROM [{table}] t
              LEFT JOIN cells c ON c.table_name = '{table}' AND c.row_key = t.key
              {"WHERE " + where if where else ""} ORDER BY t.rowid"""
    return sql, columns


def records(table: str, where: str = "", *parameters) -> list[Record]:
    """Rows of a table in its own order, with each typed figure as a Quantity that knows its source and standing.

    `where` is SQL over the columns, named `t.column`; its values come in `parameters`.
    """
    sql, columns = _statement(table, where)
    width = len(columns)
    found: dict[str, Record] = {}
    for row in connection().execute(sql, parameters):
        key = row[0]
        record = found.get(key)
        if record is None:
            record = found[key] = Record(zip(columns, row))
            record.table = table
        column = row[width]
        if column is not None:
            printed, value, unit, source, standing = row[width + 1 :]
            record[column] = Quantity(printed, unit, source, standing, (table, key, column), None, None, value)
    return list(found.values())


def names(table: str, column: str) -> list[str]:
    """All values of one column, in the table's order, each once."""
    return list(dict.fromkeys(row[0] for row in select(f"SELECT [{column}] FROM [{table}] ORDER BY rowid")))


@lru_cache(maxsize=1)
def tables() -> dict[str, str]:
    """Names and titles of the data tables."""
    return dict(select("SELECT name, title FROM tables ORDER BY name"))


@lru_cache(maxsize=1)
def data_version() -> str:
    """Hash of the table files that the database was built from."""
    return select("SELECT data_version FROM build")[0][0]


def check_table(name: str) -> str:
    """`name` if it is a table of the database. Raises NotUnderstood."""
    from .reading import nearest

    if name not in tables():
        raise NotUnderstood(f'there is no table "{name}"', nearest(str(name), tables(), tables()))
    return name
