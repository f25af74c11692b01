"""Rows of a study: what a table says is what was found."""

from dataclasses import replace
from datetime import date
from typing import Any

from builders.studies import CLAUSE, OTHER, failing, finding, not_shown, study
from limen.exchange.contract import doorway_contract
from limen.exchange.fleet_rows import FOUND, SUMMED, Rows, rows_of, rows_without
from limen.exchange.fleet_summary import MOST_NAMED, Summary, count, summed
from limen.findings import Lack, Message, Verdict
from limen.keep.due import Due
from limen.rules import Weight
from limen.words import say

FIGURE = "values: en.2012.leaf.closing_energy energy"
ENERGY = Message("lack.leaf_rule", {"what": Message("lack.limit.energy")})
DUE = Due("main", "Main", "overdue", date(2026, 1, 31), -3, OTHER, route="north")


def _rows(*findings: object, due: Due | None = DUE) -> Rows:
    return rows_of(study(*findings), "A library", "Harbour", due)  # pyright: ignore[reportArgumentType]


def _named(rows: Rows, number: int = 0) -> dict[str, object]:
    return dict(zip(FOUND, rows.findings[number], strict=True))


def _door(rows: Rows) -> dict[str, object]:
    return dict(zip(SUMMED, rows.door, strict=True))


def test_a_finding_says_in_its_row_what_it_says_as_json() -> None:
    found = failing()
    row = _named(_rows(found))
    as_json: Any = doorway_contract(study(found))
    told = as_json["findings"][0]
    for key in ("question", "fitting", "case", "weight", "stricter", "verdict"):
        assert row[key] == told[key]
    assert (row["margin"], row["unit"]) == (-0.014, "m")
    assert (row["because"], row["remedy"]) == (told["because"], told["remedy"])
    assert CLAUSE.document in str(row["clause"])


def test_what_would_settle_a_doubt_stands_by_its_keys() -> None:
    row = _named(_rows(not_shown("motion.braking", "leaves.mass")))
    assert row["to_settle"] == "motion.braking; leaves.mass"


def test_what_would_settle_a_doubt_is_said_as_the_finding_says_it() -> None:
    asked = finding(
        Verdict.NOT_SHOWN,
        lacking=(Lack(ENERGY, FIGURE), Lack(OTHER, "leaves.mass")),
    )
    rows = _rows(asked, finding(lacking=(Lack(OTHER, "motion.braking"),)))
    assert rows.lacks == {FIGURE: say(ENERGY), "leaves.mass": say(OTHER)}


def test_a_doorway_is_counted_and_its_worst_finding_named() -> None:
    worst = failing(question="presence.threshold")
    door = _door(_rows(not_shown("a.b"), worst, finding(), due=DUE))
    assert (door["fails"], door["not_shown"], door["holds"]) == (1, 1, 1)
    assert (door["mend"], door["worst"], door["worst_verdict"]) == (
        1,
        "presence.threshold",
        "fails",
    )
    assert (door["due"], door["next_due"]) == ("overdue", "2026-01-31")
    assert (door["person"], door["route"]) == (None, "north")


def test_where_nothing_is_bad_nothing_is_worst() -> None:
    door = _door(_rows(finding(), due=None))
    assert (door["worst"], door["worst_margin"]) == (None, None)
    assert (door["due"], door["next_due"]) == ("not asked", None)


def test_what_was_not_studied_has_a_row_with_the_reason() -> None:
    rows = rows_without("not read", "bad.toml: 1 fault", on=date(2026, 11, 26))
    assert _door(rows) | {"state": "not read", "told": "bad.toml: 1 fault"} == _door(
        rows
    )
    assert rows.findings == []


# Many ------------------------------------------------------------------------------


def _summed(*doors: Rows) -> dict[str, Any]:
    summary = Summary()
    for number, rows in enumerate(doors):
        count(summary, f"{number}.toml", rows)
    titles = {"en 2012": "A standard", "en 2023": "Its successor"}
    return summed(summary, titles, on="2026-11-26", version="0")


def test_a_question_counts_once_a_doorway_however_many_cases_fail() -> None:
    door = _rows(failing(case="upright"), failing(case="lying"))
    advised = _rows(finding(Verdict.FAILS, weight=Weight.ADVICE))
    told = _summed(door, door, advised)
    row = {"question": "presence.leaf_path", "doorways": 3, "as_must": 2}
    assert told["fails"] == [row]
    assert told["musts"] == {"fails": 2, "neither": 1}


def test_what_would_settle_most_stands_first() -> None:
    one, both = not_shown("a.b"), not_shown("c.d", "a.b", because=OTHER)
    told = _summed(_rows(one), _rows(both))
    assert list(told["settled_by"].items()) == [("a.b", 2), ("c.d", 1)]


def test_a_figure_that_would_settle_it_says_of_which_rulebook_it_is() -> None:
    asked = finding(Verdict.NOT_SHOWN, lacking=(Lack(ENERGY, FIGURE),))
    first, second = _summed(_rows(asked, not_shown("a.b")))["settles"]
    assert (first["key"], first["figure"], first["doorways"]) == ("a.b", None, 1)
    assert second == {
        "what": "your own copy's figure for the energy that a closing leaf may have",
        "key": FIGURE,
        "figure": {
            "rule": "en.2012.leaf.closing_energy",
            "limit": "energy",
            "rulebook": "en 2012",
            "title": "A standard",
        },
        "doorways": 1,
    }


def test_unread_files_are_counted_beside_the_doorways() -> None:
    unread = rows_without("not read", "why", on=date(2026, 11, 26))
    told = _summed(_rows(finding()), unread)
    assert told["states"] == {"not read": 1, "studied": 1}
    assert told["doorways"] == 2


def test_of_many_overdue_the_longest_overdue_are_named() -> None:
    late = [
        replace(DUE, day=date.fromordinal(739000 - n), left=-n)
        for n in range(3 * MOST_NAMED)
    ]
    told = _summed(*(_rows(finding(), due=one) for one in late))
    assert told["due"] == {"overdue": 3 * MOST_NAMED}
    named = [one["due"] for one in told["late"]]
    assert named == sorted(one.day.isoformat() for one in late if one.day)[:MOST_NAMED]
