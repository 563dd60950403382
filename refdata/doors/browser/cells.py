"""How a cell of a table is shown: figures as printed, blanks as a dash, addresses as links."""

from __future__ import annotations

import re
from functools import lru_cache
from urllib.parse import urlencode

from datasette.utils import tilde_encode
from markupsafe import Markup, escape

from refdata.core import store

SOURCE_COLUMNS = ("source", "drill_source", "ancestor")
BLANK = Markup('<span class="blank" title="not given">–</span>')
_ADDRESS = re.compile(r"https?://\S+")


@lru_cache(maxsize=64)
def _figures(table: str, figure_page: str) -> dict[tuple[str, str], Markup]:
    """(row key, column) to the figure as printed; it leads to its source and to all who confirm or dispute it.

    Made once a table: the database behind it never changes.
    """
    rows = store.select("SELECT row_key, column_name, printed, standing FROM cells WHERE table_name = ?", table)
    shown = {}
    for key, column, printed, standing in rows:
        where = urlencode({"table_name": table, "row_key": key, "column_name": column})
        address = escape(f"{figure_page}?{where}")
        shown[key, column] = Markup(
            f'<a class="figure {standing}" href="{address}" title="{standing}: who says so">{escape(printed)}</a>'
        )
    return shown


def render(row, value, column: str, table: str | None, datasette):
    """The cell as HTML, or None where Datasette's own way is good."""
    if value is None or value == "":
        return BLANK
    if isinstance(value, float):
        keyed = table and "key" in row.keys()  # noqa: SIM118
        return _figures(table, datasette.urls.path("/refdata/figure")).get((row["key"], column)) if keyed else None
    if isinstance(value, str):
        if column in SOURCE_COLUMNS:
            return Markup(
                f'<a href="{datasette.urls.path("/refdata/sources")}/{tilde_encode(value)}">{escape(value)}</a>'
            )
        if "://" in value:
            return _linked(value)
    return None


def _linked(text: str) -> Markup:
    """Text with its web addresses as links that name no referrer."""
    shown, last = "", 0
    for match in _ADDRESS.finditer(text):
        address = match[0].rstrip(".,;")
        link = escape(address)
        shown += f'{escape(text[last : match.start()])}<a href="{link}" rel="noreferrer noopener">{link}</a>'
        last = match.start() + len(address)
    return Markup(f"{shown}{escape(text[last:])}")


def row_link(urls, database: str, table: str, key: str) -> Markup:
    """A short link to the page of a row."""
    return Markup(f'<a href="{urls.table(database, table)}/{tilde_encode(key)}" title="{escape(key)}">row</a>')
