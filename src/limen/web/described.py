"""What /openapi.json says, with the schemas of answers that limen ships."""

import json
from collections.abc import Mapping
from typing import Any, cast

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from limen.desk.schemas import What, schema
from limen.web.routes_api import FINDINGS
from limen.web.routes_tuning import TUNED

_HERE = "#/$defs/"
_SHARED = "#/components/schemas/"
_SHIPPED: Mapping[str, What] = {FINDINGS: "findings", TUNED: "tuned"}


def describe(app: FastAPI) -> None:
    """Let an application describe itself, made once and kept.

    Args:
        app: the application, all its routes in place.
    """

    def described() -> dict[str, Any]:
        if app.openapi_schema is None:
            app.openapi_schema = _with_shipped(
                get_openapi(
                    title=app.title,
                    version=app.version,
                    description=app.description,
                    routes=app.routes,
                )
            )
        return app.openapi_schema

    app.openapi = described


def _with_shipped(made: dict[str, Any]) -> dict[str, Any]:
    """The description with the shipped schemas among its shared parts."""
    parts = made.setdefault("components", {}).setdefault("schemas", {})
    for name, what in _SHIPPED.items():
        text = json.dumps(schema(what)).replace(_HERE, f"{_SHARED}{name}.")
        whole = cast("dict[str, Any]", json.loads(text))
        whole.pop("$schema", None)
        for part, said in whole.pop("$defs", {}).items():
            parts[f"{name}.{part}"] = said
        parts[name] = whole
    return made
