"""What /openapi.json says, with the schema of findings that limen ships."""

import json
from typing import Any, cast

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from limen.desk.schemas import schema
from limen.web.routes_api import FINDINGS

_HERE = "#/$defs/"
_SHARED = "#/components/schemas/"


def describe(app: FastAPI) -> None:
    """Let an application describe itself, made once and kept.

    Args:
        app: the application, all its routes in place.
    """

    def described() -> dict[str, Any]:
        if app.openapi_schema is None:
            app.openapi_schema = _with_findings(
                get_openapi(
                    title=app.title,
                    version=app.version,
                    description=app.description,
                    routes=app.routes,
                )
            )
        return app.openapi_schema

    app.openapi = described


def _with_findings(made: dict[str, Any]) -> dict[str, Any]:
    """The description with the shipped schema among its shared parts."""
    parts = made.setdefault("components", {}).setdefault("schemas", {})
    text = json.dumps(schema("findings")).replace(_HERE, f"{_SHARED}{FINDINGS}.")
    whole = cast("dict[str, Any]", json.loads(text))
    whole.pop("$schema", None)
    for name, part in whole.pop("$defs", {}).items():
        parts[f"{FINDINGS}.{name}"] = part
    parts[FINDINGS] = whole
    return made
