"""What a record says: the doorway's study of the day, the visit, and what came before.

A record's part that is known before anybody goes to the door is made here, so that a
phone can seal at the door what the desk would seal of it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from importlib.metadata import version
from typing import TYPE_CHECKING, Any, cast

from limen.exchange.recorded import recorded
from limen.quantity import Show
from limen.record import digest_of, seal_record
from limen.words import reading

if TYPE_CHECKING:
    from limen.desk.keys import Hand
    from limen.findings import Study
    from limen.model.site import Site
    from limen.record.canonical import Plain

KIND, SCHEMA = "record", 1

Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Made:
    """A sealed record.

    Attributes:
        table: what it says.
        sealed: its bytes.
        digest: SHA-256 of them, in hexadecimal: what names the record.
        contract: the whole study as JSON; its digest stands in the record.
    """

    table: Table
    sealed: bytes
    digest: str
    contract: str


def record_part(
    study: "Study",
    site: "Site",
    files: Mapping[str, str],
    *,
    system: Show = Show.METRIC,
    tests: Sequence[Table] = (),
) -> tuple[dict[str, Any], str]:
    """Everything that a record says before anybody goes to the door.

    Args:
        study: of the doorway.
        site: where it stands.
        files: SHA-256 of every file that the study rests on, by name.
        system: units of the sentences.
        tests: the tests offered at the door: id, title, whether it may be skipped.

    Returns:
        The part, and the whole contract of the study, which it names by digest.
    """
    said, whole = recorded(study, site=site.name, system=system)
    part: dict[str, Any] = {
        "kind": KIND,
        "schema": SCHEMA,
        "limen": version("limen"),
        "site": site.name,
        "place": site.place,
        "doorway": study.doorway.id,
        "name": study.doorway.name,
        "files": dict(files),
        "language": reading(),
        "units": system.value,
        "study": said,
        "tests": [dict(one) for one in tests],
    }
    return part, whole


def made(
    part: Table,
    contract: str,
    hand: "Hand",
    *,
    claimed: datetime,
    number: int | None,
    parents: Sequence[str],
    visit: Table | None,
) -> Made:
    """A record, sealed.

    Args:
        part: as `record_part` makes it.
        contract: the study's contract.
        hand: what seals.
        claimed: the time that the record claims to be sealed at.
        number: counts up at each site, from 1; None at the door, where nobody knows.
        parents: digests of the records of this doorway that came before.
        visit: what was done at the door, folded; None if nobody was there.
    """
    table: dict[str, Any] = {
        **part,
        "claimed": moment(claimed),
        "parents": sorted(parents),
        "visit": dict(visit) if visit is not None else None,
    }
    if number is not None:
        table["number"] = number
    plain = cast("Mapping[str, Plain]", table)
    sealed = seal_record(plain, hand.key, hand.certificate)
    return Made(table, sealed, digest_of(sealed), contract)


def moment(at: datetime) -> str:
    """A time as records have it: ``2026-11-26T10:12:00Z``."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def photo_digests(visit: Table | None) -> tuple[str, ...]:
    """The photos that a folded visit speaks of, each once, in order."""
    if visit is None:
        return ()
    photos = cast("Sequence[Table]", visit.get("photos", ()))
    return tuple(dict.fromkeys(one["said"]["sha256"] for one in photos))
