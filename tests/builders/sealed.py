"""A record of a doorway, sealed by keys of these tests, without asking anybody."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import pytest

from builders.visit_events import STARTED, raw
from limen.desk import changes_file
from limen.desk.changes_doors import At
from limen.desk.checking import check
from limen.desk.keys import Hand
from limen.desk.records import made, record_part
from limen.desk.visits_folded import folded_json
from limen.desk.visits_intake import read_event
from limen.model.visited import visited
from limen.prove.minimum import minimum
from limen.record import seal_paper
from limen.record.canonical import Plain, canonical
from limen.study.running import asked_of
from record.signing import CERTIFICATE, DEVICE

if TYPE_CHECKING:
    from limen.store.sitefile import SiteFile

DAY = date(2026, 11, 26)
CLAIMED = datetime(2026, 11, 26, 12, 0, tzinfo=UTC)
Said = tuple[str, dict[str, Any]]


def row(out: str, fitting: str = "inside") -> dict[str, Any]:
    """A first row, read at the middle of the opening."""
    reading = {"kind": "row line", "out": out, "along": "0 mm", "row": 1}
    return {"fitting": fitting, "reading": reading}


def step(which: str, answer: str = "stayed open") -> Said:
    """A test and how it ended."""
    return ("step", {"step": which, "answer": answer})


def taps(
    digest: str,
    said: Sequence[Said],
    *,
    phone: str = "phone-a",
    visit: str,
    **more: Any,
) -> list[dict[str, Any]]:
    """Events of a visit, from its beginning."""
    begun = ("started", STARTED | {"digest": digest} | more)
    return [
        raw(phone, seq, kind, told, visit=visit)
        for seq, (kind, told) in enumerate((begun, *said), 1)
    ]


def least(site: Path, doorway: str = "main") -> list[str]:
    """Ids of the tests of a doorway that are never left out."""
    checked = check(site, doorway, on=DAY)
    door, book = checked.studies[0].doorway, checked.rulebooks[0]
    return [one.id for one in minimum(asked_of(door, book, on=DAY, site=checked.site))]


def digest_of(site: Path) -> str:
    """SHA-256 of a site file's text, as records have it."""
    return dict(check(site, "main", on=DAY).files)[site.name]


def sealed(site: Path, said: Sequence[Said] | None, doorway: str = "main") -> bytes:
    """A record of a doorway and of a visit there; of no visit if None."""
    checked = check(site, doorway, on=DAY)
    files = dict(checked.files)
    part, contract = record_part(checked.studies[0], checked.site, files)
    visit: Mapping[str, Any] | None = None
    if said is not None:
        raws = taps(
            files[site.name], said, visit="4f0c7a52-9a1e-4c41-8d0a-6a2f3f2b7c10"
        )
        texts = (canonical(cast("Plain", one)).decode() for one in raws)
        by_id = {one["id"]: one for one in raws}
        visit = folded_json(visited(map(read_event, texts)), by_id)
    record = made(
        part,
        contract,
        Hand(DEVICE, CERTIFICATE),
        claimed=CLAIMED,
        number=7,
        parents=(),
        visit=visit,
    )
    return record.sealed


def on_paper(record: bytes) -> bytes:
    """The least PDF in which a record travels, sealed over all of it."""
    page = b"%PDF-1.7\n1 0 obj\n<< /Type /EmbeddedFile >>\nstream\n" + record
    page += b"\nendstream\nendobj\nstartxref\n0\n%%EOF\n"
    return seal_paper(page, DEVICE, CERTIFICATE)


@contextmanager
def studying_once() -> Iterator[None]:
    """Meanwhile equal site files are studied once, however often they are compared."""
    kept: dict[tuple[str, str], At] = {}
    at = changes_file._at  # pyright: ignore[reportPrivateUsage]

    def remembered(file: "SiteFile", doorway: str, day: date) -> At:
        key = file.digest, doorway
        if key not in kept:
            kept[key] = at(file, doorway, day)
        return kept[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(changes_file, "_at", remembered)
        yield
