"""The JSON Schema of the contract, shipped with limen."""

import json
from importlib.resources import files


def findings_schema() -> dict[str, object]:
    """The schema that every `contract` keeps to (JSON Schema, draft 2020-12)."""
    file = files("limen.exchange").joinpath("findings.schema.json")
    return json.loads(file.read_text("utf-8"))
