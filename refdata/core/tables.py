"""Whole tables for scripts: rows with their units and sources, as plain values or as a data frame."""

from __future__ import annotations

from . import sources, store


class Table(list):
    """The rows of a table as dicts of plain values, in the table's own order.

    `units` gives the unit of each column that has one, `sources` the sources cited; `to_pandas` and `to_polars`
    make a data frame if the caller has the library.
    """

    def __init__(self, name: str, rows: list[dict], units: dict[str, str]):
        super().__init__(rows)
        self.name, self.units = name, units

    @property
    def sources(self) -> list[sources.Source]:
        return [sources.by_id(i) for i in dict.fromkeys(row["source"] for row in self if row.get("source"))]

    def to_pandas(self):
        """A pandas DataFrame; `attrs["units"]` holds the units. Raises ImportError without pandas."""
        import pandas

        frame = pandas.DataFrame(list(self))
        frame.attrs["units"] = dict(self.units)
        return frame

    def to_polars(self):
        """A polars DataFrame. Raises ImportError without polars."""
        import polars

        return polars.DataFrame(list(self), infer_schema_length=None)

    def __repr__(self) -> str:
        return f"<table {self.name}: {len(self)} rows>"


def table(name: str) -> Table:
    """The rows of a table by its name. Raises NotUnderstood, which lists the names.

    >>> import refdata
    >>> refdata.table("gauges").units
    {'thickness_in': 'in', 'weight_lb_per_ft2': 'lb/ft2'}
    """
    store.check_table(name)
    cursor = store.connection().execute(f"SELECT * FROM [{name}] ORDER BY rowid")
    columns = [part[0] for part in cursor.description]
    units = dict(store.select("SELECT name, unit FROM columns WHERE table_name = ? AND unit IS NOT NULL", name))
    return Table(name, [dict(zip(columns, row)) for row in cursor], units)
