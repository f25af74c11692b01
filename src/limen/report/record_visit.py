"""What a record says was done at the door, for paper: the hand-over before all else."""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from datetime import UTC, datetime
from typing import Any

from limen.findings import Message
from limen.report.record_traced import said_event, traced_said
from limen.report.tongue import Plain, Tongue, hour
from limen.words import say_word, visible
from limen.words.visits import said_end, said_reading, said_step

Table = Mapping[str, Any]

_STATES = {
    "in use": "in_use",
    "in use with defects": "in_use_with_defects",
    "out of use": "out_of_use",
}
_SECTIONS = (
    "started",
    "precautions",
    "as_found",
    "tests",
    "readings",
    "work",
    "photos",
    "notes",
    "traced",
    "defects",
    "handed_over",
)
BAD = "touched"
_UNANSWERED = "cannot"


def visit_said(
    table: Table,
    tongue: Tongue,
    shown: Mapping[str, str],
    at_hand: Set[str],
    names: Mapping[str, str],
    owed: Mapping[str, str],
) -> Plain:
    """A folded visit as plain values; where there was none, that it says so.

    Args:
        table: the record.
        tongue: the reader's language and units.
        shown: by digest the file of each photo that is set on paper.
        at_hand: digests of the photos that travel inside.
        names: by key of a value of the doorway its name in words.
        owed: by cause the group of tests that are owed once it is mended.
    """
    visit: Table | None = table.get("visit")
    tests: Sequence[Table] = table["tests"]
    titles = {str(one["id"]): visible(str(one["title"])) for one in tests}
    done = _answers(visit, titles)
    return {
        "hand": _hand(table, visit, tongue),
        "who": _who(visit, tongue),
        "tested": done,
        "untested": _untested(visit, tests, titles),
        "owed": [visible(one) for one in table["study"]["owed"]],
        "all_answered": _all_answered(visit, tests),
        "traced": traced_said(visit, owed, tongue),
        "precautions": _steps(visit, "precautions", titles),
        "found": _readings(visit, "as_found", names),
        "left": _readings(visit, "readings", names),
        "work": _work(visit, titles, tongue),
        "defects": _defects(visit, tongue),
        "notes": [visible(one["said"]["text"]) for one in _counting(visit, "notes")],
        "conflicts": _conflicts(visit, titles, tongue),
        "apart": _apart(visit, titles, tongue),
        "photos": list(_photos(visit, shown, at_hand, tongue)),
    }


def _say(tongue: Tongue, key: str, /, **values: object) -> str:
    return tongue.say(Message(f"record.{key}", values))  # pyright: ignore[reportArgumentType]


def _counting(visit: Table | None, section: str) -> list[Table]:
    """What counts of a section; what another word replaced does not."""
    if visit is None:
        return []
    every: Sequence[Table] = visit.get(section, ())
    return [one for one in every if one.get("counts", True)]


# The hand-over -------------------------------------------------------------------


def _hand(table: Table, visit: Table | None, tongue: Tongue) -> Plain:
    if visit is None:
        day = _day(str(table["claimed"]), tongue)
        says = _say(tongue, "hand.no_visit_says", day=day)
        return {"head": _say(tongue, "hand.no_visit"), "lines": [says], "kind": "none"}
    handed = _counting(visit, "handed_over")
    if not handed:
        open_ = any(one["about"] == "handed_over" for one in visit["conflicts"])
        head = _say(tongue, "hand.unsettled" if open_ else "hand.unsaid")
        return {"head": head, "lines": [], "kind": "unshown"}
    said = handed[-1]["said"]
    told = said.get("told")
    heard = _say(tongue, "hand.told", told=told) if told else ""
    signed = "signed" if said.get("signature") else "unsigned"
    lines = [
        heard or _say(tongue, "hand.untold"),
        _say(tongue, "hand.person"),
        _say(tongue, f"hand.{signed}"),
    ]
    head = _say(tongue, f"hand.{_STATES[said['state']]}")
    return {"head": head, "lines": lines, "kind": _kind(said["state"])}


def _kind(state: str) -> str:
    """A state is a person's word and no verdict: what is amiss is marked."""
    return {"in use": "none"}.get(state, "fails")


def _who(visit: Table | None, tongue: Tongue) -> list[str]:
    """Who was there, why, and when."""
    if visit is None:
        return []
    lines: list[str] = []
    if visit["people"]:
        people = ", ".join(visible(one) for one in visit["people"])
        lines.append(_say(tongue, "paper.who", people=people))
    times = sorted(_times(visit))
    if times:
        first, last = times[0], times[-1]
        key = "when" if first[:10] == last[:10] else "when_days"
        told = {"from": hour(first), "to": hour(last), "day": _day(first, tongue)}
        lines.append(_say(tongue, f"paper.{key}", until=_day(last, tongue), **told))
    return lines


def _times(visit: Table) -> Iterator[str]:
    for section in _SECTIONS:
        yield from (str(one["at"]) for one in visit.get(section, ()))


def _day(at: str, tongue: Tongue) -> str:
    return tongue.day(datetime.fromisoformat(at).astimezone(UTC).date())


# Tests ---------------------------------------------------------------------------


def _answers(visit: Table | None, titles: Mapping[str, str]) -> list[Plain]:
    """Every test with an answer, in the order in which it was given."""
    return [
        {
            "title": _titled(one["said"]["step"], titles),
            "answer": said_end(one["said"]),
            "bad": one["said"]["answer"] == BAD,
            "open": one["said"]["answer"] in {_UNANSWERED, "lamp only"},
            "tool": say_word("visits.tool", one["said"].get("tool") or ""),
            "because": visible(one["said"].get("because") or ""),
            "at": hour(one["at"]),
        }
        for one in _counting(visit, "tests")
    ]


def _titled(step: str, titles: Mapping[str, str]) -> str:
    return titles.get(step) or visible(said_step(step))


def _untested(
    visit: Table | None,
    tests: Sequence[Table],
    titles: Mapping[str, str],
) -> list[str]:
    """Tests that may not be skipped and have no answer."""
    if visit is None and not tests:
        return []
    answered = {one["said"]["step"] for one in _counting(visit, "tests")}
    owed = (one for one in tests if one.get("minimum") and one["id"] not in answered)
    return [_titled(one["id"], titles) for one in owed]


def _all_answered(visit: Table | None, tests: Sequence[Table]) -> bool:
    answered = {one["said"]["step"] for one in _counting(visit, "tests")}
    least = [one["id"] for one in tests if one.get("minimum")]
    return bool(least) and set(least) <= answered


# Readings, work, defects ---------------------------------------------------------


def _readings(visit: Table | None, section: str, names: Mapping[str, str]) -> list[str]:
    """What was read; a value of the doorway by its name in words."""
    every = (one["said"] for one in _counting(visit, section))
    return [said_reading(one, names.get(str(one.get("key")), "")) for one in every]


def _steps(visit: Table | None, section: str, titles: Mapping[str, str]) -> list[str]:
    said = (one["said"]["step"] for one in _counting(visit, section))
    return list(dict.fromkeys(_titled(step, titles) for step in said))


def _work(visit: Table | None, titles: Mapping[str, str], tongue: Tongue) -> list[str]:
    told: list[str] = []
    for one in _counting(visit, "work"):
        step, note = _titled(one["said"]["step"], titles), one["said"].get("note")
        told.append(_say(tongue, "paper.work", work=step, note=note) if note else step)
    return told


def _defects(visit: Table | None, tongue: Tongue) -> list[str]:
    return [
        _say(tongue, "paper.told", text=one["said"]["text"], told=one["said"]["told"])
        if one["said"].get("told")
        else _say(tongue, "paper.untold", text=one["said"]["text"])
        for one in _counting(visit, "defects")
    ]


# What does not count -------------------------------------------------------------


def _conflicts(
    visit: Table | None, titles: Mapping[str, str], tongue: Tongue
) -> list[str]:
    """What devices contradict each other in, with what each says."""
    if visit is None:
        return []
    by_id = {one["id"]: one for one in _listed(visit)}
    told: list[str] = []
    for one in visit["conflicts"]:
        says = (by_id[each] for each in one["events"] if each in by_id)
        said = "; ".join(f"{each['device']}: {_word(each, tongue)}" for each in says)
        of = _titled(one["of"], titles) or _say(tongue, "fixed.hand")
        told.append(_say(tongue, "paper.conflict", of=of, said=said))
    return told


def _listed(visit: Table) -> Iterable[Table]:
    sections = ("tests", "as_found", "readings", "handed_over")
    return (one for section in sections for one in visit.get(section, ()))


def _word(event: Table, tongue: Tongue) -> str:
    said = event["said"]
    if "question" in said:
        return said_event(event)
    if "answer" in said:
        return said_end(said)
    if "state" in said:
        return _say(tongue, f"hand.{_STATES[said['state']]}")
    return visible(str(said.get("value", "")))


def _apart(visit: Table | None, titles: Mapping[str, str], tongue: Tongue) -> list[str]:
    """What was taken back or set aside: its kind and what it was of."""
    if visit is None:
        return []
    return [
        _say(
            tongue,
            "paper.apart",
            what=_named(one, titles, tongue),
            at=hour(one["at"]),
            why=_say(tongue, f"why_apart.{one['why']}"),
        )
        for one in visit["apart"]
    ]


def _named(event: Table, titles: Mapping[str, str], tongue: Tongue) -> str:
    said = event["said"]
    kind = _say(tongue, f"kind.{event['kind']}")
    of = _titled(said["step"], titles) if "step" in said else said.get("text", "")
    word = _word(event, tongue) if "answer" in said or "state" in said else ""
    told = ", ".join(visible(one) for one in (of, word) if one)
    if not told:
        return kind
    return tongue.named(Message("record.paper.as_is", {"text": kind}), told)


# Photos --------------------------------------------------------------------------


def _photos(
    visit: Table | None, shown: Mapping[str, str], at_hand: Set[str], tongue: Tongue
) -> Iterator[Plain]:
    for one in _counting(visit, "photos"):
        said = one["said"]
        sha = said["sha256"]
        told = {"name": said["name"], "digest": f"{sha[:16]}…"}
        if sha not in at_hand:
            yield {"file": "", "says": _say(tongue, "paper.photo_missing", **told)}
            continue
        of = said.get("of")
        key = "photo_of" if of else "photo"
        says = _say(tongue, f"paper.{key}", **told, **({"of": of} if of else {}))
        yield {"file": shown.get(sha, ""), "says": says}
