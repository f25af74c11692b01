"""The pages of one doorway: what must be mended at length, what holds in brief."""

from collections.abc import Iterable, Sequence

from limen.exchange import tally
from limen.exchange.groups import Group, groups
from limen.exchange.tally import MUST, for_office
from limen.findings import Finding, Message, Study, Verdict
from limen.report.drawings import plan_key
from limen.report.front import counted
from limen.report.tongue import Plain, Tongue, clauses, sentence
from limen.words import of_case, said_room, said_where

CAVEAT = "owed.geometry_only"
MOST_REMEDIES = 3
MOST_DOCUMENTS = 2
"""Named behind an answer; every figure stands at the end with its own."""


def doorway(study: Study, tongue: Tongue) -> Plain:
    """One doorway's findings as plain values."""
    rows = groups(study.findings, every=False)
    return {
        "id": study.doorway.id,
        "name": study.doorway.name,
        "under": f"{study.doorway.id} · {study.rulebook} {study.edition}",
        "counts": counted(tally(study.findings), tongue),
        "mend": _blocks(_of(rows, Verdict.FAILS, must=True), tongue),
        "advised": _blocks(_of(rows, Verdict.FAILS, must=False), tongue),
        "unshown": [_unshown(one, tongue) for one in _of(rows, Verdict.NOT_SHOWN)],
        "measure": _to_measure(study, tongue),
        "holds": [_row(one, tongue) for one in _of(rows, Verdict.HOLDS)],
        "not_asked": _not_asked(_of(rows, Verdict.NOT_ASKED), tongue),
        "caveat": _caveat(study, tongue),
        "owed": _owed(study, tongue),
        "assumed": _assumed(study, tongue),
        "overrides": list(study.overrides),
    }


def _of(
    rows: Sequence[Group], verdict: Verdict, *, must: bool | None = None
) -> list[Group]:
    return [
        one
        for one in rows
        if one.worst.verdict is verdict
        and (must is None or (one.worst.weight == MUST) is must)
    ]


# What is to be done -------------------------------------------------------------


def _blocks(rows: Sequence[Group], tongue: Tongue) -> list[Plain]:
    """Blocks worst first; a remedy printed once is pointed to afterwards."""
    told: dict[str, str] = {}
    return [_block(one, tongue, told) for one in rows]


def _block(group: Group, tongue: Tongue, told: dict[str, str]) -> Plain:
    worst = group.worst
    title = tongue.question(worst.question)
    return {
        **_heading(group, tongue),
        "key": plan_key(worst),
        "because": sentence(tongue.say(worst.because)),
        "remedies": _remedies(group, title, tongue, told),
        "clause": clauses(group.all, tongue, MOST_DOCUMENTS),
    }


def _heading(group: Group, tongue: Tongue) -> Plain:
    worst = group.worst
    weight = "" if worst.weight == MUST else f"weight.{worst.weight}"
    room = said_room(worst)
    return {
        "title": tongue.question(worst.question),
        "where": said_where(worst, language=tongue.language),
        "verdict": tongue.say(Message(f"verdict.{worst.verdict}")),
        "weight": tongue.say(Message(weight)) if weight else "",
        "room": tongue.say(room) if room else "",
        "others": _others(group, tongue),
    }


def _others(group: Group, tongue: Tongue) -> str:
    """How the other cases stand: "other cases: 2 fail, 3 hold"."""
    parts = [
        tongue.count(f"counted.{verdict}", count)
        for verdict, count in group.counted().items()
    ]
    if not parts:
        return ""
    return tongue.say(Message("cli.others", {"counts": ", ".join(parts)}))


def _remedies(
    group: Group, title: str, tongue: Tongue, told: dict[str, str]
) -> list[str]:
    """What mends a block; several are told apart by the case they belong to."""
    mends: dict[str, str] = {}
    for one in group.all:
        if one.verdict is Verdict.FAILS and one.remedy:
            where = said_where(one, language=tongue.language)
            mends.setdefault(sentence(tongue.say(one.remedy.message)), where)
    texts: list[str] = []
    for text in list(mends)[:MOST_REMEDIES]:
        first = told.setdefault(text, title)
        same = Message("report.same_as", {"title": first})
        own = of_case(text, mends[text]) if len(mends) > 1 else text
        texts.append(sentence(own) if first == title else tongue.say(same))
    return list(dict.fromkeys(texts))


# What is not shown --------------------------------------------------------------


def _unshown(group: Group, tongue: Tongue) -> Plain:
    reasons = (
        tongue.say(one.because) for one in group.all if one.verdict is Verdict.NOT_SHOWN
    )
    return {
        **_heading(group, tongue),
        "because": " ".join(list(dict.fromkeys(reasons))[:2]),
        "clause": clauses(group.all, tongue),
    }


def _to_measure(study: Study, tongue: Tongue) -> list[Plain]:
    """What would settle findings at the door, each thing once."""
    settles: dict[tuple[str, str], list[str]] = {}
    for finding in study.of(Verdict.NOT_SHOWN):
        for lack in finding.lacking:
            if not for_office(lack.key):
                named = settles.setdefault((tongue.say(lack.message), lack.key), [])
                named.append(tongue.question(finding.question))
    return [
        {
            "what": sentence(what),
            "key": key,
            "settles": tongue.apart(dict.fromkeys(names)),
        }
        for (what, key), names in settles.items()
    ]


# What holds ---------------------------------------------------------------------


def _row(group: Group, tongue: Tongue) -> Plain:
    cases = len(group.all)
    room = said_room(group.worst)
    return {
        "title": tongue.question(group.worst.question),
        "cases": tongue.count("report.cases", cases) if cases > 1 else "",
        "room": tongue.say(room) if room else "",
        "clause": clauses(group.all, tongue, MOST_DOCUMENTS),
        "to_confirm": group.to_confirm,
    }


def _not_asked(rows: Iterable[Group], tongue: Tongue) -> list[Plain]:
    """What was not asked, put together where the reason is the same."""
    because: dict[str, list[str]] = {}
    for group in rows:
        reason = tongue.say(group.worst.because)
        because.setdefault(reason, []).append(tongue.question(group.worst.question))
    return [
        {"titles": tongue.apart(dict.fromkeys(titles)), "because": reason}
        for reason, titles in because.items()
    ]


# What it rests on ---------------------------------------------------------------


def _caveat(study: Study, tongue: Tongue) -> str:
    """The caveat under what holds by geometry, if anything does."""
    owed = (one for finding in study.findings for one in finding.owed)
    said = next((one for one in owed if one.key == CAVEAT), None)
    return tongue.say(said) if said else ""


def _owed(study: Study, tongue: Tongue) -> list[str]:
    """The tests and readings that are owed where something holds, each once."""
    holding: tuple[Finding, ...] = study.of(Verdict.HOLDS)
    owed = (one for finding in holding for one in finding.owed if one.key != CAVEAT)
    return list(dict.fromkeys(tongue.say(one) for one in owed))


def _assumed(study: Study, tongue: Tongue) -> list[Plain]:
    """What was taken for granted, put together by how well it is known."""
    by_grade: dict[str, dict[str, None]] = {}
    for one in (one for finding in study.findings for one in finding.assumed):
        said = tongue.say(Message("report.taken", {"why": one.why, "value": one.value}))
        grade = tongue.say(Message(f"grade.{one.grade}"))
        by_grade.setdefault(grade, {})[sentence(said)] = None
    return [{"grade": one, "said": list(said)} for one, said in by_grade.items()]
