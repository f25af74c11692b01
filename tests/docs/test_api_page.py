"""What the documentation says of the desk's addresses is what the desk answers."""

import json
import re
import shlex
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from limen.store.starter import starter_text
from limen.web.app import create_app

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "desk-api.md").read_text("utf-8")
HERE = "http://127.0.0.1:8765"
_BLOCK = re.compile(r"^```\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_CODE = re.compile(r"`([^`\n]+)`")
PAGES = {"/", "/help", "/sites/{site_id}/row"}
"""What answers people alone."""


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    static = tmp_path_factory.mktemp("static")
    entries = {
        f"src/{name}.ts": {"file": f"assets/{name}.js", "name": name, "isEntry": True}
        for name in ("main", "doorway", "survey")
    }
    (static / "manifest.json").write_text(json.dumps(entries), "utf-8")
    path = tmp_path_factory.mktemp("library") / "library.db"
    app = create_app(path, today=lambda: date(2026, 11, 25), static=static)
    with TestClient(app, base_url=HERE) as asked:
        yield asked
    app.state.jobs.close()
    app.state.desk.library.close()


def _commands() -> list[str]:
    blocks = [one.replace("\\\n", " ") for one in _BLOCK.findall(PAGE)]
    return [line for block in blocks for line in block.splitlines() if line.strip()]


def test_every_example_is_answered(client: TestClient) -> None:
    """Sent as curl sends it; the first one adds the site that the others ask about."""
    fills: dict[str, str] = {}
    assert len(_commands()) > 3
    for command in _commands():
        reply = client.request(**_sent(command, fills))
        assert reply.is_success, (command, reply.text)
        if not fills:
            fills["id"] = reply.json()["id"]
            doors = client.get(f"/sites/{fills['id']}/doorways").json()
            fills["door"] = doors[0]["id"]


def _sent(command: str, fills: dict[str, str]) -> dict[str, Any]:
    """A call of curl as a request."""
    words = iter(shlex.split(command)[1:])
    headers: dict[str, str] = {}
    form: list[str] = []
    sent: dict[str, Any] = {"method": "GET", "headers": headers}
    for word in words:
        match word:
            case "-H":
                name, _, value = next(words).partition(": ")
                headers[name] = value
            case "--data-binary":
                assert next(words).startswith("@")
                sent |= {"method": "POST", "content": starter_text()}
            case "--data":
                form.append(next(words))
            case "-o":
                next(words)
            case _:
                sent["url"] = re.sub(r"\{(\w+)\}", lambda m: fills[m[1]], word)
    if form:
        headers["Content-Type"] = "application/x-www-form-urlencoded"
        sent |= {"method": "POST", "content": "&".join(form)}
    return sent


def test_every_address_is_explained(client: TestClient) -> None:
    said = " ".join(
        code
        for page in DOCS.glob("*.md")
        for code in _CODE.findall(page.read_text("utf-8"))
    )
    unsaid = [
        path
        for path in client.get("/openapi.json").json()["paths"]
        if path not in PAGES and _last(path) not in said
    ]
    assert not unsaid


def _last(path: str) -> str:
    """The last part of an address that is no name of something."""
    named = [part for part in path.split("/") if part and not part.startswith("{")]
    return named[-1]


def test_every_status_that_is_explained_is_one_that_is_answered(
    client: TestClient,
) -> None:
    explained = set(re.findall(r"^\| (\d{3}) \|", PAGE, re.MULTILINE))
    listed = {
        status
        for ways in client.get("/openapi.json").json()["paths"].values()
        for way in ways.values()
        for status in way["responses"]
    }
    assert explained <= listed
    assert {one for one in listed if one[0] in "45"} - explained <= {"400", "405"}
