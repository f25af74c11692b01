"""A year later the desk says what is not as it was when the record was sealed."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED, raw
from limen.desk import keys
from limen.desk.keys import PASSPHRASE_FILE
from limen.store.starter import starter_text
from limen.web.app import create_app
from web.conftest import HERE, OURS

PEOPLE = {"Accept": "text/html"}
SECRET = "three grey herons"  # noqa: S105 - opens keys of these tests alone


@pytest.fixture(scope="module")
def client(static: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    folder = tmp_path_factory.mktemp("desk")
    keys.begin(folder / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    today = date(2026, 11, 26)
    app = create_app(folder / "library.db", today=lambda: today, static=static)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.desk.library.close()


def _row(out: str) -> dict[str, Any]:
    reading = {"kind": "row line", "out": out, "along": "0 mm", "row": 1}
    return {"fitting": "inside", "reading": reading}


def _tap(client: TestClient, site: str, *said: tuple[str, Any]) -> str:
    visit, phone = str(uuid4()), f"phone-{uuid4()}"
    events = [
        raw(phone, seq, kind, told, site=site, visit=visit)
        for seq, (kind, told) in enumerate(said, 1)
    ]
    assert client.post("/visits/events", json={"events": events}).status_code == 200
    return visit


def _read(client: TestClient, address: str) -> str:
    page = client.get(address, headers=PEOPLE)
    assert page.status_code == 200
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page.text))


def test_what_is_not_as_at_the_last_record_is_named(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(PASSPHRASE_FILE, raising=False)
    kept = client.post("/sites", content=starter_text()).json()
    site, address = kept["id"], f"/sites/{kept['id']}/doorways/main/visits"
    started = STARTED | {"digest": kept["digest"]}
    over = ("handed_over", {"state": "in use"})
    first = _tap(client, site, ("started", started), ("reading", _row("64 mm")), over)
    assert "Since the last record" not in _read(client, address)
    sealed = client.post(f"{address}/{first}/record", data={"passphrase": SECRET})
    assert sealed.status_code == 200
    assert "Nothing is otherwise than when it was sealed." in _read(client, address)

    text = client.get(f"/sites/{site}/site.toml").text
    wide = re.sub(
        r'(?m)^clear_width = "[^"]*"', 'clear_width = "3400 mm"', text, count=1
    )
    assert wide != text
    saved = client.put(
        f"/sites/{site}/text",
        content=wide,
        headers={
            "If-Match": f'"{kept["version"]}"',
            "Content-Type": "application/toml",
        },
    )
    assert saved.status_code == 200
    second = _tap(client, site, ("started", started), ("as_found", _row("90 mm")))
    for page in (_read(client, address), _read(client, f"{address}/{second}")):
        assert "Compared with record 1" in page
        assert re.search(r"Clear width .*→ 3400 mm", page)
    assert "left 64 mm, found 90 mm: moved 26 mm, ± 10 mm" in _read(
        client, f"{address}/{second}"
    )
    # The record's own page is compared with nothing: there was none before.
    assert "Since the last record" not in _read(client, f"{address}/{first}")
    assert "Sealed as record 1" in _read(client, f"{address}/{first}")
