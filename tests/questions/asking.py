"""One question put to the reference doorway with changes."""

from collections.abc import Mapping
from datetime import date
from functools import cache

from builders.doorways import a_doorway
from limen.findings import Finding, Study, Verdict
from limen.model.doorway import Doorway
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook, Weight
from limen.store.bookshelf import open_shelf
from limen.study import study

Key = tuple[str, str | None, str | None]


@cache
def book(name: str = "en", edition: str = "2012") -> Rulebook:
    return open_shelf().edition(name, edition)


def asked(
    question: str,
    doorway: Doorway,
    rules: Rulebook | None = None,
    on: date | None = None,
) -> dict[tuple[str | None, str | None], Finding]:
    """What a question says of a doorway, by fitting and case."""
    rule = (rules or book()).rule_for(question, {})
    assert isinstance(rule, Rule)
    found = QUESTIONS[question].ask(Asked(doorway, settle(doorway), rule, on=on))
    by_key = {(f.fitting, f.case): f for f in found}
    assert len(by_key) == len(found)
    return by_key


def ask(
    question: str,
    changes: Mapping[str, object] | None = None,
    *,
    fitting: str | None = None,
    case: str | None = None,
    rules: Rulebook | None = None,
    on: date | None = None,
) -> Finding:
    """One finding of the changed reference doorway."""
    return asked(question, a_doorway(changes), rules, on)[fitting, case]


def studied(changes: Mapping[str, object] | None = None) -> Study:
    return study(a_doorway(changes), book())


def musts(found: Study) -> dict[Key, Finding]:
    """Everything that is more than advice."""
    return {f.key: f for f in found.findings if f.weight is not Weight.ADVICE}


RANK = {
    Verdict.FAILS: 0,
    Verdict.NOT_SHOWN: 1,
    Verdict.HOLDS: 2,
    Verdict.NOT_ASKED: 2,
}
"""How good a verdict is: doubt stands between."""
