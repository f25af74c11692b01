"""A doorway that has lived: five years of visits, records, texts and words between."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from builders.pictures import png
from builders.visit_events import STARTED, name, step
from limen.desk.library import Desk, open_desk, open_site, study_of
from limen.desk.library_sites import add_demo
from limen.desk.visits import Folded, folded, heads
from limen.desk.visits_intake import take_in
from limen.desk.visits_photos import take_piece
from limen.exchange.recorded import recorded
from limen.store.database.records import keep_record, records_at

DOOR = "main"
TODAY = date(2026, 11, 26)
PICTURE = png(160, 120)
PHOTO = sha256(PICTURE).hexdigest()
LEFT_AT = "56 mm ± 2 mm"
FOUND_AT = ("61 mm ± 2 mm", "62 mm ± 2 mm", "61 mm ± 2 mm", "63 mm ± 2 mm")
HEIGHTS = ("2204 mm", "2203 mm", "2201 mm", "2200 mm")


@dataclass
class Clock:
    """A day that can be set."""

    day: date

    def today(self) -> date:
        """The day it is."""
        return self.day

    def now(self) -> datetime:
        """Noon of it."""
        return datetime(self.day.year, self.day.month, self.day.day, 12, tzinfo=UTC)


@dataclass(frozen=True)
class Lived:
    """A desk with one site of which the main doorway has lived."""

    desk: Desk
    clock: Clock
    site: str

    def visit(self, number: int) -> str:
        """Id of a visit."""
        return name(f"lived-{self.site}", number)

    def tap(self, number: int, *said: tuple[str, dict[str, Any]]) -> Folded:
        """A visit of the day it is."""
        visit, phone = self.visit(number), f"phone-{number}-{self.site}"
        events = [
            {
                "id": name(phone, seq),
                "device": phone,
                "seq": seq,
                "visit": visit,
                "site": self.site,
                "doorway": DOOR,
                "at": f"{self.clock.day.isoformat()}T10:{seq:02}:00Z",
                "kind": kind,
                "said": told,
            }
            for seq, (kind, told) in enumerate(said, 1)
        ]
        done = take_in(self.desk, json.dumps({"events": events}).encode())
        assert done.bad is None, done.bad
        return folded(self.desk, self.site, visit)

    def seal(self, one: Folded) -> None:
        """A record of a visit; nobody looks at its seal here."""
        desk, opened = self.desk, open_site(self.desk, self.site)
        said, _ = recorded(study_of(desk, opened, DOOR), site=opened.site.name)
        parents = heads(records_at(desk.library, self.site, DOOR))
        table = {
            "files": {"site.toml": opened.stored.digest},
            "study": said,
            "tests": [],
            "visit": one.json,
            "parents": list(parents),
        }
        sealed = json.dumps({"record": table}).encode()
        keep_record(
            desk.library,
            self.site,
            DOOR,
            digest=sha256(sealed).hexdigest(),
            sealed=sealed,
            visit=one.visit,
            upto=one.upto,
        )

    def taped(self, height: str) -> None:
        """The height of the inside unit's lens is taped anew, and written down."""
        stored = self.desk.library.read(self.site)
        door = stored.text.index(f'id = "{DOOR}"')
        unit = stored.text.index('id = "inside"', door)
        start = stored.text.index('height = "', unit)
        end = stored.text.index('"', start + len('height = "')) + 1
        text = f'{stored.text[:start]}height = "{height}"{stored.text[end:]}'
        self.desk.library.save(self.site, text, stored.version)


def row(out: str, fitting: str = "inside") -> dict[str, Any]:
    """Where a unit's first row was found, in the middle."""
    reading = {"kind": "row line", "out": out, "along": "0 mm", "row": 1}
    return {"fitting": fitting, "reading": reading}


@contextmanager
def lived_door(path: Path, *, records: bool = True) -> Iterator[Lived]:
    """A library in a file, in which a doorway has lived until today.

    Args:
        path: the file.
        records: whether its visits were sealed: each takes a study.
    """
    clock = Clock(date(2022, 11, 21))
    desk = open_desk(path, today=clock.today)
    desk = replace(desk, library=replace(desk.library, clock=clock.now))
    try:
        one = Lived(desk, clock, add_demo(desk, "corrected").id)
        _live(one, records=records)
        clock.day = TODAY
        yield one
    finally:
        desk.library.close()


def _live(one: Lived, *, records: bool) -> None:
    seal = one.seal if records else folded_only
    first = one.tap(
        1,
        ("started", STARTED | {"found": "new", "budget": "acceptance"}),
        ("reading", row(LEFT_AT)),
        ("step", step("stayed open", "box.left")),
        ("handed_over", {"state": "in use"}),
    )
    seal(first)
    years = zip(range(2023, 2027), FOUND_AT, HEIGHTS, strict=True)
    for number, (year, out, height) in enumerate(years, 2):
        one.clock.day = date(year, 11, 18 + number)
        one.taped(height)
        seal(one.tap(number, *_yearly(number, out)))


def _yearly(number: int, out: str) -> list[tuple[str, dict[str, Any]]]:
    said = [
        ("started", STARTED | {"person": "M. Lind"}),
        ("as_found", row(out)),
        ("step", step("touched" if number == 4 else "stayed open", "box.left")),
        ("reading", row(LEFT_AT)),
    ]
    if number != 4:
        return [*said, ("handed_over", {"state": "in use"})]
    photo = {
        "name": "guide.png",
        "sha256": PHOTO,
        "bytes": len(PICTURE),
        "width": 160,
        "height": 120,
        "of": "Guide",
    }
    over = {"state": "in use with defects", "told": "A. Keeper"}
    return [
        *said,
        ("photo", photo),
        ("defect", {"text": "Floor guide is loose", "told": "A. Keeper"}),
        ("handed_over", over),
    ]


def folded_only(one: Folded) -> None:
    """A visit that nobody sealed."""
    assert one.record is None


def give_photo(one: Lived) -> None:
    """The bytes of the photo come in."""
    take_piece(one.desk, PHOTO, PICTURE)
