"""The Data Package export: every table whole, as printed, with types, units and references that hold."""

import csv
import json
from math import isfinite

import jsonschema
import pytest

from refdata.core import store
from refdata.doors.command import main
from refdata.doors.export import EVIDENCE

# what the Data Package standard (version 2.0, datapackage.org) asks of a tabular package
STANDARD = {
    "type": "object",
    "required": ["resources"],
    "properties": {
        "name": {"type": "string", "pattern": "^[a-z0-9._-]+$"},
        "licenses": {
            "type": "array",
            "minItems": 1,
            "items": {"anyOf": [{"required": ["name"]}, {"required": ["path"]}]},
        },
        "sources": {"type": "array", "items": {"required": ["title"]}},
        "resources": {
            "type": "array",
            "minItems": 1,
            "items": {
                "required": ["name", "path", "schema"],
                "properties": {
                    "name": {"pattern": "^[a-z0-9._-]+$"},
                    "path": {"pattern": "^(?!/)(?!.*\\.\\.).+$"},
                    "type": {"const": "table"},
                    "schema": {
                        "required": ["fields"],
                        "properties": {
                            "fields": {
                                "minItems": 1,
                                "items": {
                                    "required": ["name"],
                                    "properties": {"type": {"enum": ["string", "number", "integer"]}},
                                },
                            },
                            "missingValues": {"type": "array", "items": {"type": "string"}},
                            "foreignKeys": {"items": {"required": ["fields", "reference"]}},
                        },
                    },
                },
            },
        },
    },
}


@pytest.fixture(scope="module")
def package(tmp_path_factory):
    out = tmp_path_factory.mktemp("export") / "package"
    assert main(["export", str(out)]) == 0
    return out, json.loads((out / "datapackage.json").read_text(encoding="utf-8"))


def rows(folder, resource) -> list[dict]:
    with (folder / resource["path"]).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_it_is_a_data_package(package):
    folder, told = package
    jsonschema.validate(told, STANDARD)
    assert {one["name"] for one in told["resources"]} == {*store.tables(), *EVIDENCE}
    assert told["version"] == store.data_version()
    assert {path.name for path in (folder / "data").iterdir()} == {f"{one['name']}.csv" for one in told["resources"]}


def test_every_field_stands_in_its_file_with_its_type(package):
    folder, told = package
    for resource in told["resources"]:
        found, fields = rows(folder, resource), resource["schema"]["fields"]
        assert found and list(found[0]) == [field["name"] for field in fields]
        for field in fields:
            values = [row[field["name"]] for row in found]
            if field.get("constraints", {}).get("required"):
                assert all(values), (resource["name"], field["name"])
            if field["type"] == "number":
                assert any(values) and all(isfinite(float(value)) for value in values if value), (
                    resource["name"],
                    field["name"],
                )


def test_references_hold(package):
    folder, told = package
    by_name = {one["name"]: one for one in told["resources"]}
    for resource in told["resources"]:
        for key in resource["schema"].get("foreignKeys", ()):
            other = by_name[key["reference"]["resource"] or resource["name"]]
            known = {row[key["reference"]["fields"][0]] for row in rows(folder, other)}
            used = {row[key["fields"][0]] for row in rows(folder, resource)} - {""}
            assert used <= known, (resource["name"], key)


def test_figures_are_as_printed_and_units_are_told(package):
    folder, told = package
    gauges = next(one for one in told["resources"] if one["name"] == "gauges")
    field = next(one for one in gauges["schema"]["fields"] if one["name"] == "thickness_in")
    assert (field["type"], field["unit"]) == ("number", "in")
    twenty = next(row for row in rows(folder, gauges) if (row["system"], row["gauge"]) == ("brown-sharpe", "20"))
    assert twenty["thickness_in"] == "0.0320"


def test_a_folder_that_is_there_is_left_alone(package, capsys):
    assert main(["export", str(package[0])]) == 2
    assert "is there already" in capsys.readouterr().err
