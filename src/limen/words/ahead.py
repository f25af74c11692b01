"""What is said of visits that are planned, of follow-ups and of parts."""

from collections.abc import Mapping
from datetime import date

from limen.findings import Message
from limen.model.agenda import FollowUp, Parts, Plan, RefusedEvent
from limen.words.saying import say, say_count, say_word


def said_thing(thing: Plan | FollowUp | Parts) -> str:
    """What is planned, owed or awaited, in a few words."""
    match thing:
        case Plan():
            what = say_word("life.what", thing.first.said.what)
            day = thing.day.isoformat()
            return say(Message("life.ahead.plan", {"day": day, "what": what}))
        case FollowUp():
            return thing.text
        case Parts():
            return said_part(thing.last.said.model_dump(mode="json", exclude_none=True))


def said_part(said: Mapping[str, object]) -> str:
    """A part: how many, what, its number."""
    values = {"count": str(said.get("count", 1)), "name": str(said["name"])}
    if "number" in said:
        values["number"] = str(said["number"])
        return say(Message("life.part.numbered", values))
    return say(Message("life.part.named", values))


def said_who(plan: Plan) -> str:
    """Who comes."""
    if plan.who is None:
        return say(Message("life.nobody"))
    return say(Message("life.entry.who", {"who": plan.who}))


def said_refusal(plan: Plan) -> str:
    """By whom it was refused, and why; empty if it was not."""
    if not isinstance(plan.last, RefusedEvent):
        return ""
    no = plan.last.said
    said = {"by": no.by, "because": no.because}
    return say(Message("life.ahead.refused", said))


def said_late(day: date | None, on: date) -> str:
    """That something is due today or overdue; empty if it is not."""
    if day is None or day > on:
        return ""
    if day == on:
        return say(Message("life.today"))
    return say_count("life.overdue", (on - day).days)


def said_by(thing: FollowUp) -> str:
    """By when something is owed."""
    if thing.day is None:
        return say(Message("life.ahead.no_day"))
    return say(Message("life.ahead.owed_by", {"day": thing.day.isoformat()}))
