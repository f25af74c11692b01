"""Records that Python and the page make and check alike, byte for byte.

``python -m desk.record_cases`` from ``tests/`` writes them to ``tests/shared/records``;
a test holds that they are still what they were.
"""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, cast

from builders.records import events
from limen.desk.keys import Hand, Trusted
from limen.desk.records import Made, made
from limen.desk.verifying import check_bytes
from limen.desk.visits_folded import folded_json
from limen.desk.visits_intake import read_event
from limen.model.visited import visited
from limen.record import withdraw
from limen.record.canonical import Plain, canonical
from record.signing import CERTIFICATE, DEVICE, FIRM

FOLDER = Path(__file__).parents[1] / "shared" / "records"
CLAIMED = datetime(2026, 11, 26, 10, 40, tzinfo=UTC)
PARENTS = ("ab" * 32, "0f" * 32)
SEED = bytes(range(32, 64))
"""Of the device's key; it is public, and seals nothing but this."""

MARGIN = {"value": 6e-7, "unit": "m", "u": 0.0}
PART: dict[str, Any] = {
    "kind": "record",
    "schema": 1,
    "limen": "0.0.0",
    "site": "Alder Quay Library",
    "place": "Alder Quay",
    "doorway": "main",
    "name": "Main entrance, on the quay – “Haupteingang”",
    "files": {"alder-quay.toml": "cd" * 32},
    "language": "en",
    "units": "metric",
    "study": {
        "rulebook": "en",
        "edition": "2012",
        "rulebook_digest": "ef" * 32,
        "on": "2026-11-26",
        "contract": "12" * 32,
        "authorities": [
            {"document": "EN 16005:2012", "clause": "4.6.2.2", "grade": "seen"}
        ],
        "findings": [
            {
                "question": "presence.threshold",
                "weight": "must",
                "verdict": "holds",
                "by": [0],
                "cases": [
                    {
                        "case": "upright",
                        "margin": {"value": 6e-7, "unit": "m", "u": 0.0},
                    }
                ],
            }
        ],
        "assumed": [],
        "owed": [],
        "overrides": [],
    },
    "tests": [
        {"id": "box.middle", "title": "Box upright in the middle", "minimum": True}
    ],
}


def fold(raws: list[dict[str, Any]]) -> dict[str, Any]:
    """Events of a visit as a record holds them."""
    by_id = {one["id"]: one for one in raws}
    told = (read_event(canonical(cast("Plain", one)).decode()) for one in raws)
    return folded_json(visited(told), by_id)


def sealed(raws: list[dict[str, Any]]) -> Made:
    """A record of a visit as a phone seals it: without a number."""
    return made(
        PART,
        "",
        Hand(DEVICE, CERTIFICATE),
        claimed=CLAIMED,
        number=None,
        parents=PARENTS,
        visit=fold(raws),
    )


def visit_case() -> dict[str, Any]:
    """Everything that goes into a record, and the bytes that come out."""
    raws = events("main")
    one = sealed(raws)
    return {
        "part": PART,
        "events": raws,
        "claimed": "2026-11-26T10:40:00Z",
        "parents": list(PARENTS),
        "seed": SEED.hex(),
        "certificate": CERTIFICATE.decode(),
        "visit": fold(raws),
        "sealed": one.sealed.decode(),
        "digest": one.digest,
    }


def check_cases() -> Iterator[dict[str, Any]]:
    """The record as it was, changed, of unknown firms, of a device withdrawn."""
    file = sealed(events("main")).sealed
    lost = withdraw(FIRM, DEVICE.public, "left in a train", since=date(2026, 11, 27))
    known, gone = (FIRM.public,), (lost,)
    changed = {
        "the answer to a test": file.replace(b'"lamp only"', b'"Lamp only"', 1),
        "a name": file.replace(b"R. Okafor", b"R. Okafur", 1),
        "a parent left out": file.replace(
            b'"parents":["' + b"0f" * 32 + b'",', b'"parents":['
        ),
        "written with spaces": json.dumps(json.loads(file)).encode(),
        "cut short": file[:-200],
        "a line more": file + b"\n",
    }
    yield _case("as it was sealed", file, Trusted(known))
    yield _case("of a firm unknown", file, Trusted())
    yield _case("of a device withdrawn", file, Trusted(known, gone))
    for name, text in changed.items():
        yield _case(f"changed: {name}", text, Trusted(known))
    yield _case("no record", b'{"site": "Alder Quay Library"}', Trusted(known))


def _case(name: str, file: bytes, trusted: Trusted) -> dict[str, Any]:
    found, state = check_bytes(file, trusted)
    return {
        "name": name,
        "file": file.decode(),
        "firms": list(trusted.firms),
        "withdrawn": [one.decode() for one in trusted.withdrawn],
        "unchanged": found.unchanged,
        "where": found.where,
        "state": state,
    }


def texts() -> dict[str, str]:
    """The files by name."""
    said = {"visit.json": visit_case(), "checks.json": list(check_cases())}
    return {
        name: json.dumps(one, indent=1, ensure_ascii=False) + "\n"
        for name, one in said.items()
    }


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in texts().items():
        (FOLDER / name).write_text(text, "utf-8")
