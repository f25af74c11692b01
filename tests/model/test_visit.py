import json
from pathlib import Path

import jsonschema
import pytest
from pydantic import TypeAdapter, ValidationError

from limen.model.visit import Event
from limen.store.eventschema import event_schema

SHARED = Path(__file__).parents[1] / "shared" / "visit_events.json"
EXAMPLES = json.loads(SHARED.read_text("utf-8"))
EVENT: TypeAdapter[Event] = TypeAdapter(Event)


def _named(which: str) -> list[object]:
    return [pytest.param(one, id=one["name"]) for one in EXAMPLES[which]]


@pytest.mark.parametrize("one", _named("accepted"))
def test_what_a_card_may_say_is_accepted(one: dict) -> None:
    event = EVENT.validate_json(json.dumps(one["event"]))
    assert (event.id, event.seq) == (one["event"]["id"], one["event"]["seq"])
    assert event.moment.utcoffset() is not None


@pytest.mark.parametrize("one", _named("refused"))
def test_what_a_card_may_not_say_is_refused_at_its_place(one: dict) -> None:
    with pytest.raises(ValidationError) as refused:
        EVENT.validate_json(json.dumps(one["event"]))
    (fault,) = refused.value.errors()
    inner = fault.get("ctx", {}).get("at", ())
    places = [str(part) for part in (*fault["loc"], *inner)]
    wanted = one["where"].split(".")
    if fault["type"] == "union_tag_invalid":
        places.append("kind")
    assert [part for part in places if part in wanted] == wanted


def test_every_kind_of_event_has_an_example() -> None:
    kinds = set(EVENT.json_schema()["discriminator"]["mapping"])
    assert kinds == {one["event"]["kind"] for one in EXAMPLES["accepted"]}


def test_an_event_cannot_be_changed() -> None:
    event = EVENT.validate_json(json.dumps(EXAMPLES["accepted"][0]["event"]))
    with pytest.raises(ValidationError, match="frozen"):
        event.seq = 2  # pyright: ignore[reportAttributeAccessIssue]


@pytest.mark.parametrize("one", _named("accepted"))
def test_what_a_card_may_say_is_what_its_schema_says(one: dict) -> None:
    jsonschema.validate(one["event"], event_schema())


@pytest.mark.parametrize("change", [{"kind": "remark"}, {"seq": 0}, {"further": 1}])
def test_the_schema_refuses_what_the_desk_refuses(change: dict) -> None:
    event = EXAMPLES["accepted"][0]["event"] | change
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(event, event_schema())
