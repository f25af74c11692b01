"""A doorway's study as the desk knows it: its check counted from all that is kept.

The study stays one of the text.  Only the answers to when the next check is due are
asked again of what the list of what is due is folded from: page and list agree.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from limen.desk.due_kept import due_at
from limen.desk.library import Desk, Opened, book_of, study_of
from limen.findings import Finding, Message, Study
from limen.store.database.witnesses import visit_of

if TYPE_CHECKING:
    from limen.keep.due import Due
    from limen.keep.folding import Said

Kind = Literal["record", "visit", "report", "text"]
KINDS: dict[str, Kind] = {
    "due.source.record": "record",
    "due.source.unnumbered": "record",
    "due.source.visit": "visit",
    "due.source.report": "report",
    "due.source.text": "text",
}


@dataclass(frozen=True, slots=True)
class ToldBy:
    """What an answer rests on beside the site's text.

    Attributes:
        source: what it is called.
        kind: what it is.
        of: the digest of a record, the id of a visit or of a report, the number of a
            version of the text.
        visit: the visit of which a record is; empty if of none.
    """

    source: Message
    kind: Kind
    of: str
    visit: str = ""


@dataclass(frozen=True, slots=True)
class KnownStudy:
    """A study with what is known of the next check.

    Attributes:
        study: every finding; those of the next check as all that is kept here has them.
        due: the same check as the list of what is due has it; None where none is asked.
        own: what the text alone answers, where that is something else.
        told: what the answers rest on beside the text.
    """

    study: Study
    due: "Due | None" = None
    own: tuple[Finding, ...] = ()
    told: tuple[ToldBy, ...] = ()


def known_study_of(desk: Desk, opened: Opened, doorway_id: str) -> KnownStudy:
    """All findings of a doorway, its next check counted as the list of checks counts.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    return as_known(desk, opened, study_of(desk, opened, doorway_id))


def as_known(desk: Desk, opened: Opened, study: Study) -> KnownStudy:
    """A study of a text with its next check as all that is kept here has it.

    Args:
        desk: the desk.
        opened: the site.
        study: of one of its doorways, on the day of the desk.
    """
    from limen.keep.due_known import differs, known_findings

    door = opened.doorway(study.doorway.id)
    every = due_at(desk, opened.stored.id).every
    one = next((each for each in every if each.doorway == door.id), None)
    if one is None:
        return KnownStudy(study)
    book = book_of(desk, opened.site, door)
    found = known_findings(door, book, desk.day(), opened.site, one)
    known = {each.key: each for each in found}
    own = (
        each
        for each in study.findings
        if each.key in known and differs(each, known[each.key])
    )
    findings = tuple(known.get(each.key, each) for each in study.findings)
    shown = replace(study, findings=findings)
    return KnownStudy(shown, one, tuple(own), tuple(_told(desk, one)))


def _told(desk: Desk, one: "Due") -> Iterator[ToldBy]:
    """Records, visits, reports and texts on which a check rests, each once."""
    met = set[tuple[str, str]]()
    for each in (one.pending, one.last):
        if each is None or each.source.key not in KINDS or not each.of:
            continue
        if (each.source.key, each.of) not in met:
            met.add((each.source.key, each.of))
            yield _told_by(desk, each)


def _told_by(desk: Desk, said: "Said") -> ToldBy:
    kind = KINDS[said.source.key]
    visit = visit_of(desk.library, said.of) if kind == "record" else ""
    return ToldBy(said.source, kind, said.of, visit or "")
