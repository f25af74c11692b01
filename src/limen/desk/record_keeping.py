"""Records of visits in the library: sealed at the desk, or taken in from a phone.

A visit has one record and no other.  Sealed is the study of the doorway as the site's
text was when it was taken along, on the day of the visit.
"""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any, cast

from limen.desk.clock import now
from limen.desk.exporting import Exported
from limen.desk.key_files import FOLDER
from limen.desk.keys import Hand, Ring, hand, ring, trusted
from limen.desk.library import Desk, book_of, read_text
from limen.desk.library_sites import file_name
from limen.desk.record_paper import record_paper
from limen.desk.record_tests import answered_in, tests_of
from limen.desk.records import KIND, made, photo_digests, record_part
from limen.desk.refusal import Refusal
from limen.desk.reporting import Paper
from limen.desk.visits import Folded, folded, heads, record_of_bytes
from limen.desk.visits_photos import photo
from limen.findings import Message
from limen.quantity import Show
from limen.record import Verified, verify_bytes
from limen.store.database.records import (
    KeptRecord,
    add_paper,
    keep_record,
    record_named,
    records_at,
)
from limen.store.editing import digest as digest_of_text
from limen.words import say

if TYPE_CHECKING:
    from limen.desk.keys import Ask
    from limen.findings import Study
    from limen.model.site import Site
    from limen.rules import Rulebook

MOST_SEALED = 5_000_000

_ONE_AT_A_TIME = Lock()
"""A record's number is in it: two that are sealed at once must not take the same."""


@dataclass(frozen=True, slots=True)
class Judged:
    """What a visit's record rests on.

    Attributes:
        study: of the doorway on the day of the visit.
        book: what judged it.
        site: as it was taken along.
        digest: SHA-256 of the site's text.
    """

    study: "Study"
    book: "Rulebook"
    site: "Site"
    digest: str


def seal_visit(
    desk: Desk,
    site_id: str,
    visit: str,
    ask: "Ask",
    *,
    system: Show = Show.METRIC,
    paper: Paper | None = None,
) -> KeptRecord:
    """Seal the record of a visit, and its paper; of a sealed one, give what there is.

    Args:
        desk: the desk.
        site_id: the site.
        visit: id of the visit.
        ask: asks a person for the passphrase.
        system: units of the sentences.
        paper: size of the pages; that of the rulebook's country if not given.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: there is no such visit.
        Refusal: there is no key to seal with, the doorway is no longer in the text, or
            a letter cannot be printed.
    """
    holder = hand(keys_of(desk), ask)
    with _ONE_AT_A_TIME:
        found = folded(desk, site_id, visit)
        if found.record is not None:
            return _with_paper(desk, found.record, holder, system, paper)
        return _sealed(desk, found, holder, system, paper)


def _sealed(
    desk: Desk, found: Folded, holder: Hand, system: Show, paper: Paper | None
) -> KeptRecord:
    at, said = _judged(desk, found), found.json
    tests = tests_of(at.study, at.book, at.site, answered_in(said), system)
    files = {f"{file_name(at.site.name)}.toml": at.digest}
    part, contract = record_part(at.study, at.site, files, system=system, tests=tests)
    there = records_at(desk.library, found.site)
    number = max((one.number for one in there), default=0) + 1
    record = made(
        part,
        contract,
        holder,
        claimed=now(),
        number=number,
        parents=heads(records_at(desk.library, found.site, found.doorway)),
        visit=said,
    )
    pdf = record_paper(
        record.table,
        record.sealed,
        record.digest,
        holder,
        number=number,
        contract=contract,
        study=at.study,
        photos=_photos(desk, said),
        paper=paper,
    )
    return keep_record(
        desk.library,
        found.site,
        found.doorway,
        digest=record.digest,
        sealed=record.sealed,
        upto=found.upto,
        visit=found.visit,
        paper=pdf,
    )


def take_sealed(
    desk: Desk, site_id: str, doorway: str, visit: str, text: bytes
) -> KeptRecord:
    """Keep a record that a phone sealed at the door; the same again changes nothing.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: of which the visit is.
        visit: id of the visit.
        text: the sealed text.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: nothing of the visit has come in yet.
        Refusal: it is not what was sealed, of nobody whom this desk knows, of another
            visit, or the visit has another record.
    """
    from limen.report.record import readable

    found = folded(desk, site_id, visit)
    record = _trusted(desk, text)
    said = record.get("visit")
    of = cast("dict[str, object]", said).get("visit") if isinstance(said, dict) else ""
    if record.get("kind") != KIND or (of, record.get("doorway")) != (visit, doorway):
        raise _refused("other_visit")
    if not readable(record):
        raise _refused("not_record")
    with _ONE_AT_A_TIME:
        kept = keep_record(
            desk.library,
            site_id,
            doorway,
            digest=verify_bytes(text).digest,
            sealed=text,
            upto=found.upto,
            visit=visit,
        )
    if kept.sealed != text:
        raise _refused("has_another", number=kept.number)
    return kept


def _trusted(desk: Desk, text: bytes) -> dict[str, object]:
    """What a sealed text says that somebody known here sealed."""
    if len(text) > MOST_SEALED:
        raise _refused("large")
    knows = trusted(keys_of(desk))
    found: Verified = verify_bytes(text, firms=knows.firms, withdrawn=knows.withdrawn)
    if not found.unchanged or found.record is None or found.signer is None:
        raise _refused("not_sealed")
    if not found.signer.trusted:
        raise _refused("not_trusted", device=found.signer.device)
    return found.record


# What it rests on ----------------------------------------------------------------


def _judged(desk: Desk, found: Folded) -> Judged:
    """The study of the text that was taken along, on the day of the visit."""
    from limen.desk.checking import study

    text, name = _taken_along(desk, found)
    site = read_text(desk, text, name)[0].site
    try:
        door = site.door(found.doorway)
    except KeyError:
        raise _refused("no_doorway", doorway=found.doorway) from None
    book = book_of(desk, site, door)
    day = study(door, book, on=_day(desk, found), site=site)
    return Judged(day, book, site, digest_of_text(text))


def _taken_along(desk: Desk, found: Folded) -> tuple[str, str]:
    """The site's text that the visit began with; that of now if it is not here."""
    stored, begun = desk.library.read(found.site), found.found.started
    if begun is not None and begun.said.version <= stored.version:
        text = desk.library.text(found.site, begun.said.version)
        if digest_of_text(text) == begun.said.digest:
            return text, stored.name
    return stored.text, stored.name


def _day(desk: Desk, found: Folded) -> date:
    """The day of the visit as its devices claim it; never one that is yet to come."""
    return min(found.found.events[-1].moment.date(), desk.day())


def _photos(desk: Desk, said: dict[str, Any]) -> dict[str, bytes]:
    there = ((one, photo(desk, one)) for one in photo_digests(said))
    return {one: found[1] for one, found in there if found is not None}


# Paper ---------------------------------------------------------------------------


def _with_paper(
    desk: Desk, kept: KeptRecord, holder: Hand, system: Show, paper: Paper | None
) -> KeptRecord:
    """A record that a phone sealed, with the paper that only the desk can make."""
    if kept.paper is not None or kept.visit is None:
        return kept
    found = folded(desk, kept.site, kept.visit)
    table: dict[str, Any] = {**record_of_bytes(kept.sealed), "units": system.value}
    at = _judged(desk, found)
    pdf = record_paper(
        table,
        kept.sealed,
        kept.digest,
        holder,
        number=kept.number,
        study=at.study,
        photos=_photos(desk, table["visit"]),
        paper=paper,
    )
    add_paper(desk.library, kept.digest, pdf)
    return record_named(desk.library, kept.digest) or kept


# Keys and files ------------------------------------------------------------------


def keys_of(desk: Desk) -> Path:
    """The folder of keys beside a desk's library; it need not exist."""
    return desk.sheets.parent / FOLDER


def keys_there(desk: Desk) -> Ring:
    """What lies in the folder of keys of a desk.

    Raises:
        Refusal: something in it cannot be read.
    """
    return ring(keys_of(desk))


def records_of(
    desk: Desk, site_id: str, doorway: str | None = None
) -> tuple[KeptRecord, ...]:
    """The records of a doorway, or of a whole site, the last first."""
    return records_at(desk.library, site_id, doorway)


def sealed_file(desk: Desk, site_id: str, digest: str) -> Exported | None:
    """A record's sealed text, byte for byte; None if there is none."""
    kept = _kept(desk, site_id, digest)
    if kept is None:
        return None
    return Exported(f"{_named(kept)}.json", "application/json", kept.sealed)


def paper_file(desk: Desk, site_id: str, digest: str) -> Exported | None:
    """A record's paper, byte for byte; None if there is none."""
    kept = _kept(desk, site_id, digest)
    if kept is None or kept.paper is None:
        return None
    return Exported(f"{_named(kept)}.pdf", "application/pdf", kept.paper)


def _kept(desk: Desk, site_id: str, digest: str) -> KeptRecord | None:
    found = record_named(desk.library, digest)
    return found if found is not None and found.site == site_id else None


def _named(kept: KeptRecord) -> str:
    return f"record-{kept.number:04}-{kept.doorway}"


def _refused(key: str, /, **values: str | int) -> Refusal:
    return Refusal([say(Message(f"record.keep.{key}", values))])
