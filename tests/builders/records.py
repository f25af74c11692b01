"""A small record made by the command, and the events of a visit for it."""

from collections.abc import Iterator
from typing import Any
from uuid import UUID

VISIT = "4f0c7a52-9a1e-4c41-8d0a-6a2f3f2b7c10"
DIGEST = "ab" * 32

Raw = dict[str, Any]


def events(doorway: str = "main", **more: Any) -> list[Raw]:
    """A visit from its beginning to the hand-over; a test fails, a tap is undone."""
    said = list(_said(**more))
    return [
        {
            "id": str(UUID(int=number, version=4)),
            "device": "phone-a",
            "seq": number,
            "visit": VISIT,
            "site": "a1b2c3d4e5f6",
            "doorway": doorway,
            "at": f"2026-11-26T10:{10 + number}:00Z",
            "kind": kind,
            "said": what,
        }
        for number, (kind, what) in enumerate(said, 1)
    ]


def _said(state: str = "in use with defects", **_: Any) -> Iterator[tuple[str, Raw]]:
    begun = {
        "found": "existing",
        "person": "R. Okafor",
        "budget": "yearly",
        "version": 3,
        "digest": DIGEST,
    }
    yield "started", begun
    yield "precaution", {"step": "barrier"}
    row = {"kind": "row line", "out": "118 mm", "from_left": "540 mm", "row": 1}
    yield "as_found", {"fitting": "inside", "reading": row}
    yield "as_found", {"fitting": "inside", "lens": {"height": "2203 mm ± 3 mm"}}
    yield "as_found", {"key": "fitting.inside.settings.tilt", "value": "4 deg"}
    yield "step", {"step": "box.middle", "answer": "touched", "tool": "body"}
    yield "work", {"step": "aim", "done": True, "note": "first row 59 mm"}
    yield "step", {"step": "box.middle", "answer": "stayed open", "tool": "body"}
    yield "step", {"step": "box.left", "answer": "stayed open", "tool": "carton"}
    yield "step", {"step": "box.right", "answer": "lamp only", "tool": "leg"}
    cannot = "the plug is behind glued glass"
    yield "step", {"step": "plug.inside", "answer": "cannot", "because": cannot}
    yield "note", {"text": "mat curls up at the left post"}
    yield "undone", {"event": str(UUID(int=12, version=4))}
    yield "defect", {"text": "Header cover is loose.", "told": "A. Keeper"}
    line = [[10.0, 40.0], [30.5, 12.25], [60.0, 44.0], [95.0, 20.0]]
    over = {"state": state, "told": "A. Keeper", "signature": [line, [[100.0, 50.0]]]}
    yield "handed_over", over
