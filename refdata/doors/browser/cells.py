"""How a cell of a table is shown: figures as printed, blanks as a dash, addresses as links."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple
from urllib.parse import urlencode

from datasette.utils import tilde_encode
from markupsafe import Markup, escape

from refdata.core import store
from refdata.core.numbers import exact_fraction
from refdata.core.units import column_subject

from .words import heading

SOURCE_COLUMNS = ("source", "drill_source", "ancestor")
BLANK = Markup('<span class="blank" title="not given">–</span>')
_ADDRESS = re.compile(r"https?://\S+")


class Figure(NamedTuple):
    """A figure as it is shown, and the page that tells who says so."""

    column: str
    standing: str
    address: str
    printed: str

    def link(self, text: str | None = None) -> Markup:
        """The figure, or `text` computed from it, as a link to its sources, witnesses and disagreements."""
        return _figure_link(self, text)


@lru_cache(maxsize=8192)
def _figure_link(figure: Figure, text: str | None) -> Markup:
    title = f"{figure.standing}: who says so" if text is None else f"computed; {figure.standing}: who says so"
    return Markup('<a class="figure {}" href="{}" title="{}">{}</a>').format(
        figure.standing, figure.address, title, figure.printed if text is None else text
    )


@lru_cache(maxsize=64)
def _figures(table: str, figure_page: str) -> dict[str, list[Figure]]:
    """Row key to the figures of the row. Read once a table: the database behind it never changes."""
    rows = store.select("SELECT row_key, column_name, printed, standing FROM cells WHERE table_name = ?", table)
    found: dict[str, list[Figure]] = {}
    for key, column, printed, standing in rows:
        found.setdefault(key, []).append(
            Figure(column, standing, figure_address(table, key, column, figure_page), printed)
        )
    return found


def figure_address(table: str, key: str, column: str, page: str = "/refdata/figure") -> str:
    """The page that tells who says a figure, who agrees and who does not."""
    return f"{page}?{urlencode({'table_name': table, 'row_key': key, 'column_name': column})}"


def render(row, value, column: str, table: str | None, datasette):
    """The cell as HTML, or None where Datasette's own way is good."""
    if value is None or value == "":
        return BLANK
    named = dict(zip(row.keys(), row))
    if isinstance(value, float) or column in ("printed", "served"):
        return _figure(named, value, column, table, datasette.urls.path("/refdata/figure"))
    if isinstance(value, str):
        if column in SOURCE_COLUMNS:
            return _link(f"{datasette.urls.path('/refdata/sources')}/{tilde_encode(value)}", value)
        if column == "table":
            return _link(f"{datasette.urls.path('/refdata/to_confirm')}?{urlencode({'table': value})}", value)
        if column == "column_name":
            return heading(value)
        if "://" in value:
            return _linked(value)
    return None


def _figure(named: dict, value, column: str, table: str | None, figure_page: str) -> Markup | None:
    """A number that leads to who says so: a figure of the table, or one that a query took or computed from it."""
    if {"table_name", "row_key", "column_name"} <= named.keys():
        place = (named[name] for name in ("table_name", "row_key", "column_name"))
        return _link(figure_address(*place, figure_page), value)
    table = named.get("table_name") or table
    figures = _figures(table, figure_page).get(named["key"], []) if table and "key" in named else []
    for figure in figures:
        if figure.column == column:
            return figure.link()
    # a query may shorten the name of a column: sharp_mm of head_diameter_sharp_in
    alike = [f for f in figures if column_subject(f.column).endswith(column_subject(column))] or figures
    if "table_name" in named and len(alike) == 1:
        same = isinstance(value, float) and value == float(exact_fraction(alike[0].printed))
        return alike[0].link(None if same else f"{value}")
    return None


@lru_cache(maxsize=4096)
def _link(address: str, text) -> Markup:
    return Markup('<a href="{}">{}</a>').format(address, text)


@lru_cache(maxsize=4096)
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
