"""The JSON Schemas of what limen reads and writes."""

from typing import Literal, assert_never

What = Literal["site", "sheet", "findings"]


def schema(what: What = "site") -> dict[str, object]:
    """The schema of a site file, a sensor sheet or the findings."""
    match what:
        case "site" | "sheet":
            from limen.store.schema import schema as of_file

            return of_file(what)
        case "findings":
            from limen.exchange import findings_schema

            return findings_schema()
        case _:
            assert_never(what)
