"""The JSON Schema says what the reader says."""

import json
import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from limen.store.schema import Kind, schema

SHIPPED = Path(__file__).parents[2] / "src" / "limen"
SITES = [
    *sorted((SHIPPED / "demo").glob("*.toml")),
    SHIPPED / "rulebooks" / "reference_doorway.toml",
    SHIPPED / "store" / "starter.toml",
]
SHEETS = sorted((SHIPPED / "sheets").glob("*.toml"))


def _as_json(path: Path) -> Any:
    def plain(value: object) -> str:
        assert isinstance(value, date)
        return value.isoformat()

    return json.loads(json.dumps(tomllib.loads(path.read_text("utf-8")), default=plain))


def _validator(kind: Kind) -> Draft202012Validator:
    return Draft202012Validator(schema(kind))


@pytest.mark.parametrize("kind", ["site", "sheet"])
def test_the_schema_is_a_schema(kind: Kind) -> None:
    Draft202012Validator.check_schema(schema(kind))


@pytest.mark.parametrize("path", SITES, ids=lambda path: path.name)
def test_every_shipped_site_file_is_valid(path: Path) -> None:
    assert list(_validator("site").iter_errors(_as_json(path))) == []


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.name)
def test_every_shipped_sheet_is_valid(path: Path) -> None:
    assert list(_validator("sheet").iter_errors(_as_json(path))) == []


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("clear_width", 1800),
        ("colour", "red"),
        ("id", "Main Door"),
        ("modes", ["sometimes"]),
        ("commissioned", None),
    ],
)
def test_what_the_reader_refuses_the_schema_refuses_too(key: str, value: Any) -> None:
    data = _as_json(SITES[0])
    data["doorway"][0][key] = value
    assert list(_validator("site").iter_errors(data))


def _properties(node: object, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(node, list):
        for item in node:
            yield from _properties(item, path)
    if isinstance(node, dict):
        for key, item in node.get("properties", {}).items():
            yield f"{path}.{key}", item
        for key, item in node.items():
            yield from _properties(item, f"{path}.{key}")


@pytest.mark.parametrize("kind", ["site", "sheet"])
def test_every_key_says_what_it_means(kind: Kind) -> None:
    silent = [
        path for path, item in _properties(schema(kind)) if "description" not in item
    ]
    assert silent == []


@pytest.mark.parametrize("kind", ["site", "sheet"])
def test_nothing_is_offered_that_a_file_cannot_hold(kind: Kind) -> None:
    text = json.dumps(schema(kind))
    assert '"null"' not in text
    assert '"default"' not in text
    assert "x-accepted" not in text


def test_a_quantity_says_its_span_and_gives_an_example() -> None:
    defs: Any = schema("site")["$defs"]
    width = defs["Doorway"]["properties"]["clear_width"]
    assert width["examples"] == ["1800 mm"]
    assert "0.5 to 12 m" in width["description"]


def test_the_reader_hangs_the_sheet_on_and_a_file_cannot() -> None:
    defs: Any = schema("site")["$defs"]
    assert "unit" not in defs["Fitting"]["properties"]
