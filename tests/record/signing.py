"""A firm, its device and a small record; the keys are of fixed, public seeds."""

from datetime import date

from limen.record import certify, seal_record
from limen.record.keys import from_seed

FIRM = from_seed(bytes(range(32)))
DEVICE = from_seed(bytes(range(32, 64)))
STRANGER = from_seed(bytes(range(64, 96)))
SINCE = date(2026, 11, 2)
CERTIFICATE = certify(FIRM, "Weir & Söhne", DEVICE.public, "Tablet 3", since=SINCE)
RECORD = {
    "number": "main-0007",
    "doorway": "main",
    "claimed": "2026-11-25T10:12:00Z",
    "parents": ["0" * 64],
    "steps": [{"step": "upright-middle", "found": "reopened", "at_m": 0.54}],
    "left": "in use",
    "said": "The first row lies 64 mm from the leaf – “good”.",
}


def sealed(**more: object) -> bytes:
    return seal_record({**RECORD, **more}, DEVICE, CERTIFICATE)  # pyright: ignore[reportArgumentType]
