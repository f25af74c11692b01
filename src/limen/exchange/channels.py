"""The channels of a site as the JSON of the contract, schema 1."""

import json
from importlib.resources import files

from limen.exchange.contract import SCHEMA, Json, Say
from limen.findings import Message
from limen.findings.channels import ChannelPair, ChannelPlan, ChannelUnit
from limen.quantity import Show
from limen.words import say


def channels(
    plan: ChannelPlan,
    *,
    version: str | None = None,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> Json:
    """The plan as plain values; what `channels_schema` describes.

    Args:
        plan: the channels of a site.
        version: of limen.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers stay SI.
    """

    def sentence(message: Message) -> str:
        return say(message, language=language, system=system)

    return {
        "limen": version,
        "schema": SCHEMA,
        "site": plan.site,
        "units": [_unit(one) for one in plan.units],
        "pairs": [_pair(plan, one, sentence) for one in plan.pairs],
        "radars": [{"doorway": door, "fitting": unit} for door, unit in plan.radars],
        "all_together": [_name(plan.units[n]) for n in plan.together],
        "used": plan.used,
        "exact": plan.exact,
        "harm": plan.harm,
        "least_harm": plan.least_harm,
    }


def channels_schema() -> dict[str, object]:
    """The schema that every plan of channels keeps to (JSON Schema 2020-12)."""
    file = files("limen.exchange").joinpath("channels.schema.json")
    return json.loads(file.read_text("utf-8"))


def _unit(one: ChannelUnit) -> Json:
    return {
        **_name(one),
        "side": one.side,
        "was": one.was,
        "channel": one.channel,
        "choices": list(one.choices),
        "fixed": one.fixed,
        "changes": one.changes,
    }


def _name(one: ChannelUnit) -> Json:
    return {"doorway": one.doorway, "fitting": one.fitting}


def _pair(plan: ChannelPlan, one: ChannelPair, sentence: Say) -> Json:
    return {
        "one": _name(plan.units[one.one]),
        "two": _name(plan.units[one.two]),
        "how": one.how,
        "because": sentence(one.because),
        "room": one.room,
        "shares": one.shares,
        "shared_before": one.shared,
        "to_part": one.to_part,
        "remedy": sentence(one.remedy) if one.remedy else None,
        "lacking": [sentence(lack.message) for lack in one.lacking],
        "settled_by": [lack.key for lack in one.lacking],
    }
