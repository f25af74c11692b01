"""What lists say of a study, noted when one was made: written down later.

Looking at a doorway writes nothing.  What its study comes to waits in memory until
something is changed anyway.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from limen.exchange import tally
from limen.exchange.tally import DUE, MUST
from limen.findings import Finding, Study, Verdict
from limen.store.database import Stored
from limen.store.database.doors import DoorStudied

MOST_SEEN = 50_000
WORST = ("fails", "not shown", "advised", "")
"""Answers of a question, the worst first; what fails and is no must is advised."""
Door = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Studied:
    """Studies that were made.

    Attributes:
        waiting: by id of site and doorway, what is not yet in the library.
        seen: which were noted before: text, basis and day.
        checks: by site the next checks that are in the library.
    """

    waiting: dict[Door, DoorStudied] = field(default_factory=dict[Door, DoorStudied])
    seen: dict[Door, tuple[str, str, date]] = field(
        default_factory=dict[Door, tuple[str, str, date]]
    )
    checks: dict[str, object] = field(default_factory=dict[str, object])


def note_study(
    studied: Studied, stored: Stored, study: Study, key: str, on: date
) -> None:
    """Note what a study comes to, once for each text and day.

    Args:
        studied: where.
        stored: the site as it was studied.
        study: of one doorway.
        key: of all that it rests on beside text and day.
        on: the day.
    """
    door = stored.id, study.doorway.id
    rests_on = stored.digest, key, on
    if studied.seen.get(door) == rests_on:
        return
    if len(studied.seen) >= MOST_SEEN:
        studied.seen.clear()
    studied.seen[door] = rests_on
    studied.waiting[door] = said_of(study, stored.digest, key, on)


def note_unjudged(
    studied: Studied, door: Door, digest: str, key: str, on: date
) -> None:
    """Note that no edition judges a doorway, as long as its text stays.

    Args:
        studied: where.
        door: id of site and doorway.
        digest: SHA-256 of the text.
        key: of all that it rests on beside text and day.
        on: the day.
    """
    studied.waiting[door] = replace(_NOTHING, digest=digest, key=key, studied=f"{on}")


def said_of(study: Study, digest: str, key: str, on: date) -> DoorStudied:
    """What a list says of a study.

    Args:
        study: of one doorway.
        digest: SHA-256 of the text of its site.
        key: of all that it rests on beside text and day.
        on: the day.
    """
    every = [one for one in study.findings if one.question != DUE]
    checks = [one for one in study.findings if one.question == DUE]
    counts = tally(without_check(study.findings))
    return DoorStudied(
        digest=digest,
        key=key,
        studied=on.isoformat(),
        judged=True,
        mend=counts.mend,
        measure=counts.measure,
        office=counts.office,
        due_must=any(one.weight == MUST for one in checks),
        answers=_answers(every),
    )


def without_check(findings: Iterable[Finding]) -> list[Finding]:
    """Findings whose counts stand as long as the text does.

    Whether the next check is due hangs on the day and on all that is kept beside the
    text, and is counted whenever it is listed; that its figure is to be confirmed
    stands.
    """
    return [
        one for one in findings if one.question != DUE or one.verdict is Verdict.HOLDS
    ]


def _answers(findings: list[Finding]) -> dict[str, str]:
    """By question the worst that was answered, where something is to be done."""
    told: dict[str, str] = {}
    for one in findings:
        said = _answer(one)
        if said and WORST.index(said) < WORST.index(told.get(one.question, WORST[-1])):
            told[one.question] = said
    return told


def _answer(one: Finding) -> str:
    if one.verdict is Verdict.FAILS:
        return "fails" if one.weight == MUST else "advised"
    return "not shown" if one.verdict is Verdict.NOT_SHOWN else ""


_NOTHING = DoorStudied(
    digest="",
    key="",
    studied="",
    judged=False,
    mend=0,
    measure=0,
    office=0,
    due_must=False,
    answers={},
)
