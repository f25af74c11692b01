"""What a record says was found, for paper: what is open at length, the rest brief."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from limen.exchange.symbols import SI
from limen.findings import Margin, Message
from limen.report.tongue import Plain, Tongue, sentence
from limen.words import said_case, said_margin, say_unit, visible

MUST, ADVICE = "must", "advice"
HOLDS, FAILS, NOT_SHOWN, NOT_ASKED = "holds", "fails", "not shown", "not asked"
MOST_CASES = 2
"""Cases that are named; of the rest only how many."""

_DIMENSIONS = {symbol: dimension for dimension, symbol in SI.items()}

Table = Mapping[str, Any]


def found(table: Table, tongue: Tongue) -> Plain:
    """The findings of a record, sorted by what is to be done.

    Args:
        table: the record.
        tongue: the reader's language and units.
    """
    study = table["study"]
    rows: Sequence[Table] = study["findings"]
    asked = [one for one in rows if one["weight"] != ADVICE]
    clauses = [_clause(one, tongue) for one in study["authorities"]]
    holding = _of(asked, HOLDS)
    return {
        "counts": list(_counts(asked, tongue)),
        "open": list(_opened(_worst_first(asked), clauses, tongue)),
        "holds": [_holds(one, clauses, tongue) for one in holding],
        "advice": [_titles_of(one, tongue) for one in _advised(rows)],
        "not_asked": list(_not_asked(_of(rows, NOT_ASKED), tongue)),
        "assumed": [sentence(visible(one)) for one in study["assumed"]],
        "overrides": [visible(one) for one in study["overrides"]],
        "to_confirm": any(one.get("to_confirm") for one in holding),
    }


def _of(rows: Iterable[Table], verdict: str) -> list[Table]:
    return [one for one in rows if one["verdict"] == verdict]


def _worst_first(rows: Sequence[Table]) -> list[Table]:
    """What fails before what is not shown, musts before what should be."""
    order = {
        (verdict, must): 2 * (verdict == NOT_SHOWN) + (not must)
        for verdict in (FAILS, NOT_SHOWN)
        for must in (True, False)
    }
    open_ = [one for one in rows if one["verdict"] in {FAILS, NOT_SHOWN}]
    return sorted(open_, key=lambda one: order[one["verdict"], one["weight"] == MUST])


def _counts(rows: Sequence[Table], tongue: Tongue) -> Iterator[Plain]:
    """How many questions fail, are not shown, hold: by their worst answer each."""
    worst: dict[str, str] = {}
    for verdict in (FAILS, NOT_SHOWN, HOLDS):
        for one in _of(rows, verdict):
            worst.setdefault(one["question"], verdict)
    for verdict in (FAILS, NOT_SHOWN, HOLDS):
        count = list(worst.values()).count(verdict)
        if count:
            said = tongue.count(f"counted.{verdict}", count)
            yield {"kind": _mark(verdict), "said": said}


def _mark(verdict: str) -> str:
    return "unshown" if verdict == NOT_SHOWN else verdict


def _opened(
    rows: Iterable[Table], clauses: Sequence[str], tongue: Tongue
) -> Iterator[Plain]:
    """Each with what to do; what was printed once is pointed to afterwards."""
    told: dict[str, str] = {}
    for row in rows:
        one = _open(row, clauses, tongue)
        remedy, title = str(one["remedy"]), str(one["title"])
        first = told.setdefault(remedy, title)
        again = bool(remedy) and first != title
        same = tongue.say(Message("report.same_as", {"title": first}))
        yield {**one, "remedy": same if again else remedy}


def _open(row: Table, clauses: Sequence[str], tongue: Tongue) -> Plain:
    weight = row["weight"]
    return {
        "kind": _mark(row["verdict"]),
        "verdict": tongue.say(Message(f"verdict.{row['verdict']}")),
        "title": tongue.question(row["question"]),
        "weight": "" if weight == MUST else tongue.say(Message(f"weight.{weight}")),
        "where": _where(row["cases"], tongue),
        "room": "" if row["verdict"] == NOT_SHOWN else _room(row["cases"], tongue),
        "because": sentence(visible(row.get("because", ""))),
        "remedy": sentence(visible(row.get("remedy", ""))),
        "clause": _by(row, clauses, tongue),
    }


def _holds(row: Table, clauses: Sequence[str], tongue: Tongue) -> Plain:
    many = len(row["cases"])
    return {
        "title": tongue.question(row["question"]),
        "cases": tongue.count("report.cases", many) if many > 1 else "",
        "room": _room(row["cases"], tongue),
        "clause": _by(row, clauses, tongue),
        "to_confirm": bool(row.get("to_confirm")),
    }


def _room(cases: Sequence[Table], tongue: Tongue) -> str:
    """The least room among cases that say any, as far as it is certain."""
    margins = [
        Margin(one["margin"]["value"], one["margin"]["u"], dimension)
        for one in cases
        if "margin" in one and (dimension := _DIMENSIONS.get(one["margin"]["unit"]))
    ]
    least = min(margins, key=lambda one: one.least, default=None)
    return tongue.say(said_margin(least)) if least else ""


def _where(cases: Sequence[Table], tongue: Tongue) -> str:
    said = [one for one in (_case(case, tongue) for case in cases) if one]
    told = tongue.apart(said[:MOST_CASES])
    more = len(said) - MOST_CASES
    if more <= 0:
        return told
    return tongue.apart([told, tongue.count("record.paper.more_cases", more)])


def _case(case: Table, tongue: Tongue) -> str:
    parts: list[str] = []
    if "fitting" in case:
        parts.append(say_unit(case["fitting"], language=tongue.language))
    if "case" in case:
        parts.append(said_case(case["case"], language=tongue.language))
    return ", ".join(parts)


def _by(row: Table, clauses: Sequence[str], tongue: Tongue) -> str:
    by: Sequence[int] = row["by"]
    return tongue.apart(dict.fromkeys(clauses[at] for at in by))


def _clause(authority: Table, tongue: Tongue) -> str:
    return tongue.clause(visible(authority["document"]), authority["clause"])


def _advised(rows: Sequence[Table]) -> list[Table]:
    return [one for one in _of(rows, FAILS) if one["weight"] == ADVICE]


def _titles_of(row: Table, tongue: Tongue) -> str:
    where = _where(row["cases"], tongue)
    title = tongue.question(row["question"])
    return f"{title} ({where})" if where else title


def _not_asked(rows: Sequence[Table], tongue: Tongue) -> Iterator[Plain]:
    """What was not asked, together where the reason is the same."""
    because: dict[str, dict[str, None]] = {}
    for one in rows:
        title = tongue.question(one["question"])
        because.setdefault(visible(one.get("because", "")), {})[title] = None
    for reason, titles in because.items():
        yield {"titles": tongue.apart(titles), "because": reason}
