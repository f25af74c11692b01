"""Events that are said between visits, short to write and whole when they are read."""

import json
from typing import Any

from builders.visit_events import name
from limen.model.between import Between


def spoken(
    about: str,
    seq: int,
    kind: str,
    said: dict[str, Any],
    *,
    minute: int = 0,
    which: str = "",
) -> Between:
    """An event of a thing.

    Args:
        about: what the thing is called.
        seq: its number.
        kind: of which kind.
        said: what it says.
        minute: when, as the desk claims.
        which: tells events of one number apart.
    """
    from limen.desk.ahead import read_between

    raw = {
        "id": name(f"{about}{which}", seq),
        "about": name(about, 0),
        "seq": seq,
        "site": "site",
        "doorway": "main",
        "at": f"2026-11-26T10:{minute:02}:00Z",
        "person": "R. Okafor",
        "kind": kind,
        "said": said,
    }
    return read_between(json.dumps(raw))
