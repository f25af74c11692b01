"""A server on an empty library, asked as its own pages ask."""

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from limen.web.app import create_app

HERE = "http://127.0.0.1:8765"
OURS = {"Limen-Desk": "1", "Origin": HERE}


@pytest.fixture(scope="module")
def static(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bundle with nothing in it."""
    folder = tmp_path_factory.mktemp("static")
    entries = {
        f"src/{name}.ts": {"file": f"assets/{name}.js", "name": name, "isEntry": True}
        for name in (
            "main",
            "doorway",
            "survey",
            "facts",
            "sheets",
            "tuning",
            "readings",
            "verify",
            "plan",
            "card",
        )
    }
    (folder / "manifest.json").write_text(json.dumps(entries), "utf-8")
    return folder


@pytest.fixture(scope="module")
def client(
    static: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[TestClient]:
    """Programs on this machine."""
    path = tmp_path_factory.mktemp("library") / "library.db"
    app = create_app(path, today=lambda: date(2026, 11, 25), static=static)
    with TestClient(app, base_url=HERE, headers=OURS, follow_redirects=False) as asked:
        yield asked
    app.state.desk.library.close()
