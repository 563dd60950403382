"""The bench reference of a small metal shop: each number with its unit, its source and its standing.

>>> import refdata
>>> refdata.clearance("#6").diameter.to("mm").value
4.318

Every question is a function here by its own name (`refdata.QUESTIONS` lists them) and is imported when first
used; `ask` gives the same answer as plain values for JSON, `table` the rows of a table.
"""

from __future__ import annotations

from .core.questions import QUESTIONS

_ELSEWHERE = {
    "ask": "core.questions",
    "table": "core.tables",
    "thicknesses": "sheet.gauge",
    "Quantity": "core.quantity",
    "Ambiguous": "core.errors",
    "NoDatabase": "core.errors",
    "NotFound": "core.errors",
    "NotUnderstood": "core.errors",
    "RefdataError": "core.errors",
    "Refused": "core.errors",
}

__all__ = ["QUESTIONS", *(name.replace("-", "_") for name in QUESTIONS), *_ELSEWHERE]


def __getattr__(name: str):
    if name.replace("_", "-") in QUESTIONS:
        from .core.questions import load

        found = load(name)
    elif name in _ELSEWHERE:
        from importlib import import_module

        found = getattr(import_module(f"refdata.{_ELSEWHERE[name]}"), name)
    elif name == "__version__":
        from importlib.metadata import version

        found = version("shop-refdata")
    else:
        raise AttributeError(f"module 'refdata' has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__():
    return sorted({*globals(), *__all__})
