"""The JSON Schemas of what limen reads and writes."""

from typing import Literal, assert_never

What = Literal[
    "site", "sheet", "readings", "event", "findings", "fitted", "tuned", "channels"
]


def schema(what: What = "site") -> dict[str, object]:
    """The schema of a file that people write, of what a card sends or of findings."""
    match what:
        case "site" | "sheet" | "readings":
            from limen.store.schema import schema as of_file

            return of_file(what)
        case "event":
            from limen.store.eventschema import event_schema

            return event_schema()
        case "findings":
            from limen.exchange import findings_schema

            return findings_schema()
        case "fitted":
            from limen.exchange.fitted import fitted_schema

            return fitted_schema()
        case "tuned":
            from limen.exchange.tuning import tuning_schema

            return tuning_schema()
        case "channels":
            from limen.exchange.channels import channels_schema

            return channels_schema()
        case _:
            assert_never(what)
