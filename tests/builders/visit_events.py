"""Events of visits for tests: short to write, whole when they are read."""

import json
from hashlib import sha256
from typing import Any
from uuid import UUID

from limen.model.visit import Event

VISIT = "4f0c7a52-9a1e-4c41-8d0a-6a2f3f2b7c10"
DIGEST = "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08"
KEY = "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a"
STARTED = {
    "found": "existing",
    "person": "R. Okafor",
    "budget": "yearly",
    "version": 1,
    "digest": DIGEST,
}


def name(device: str, seq: int) -> str:
    """Id of a device's event of this number."""
    return str(UUID(bytes=sha256(f"{device}/{seq}".encode()).digest()[:16]))


def raw(
    device: str,
    seq: int,
    kind: str,
    said: dict[str, Any],
    *,
    minute: int | None = None,
    site: str = "site",
    doorway: str = "main",
    visit: str = VISIT,
) -> dict[str, Any]:
    """An event as a card sends it; its minute is its number if none is said."""
    at = seq if minute is None else minute
    return {
        "id": name(device, seq),
        "device": device,
        "seq": seq,
        "visit": visit,
        "site": site,
        "doorway": doorway,
        "at": f"2026-11-26T{10 + at // 60:02}:{at % 60:02}:00Z",
        "kind": kind,
        "said": said,
    }


def step(answer: str, which: str = "box-left") -> dict[str, Any]:
    """What a test says."""
    because = {"because": "the shop is open"} if answer == "cannot" else {}
    return {"step": which, "answer": answer, **because}


def event(*args: Any, **more: Any) -> Event:
    """An event as it is read; see `raw`."""
    from limen.desk.visits_intake import read_event

    return read_event(json.dumps(raw(*args, **more)))
