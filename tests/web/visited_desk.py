"""A desk with a key of its own, visits tapped into it, and its pages as people read."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

from starlette.testclient import TestClient

from builders.visit_events import raw
from limen.desk import keys
from limen.web.app import create_app
from web.conftest import HERE, OURS

PEOPLE = {"Accept": "text/html"}
SECRET = "three grey herons"  # noqa: S105 - opens keys of these tests alone


@contextmanager
def keyed(folder: Path, static: Path) -> Iterator[TestClient]:
    """A desk that can seal."""
    keys.begin(folder / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    today = date(2026, 11, 26)
    app = create_app(folder / "library.db", today=lambda: today, static=static)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.desk.library.close()


def tap(
    client: TestClient, site: str, *said: tuple[str, Any], first_minute: int = 0
) -> str:
    """A visit of a phone of its own, an event a minute."""
    visit, phone = str(uuid4()), f"phone-{uuid4()}"
    events = [
        raw(phone, n, kind, told, site=site, visit=visit, minute=first_minute + n)
        for n, (kind, told) in enumerate(said, 1)
    ]
    assert client.post("/visits/events", json={"events": events}).status_code == 200
    return visit


def first_row(out: str) -> dict[str, Any]:
    """The first row of the inside unit, read so far from the leaf face."""
    reading = {"kind": "row line", "out": out, "along": "0 mm", "row": 1}
    return {"fitting": "inside", "reading": reading}


def words(client: TestClient, address: str) -> str:
    """A page without its tags."""
    page = client.get(address, headers=PEOPLE)
    assert page.status_code == 200
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page.text))
