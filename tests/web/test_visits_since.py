"""A year later the desk says what is not as it was when the record was sealed."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from builders.visit_events import STARTED
from limen.desk.keys import PASSPHRASE_FILE
from limen.store.starter import starter_text
from web.visited_desk import SECRET, first_row, keyed, tap, words


@pytest.fixture(scope="module")
def client(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    with keyed(tmp_path_factory.mktemp("desk"), static) as asked:
        yield asked


def test_what_is_not_as_at_the_last_record_is_named(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(PASSPHRASE_FILE, raising=False)
    kept = client.post("/sites", content=starter_text()).json()
    site, address = kept["id"], f"/sites/{kept['id']}/doorways/main/visits"
    started = STARTED | {"digest": kept["digest"]}
    over = ("handed_over", {"state": "in use"})
    first = tap(
        client, site, ("started", started), ("reading", first_row("64 mm")), over
    )
    assert "Since the last record" not in words(client, address)
    sealed = client.post(f"{address}/{first}/record", data={"passphrase": SECRET})
    assert sealed.status_code == 200
    assert "Nothing is otherwise than when it was sealed." in words(client, address)

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
    second = tap(client, site, ("started", started), ("as_found", first_row("90 mm")))
    for page in (words(client, address), words(client, f"{address}/{second}")):
        assert "Compared with record 1" in page
        assert re.search(r"Clear width .*→ 3400 mm", page)
    assert "left 64 mm, found 90 mm: moved 26 mm, ± 10 mm" in words(
        client, f"{address}/{second}"
    )
    # The record's own page is compared with nothing: there was none before.
    assert "Since the last record" not in words(client, f"{address}/{first}")
    assert "Sealed as record 1" in words(client, f"{address}/{first}")
