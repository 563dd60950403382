"""How a cell of a table is shown: figures as printed, blanks as a dash, addresses as links."""

from __future__ import annotations

import re
from functools import lru_cache
from urllib.parse import urlencode

from datasette.utils import tilde_encode
from markupsafe import Markup, escape

from refdata.core import store

BLANK = Markup('<span class="blank" title="not given">–</span>')
_ADDRESS = re.compile(r"https?://\S+")


@lru_cache(maxsize=64)
def _printed(table: str) -> dict[tuple[str, str], tuple[str, str]]:
    """(row key, column) to (figure as printed, standing) for all figures of a table."""
    rows = store.select("SELECT row_key, column_name, printed, standing FROM cells WHERE table_name = ?", table)
    return {(key, column): (printed, standing) for key, column, printed, standing in rows}


def render(row, value, column: str, table: str | None, datasette):
    """The cell as HTML, or None where Datasette's own way is good."""
    if value is None or value == "":
        return BLANK
    if isinstance(value, float) and table:
        found = _printed(table).get((row["key"], column)) if "key" in row.keys() else None  # noqa: SIM118
        if found:
            return _figure(datasette, table, row["key"], column, *found)
    if isinstance(value, str) and "://" in value:
        return _linked(value)
    return None


def _figure(datasette, table: str, key: str, column: str, printed: str, standing: str) -> Markup:
    """A figure as printed; it leads to its source and to all who confirm or dispute it."""
    where = urlencode({"table_name": table, "row_key": key, "column_name": column})
    address = f"{datasette.urls.database('refdata')}/figure?{where}"
    return Markup('<a class="figure {}" href="{}" title="{}: who says so">{}</a>').format(
        standing, address, standing, printed
    )


def _linked(text: str) -> Markup:
    """Text with its web addresses as links that name no referrer."""
    shown, last = Markup(""), 0
    for match in _ADDRESS.finditer(text):
        address = match[0].rstrip(".,;")
        shown += escape(text[last : match.start()])
        shown += Markup('<a href="{0}" rel="noreferrer noopener">{0}</a>').format(address)
        last = match.start() + len(address)
    return shown + escape(text[last:])


def row_link(urls, database: str, table: str, key: str) -> Markup:
    """A short link to the page of a row."""
    return Markup('<a href="{}/{}" title="{}">row</a>').format(urls.table(database, table), tilde_encode(key), key)
