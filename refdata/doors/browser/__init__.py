"""The Datasette plugin: the JSON of the contract, SQL functions, and tables that a metalworker can read.

Datasette finds it by its entry point; `templates/` and `static/` beside this file are part of it.
"""

from datasette import hookimpl

from refdata.core.results import shop_figure
from refdata.doors import sql

from . import cells, routes, words


@hookimpl
def register_routes():
    return [
        (r"^/-/refdata/(?P<question>[^/]+)\.json$", routes.answer),
        (r"^/-/refdata/(?P<question>[^/]+)\.svg$", routes.drawing),
        (r"^/-/refdata/(?P<question>[a-z-]+)$", routes.page),
        (r"^/-/refdata\.json$", routes.index),
    ]


@hookimpl
def prepare_connection(conn):
    sql.register(conn)


@hookimpl
def extra_css_urls(datasette):
    return [datasette.urls.static_plugins("shop-refdata", "shop.css")]


@hookimpl
def prepare_jinja2_environment(env):
    # globals, since Datasette's error pages are made without extra_template_vars
    env.globals |= {
        "heading": words.heading,
        "is_figure": words.is_figure,
        "shop_tables": words.tables_by_room,
        "row_link": cells.row_link,
        "cautions": words.cautions,
        "shop_figure": shop_figure,
        "shop_questions": words.questions,
        "data_version": words.data_version,
    }


@hookimpl
def render_cell(row, value, column, table, database, datasette):
    if database == "refdata":
        return cells.render(row, value, column, table, datasette)
