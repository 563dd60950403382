"""The Datasette plugin: the JSON of the contract, SQL functions, and tables that a metalworker can read.

Datasette finds it by its entry point; `templates/` and `static/` beside this file are part of it.
"""

from datasette import hookimpl
from datasette.utils import tilde_encode

from refdata.doors import charts, sql

from . import cells, routes, subjects, words
from .guard import Guard


@hookimpl
def register_routes():
    return [
        (r"^/$", routes.home),
        (r"^/-/refdata/openapi\.json$", routes.description),
        (r"^/-/refdata/(?P<question>[^/]+)\.json$", routes.answer),
        (r"^/-/refdata/(?P<question>[^/]+)\.svg$", routes.drawing),
        (r"^/-/refdata/(?P<question>[a-z-]+)$", routes.page),
        (r"^/-/refdata/on/(?P<kind>[a-z]+)$", routes.on),
        (r"^/-/refdata/on/(?P<kind>[a-z]+)/(?P<member>[^/]+)$", routes.on),
        (r"^/-/refdata/tables/(?P<table>[^/]+)\.csv$", routes.csv),
        (r"^/-/refdata/charts/(?P<chart>[^/]+)\.(?P<kind>pdf|svg)$", routes.chart),
        (r"^/-/refdata\.json$", routes.index),
        (r"^/-/refdata$", routes.say),
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
        "tilde": tilde_encode,
        "shop_charts": charts.TITLES,
        "shop_subjects": subjects.SUBJECTS,
        "shop_questions": words.questions,
        "data_version": words.data_version,
    }


@hookimpl
def render_cell(row, value, column, table, database, datasette):
    if database == "refdata":
        return cells.render(row, value, column, table, datasette)


@hookimpl
def asgi_wrapper(datasette):
    told = datasette.plugin_config("shop-refdata") or {}
    return lambda app: Guard(app, told.get("hosts"), told.get("open_house", False))
