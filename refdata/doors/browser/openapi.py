"""The OpenAPI 3.1 description of the interface, made from the same declarations as everything else."""

from __future__ import annotations

import types
import typing
from functools import lru_cache

from refdata import __version__
from refdata.core import questions, store
from refdata.core.quantity import Quantity
from refdata.core.questions import QUESTIONS, Question
from refdata.core.reading import LONGEST, Reader
from refdata.core.results import Result

_QUANTITY = {
    "type": "object",
    "description": "A figure with its unit, source and standing, and what it holds for (temper, scale, from, to)",
    "properties": {
        "value": {"type": "number"},
        "unit": {"type": ["string", "null"]},
        "source": {"type": "string"},
        "standing": {"enum": ["formula", "independent", "agreed", "single", "practice", "memory", None]},
        "other": {
            "type": ["object", "null"],
            "properties": {"value": {"type": "number"}, "unit": {"type": "string"}},
            "required": ["value", "unit"],
        },
    },
    "required": ["value", "unit", "source"],
}
_DISAGREEMENT = {
    "type": "object",
    "properties": {
        "answer": {"type": "integer"},
        "key": {"type": "string"},
        "values": {"type": "array", "items": {"type": "object"}},
        "served": {"type": "object"},
        "reason": {"type": "string"},
    },
    "required": ["answer", "key", "values", "served", "reason"],
    "additionalProperties": False,
}
_SOURCE = {
    "type": "object",
    "properties": {
        "title": {"type": "string"},
        "edition": {"type": ["string", "null"]},
        "kind": {"type": "string"},
    },
    "required": ["title", "edition", "kind"],
    "additionalProperties": False,
}
_ERROR = {
    "type": "object",
    "properties": {
        "error": {
            "type": "object",
            "properties": {"message": {"type": "string"}, "nearest": {"type": "array"}},
            "required": ["message", "nearest"],
            "additionalProperties": False,
        }
    },
    "required": ["error"],
    "additionalProperties": False,
}


@lru_cache(maxsize=1)
def document() -> dict:
    """The whole description."""
    declared = [questions.load(name).question for name in QUESTIONS]
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Shop reference data",
            "version": __version__,
            "summary": "The numbers of a small metal shop, each with its unit, source and standing",
            "description": f"Data version {store.data_version()}. Every answer comes in one envelope.",
            "license": {"name": "MIT", "identifier": "MIT"},
        },
        "servers": [{"url": "/"}],
        "paths": {f"/-/refdata/{one.name}.json": {"get": _operation(one)} for one in declared},
        "components": {
            "schemas": {
                "Quantity": _QUANTITY, "Disagreement": _DISAGREEMENT, "Source": _SOURCE, "Error": _ERROR,
                **{_answer_name(one): _answer_schema(one) for one in declared},
            }
        },
    }  # fmt: skip


def _operation(declared: Question) -> dict:
    return {
        "operationId": declared.name,
        "summary": declared.summary,
        "parameters": [_parameter(p) for p in declared.parameters] + [_UNITS],
        "responses": {
            "200": _json("one clear answer, a list, or several readings with what to ask", _envelope(declared)),
            "400": _json("not understood, or it cannot be done so; the nearest choices are named", _ref("Error")),
        },
    }


def _parameter(parameter: questions.Parameter) -> dict:
    # an option may be left empty, as a form sends it
    schema: dict = {"type": "string"} | ({"minLength": 1} if parameter.required else {}) | _longest(parameter.reader)
    if parameter.default:
        schema["default"] = str(parameter.default)
    told = {"name": parameter.name, "in": "query", "required": parameter.required, "schema": schema}
    told["description"] = parameter.reader.help
    if parameter.reader.choices:
        told["description"] += f" ({', '.join(parameter.reader.choices)})"
    examples = parameter.reader.examples
    return told | ({"example": examples[0]} if examples else {})


def _longest(reader: Reader) -> dict:
    return {} if reader.long else {"maxLength": LONGEST}


_UNITS = {
    "name": "units",
    "in": "query",
    "required": False,
    "description": "the units of the answer",
    "schema": {"type": "string", "enum": list(questions.UNITS), "default": "published"},
}


def _envelope(declared: Question) -> dict:
    properties = {
        "question": {"const": declared.name},
        "asked": {"type": "object", "additionalProperties": {"type": "string"}},
        "answers": {"type": "array", "minItems": 1, "items": _ref(_answer_name(declared))},
        "ask": {"type": ["string", "null"]},
        "cautions": {"type": "array", "items": {"type": "string"}},
        "sources": {"type": "object", "additionalProperties": _ref("Source")},
        "data_version": {"type": "string"},
        "disagreements": {"type": "array", "items": _ref("Disagreement")},
    }
    return {"type": "object", "properties": properties, "required": list(properties), "additionalProperties": False}


def _answer_name(declared: Question) -> str:
    return f"{declared.name.title().replace('-', '')}Answer"


def _answer_schema(declared: Question) -> dict:
    """The keys of an answer and their kinds, from the annotations of its Result."""
    result = _result_of(declared)
    kinds = typing.get_type_hints(result)
    properties = {field: _kind(kinds[field]) for field in result.FIELDS}
    return {
        "type": "object",
        "properties": properties | {"notes": {"type": "array", "items": {"type": "string"}}},
        "required": list(result.FIELDS),
        "additionalProperties": False,
    }


def _result_of(declared: Question) -> type[Result]:
    told = declared.function.__annotations__["return"]
    while not isinstance(told, type) or typing.get_args(told):  # list[Drill], Drill | list[Drill]
        told = typing.get_args(told)[0]
    return told


_KINDS = {str: "string", int: "integer", float: "number", bool: "boolean", list: "array", dict: "object"}


def _kind(annotation) -> dict:
    if annotation is Quantity:
        return _ref("Quantity")
    if typing.get_origin(annotation) in (types.UnionType, typing.Union):
        parts = typing.get_args(annotation)
        return {"anyOf": [{"type": "null"} if part is type(None) else _kind(part) for part in parts]}
    kind = _KINDS.get(typing.get_origin(annotation) or annotation)
    return {"type": kind} if kind else {}


def _json(says: str, schema: dict) -> dict:
    return {"description": says, "content": {"application/json": {"schema": schema}}}


def _ref(name: str) -> dict:
    return {"$ref": f"#/components/schemas/{name}"}
