"""JSON Schema of what a card sends, for other programs."""

from limen.model.visit import Event

Json = dict[str, object]


def event_schema() -> Json:
    """The JSON Schema (2020-12) of an event of a visit, as parsed.

    What a schema cannot say (a day that there is, that what stands is among what
    differs) is said by the desk alone.
    """
    from pydantic import TypeAdapter

    made: TypeAdapter[Event] = TypeAdapter(Event)
    head: Json = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "limen event of a visit",
    }
    return head | made.json_schema()
