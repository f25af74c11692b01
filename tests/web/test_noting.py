"""Whatever is looked at, nothing is written; what was found is kept with a change."""

import sqlite3
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from limen.web.app import create_app
from web.conftest import HERE, OURS

DEMO = Path(__file__).parents[2] / "src" / "limen" / "demo"
PAGES = (
    "/sites",
    "/sites/{id}",
    "/sites/{id}/doorways?study=true",
    "/sites/{id}/doorways/staff",
    "/sites/{id}/doorways/staff/facts",
    "/sites/{id}/doorways/staff/findings",
    "/sites/{id}/doorways/staff/variants",
    "/sites/{id}/facts",
    "/sites/{id}/history",
    "/sites/{id}/site.toml",
)


@pytest.fixture
def library(tmp_path: Path) -> Path:
    return tmp_path / "library.db"


@pytest.fixture
def own(library: Path, static: Path) -> Iterator[TestClient]:
    app = create_app(library, today=lambda: date(2026, 11, 25), static=static)
    with TestClient(app, base_url=HERE, headers=OURS) as asked:
        yield asked
    app.state.desk.library.close()


def _added(own: TestClient) -> str:
    text = (DEMO / "alder-quay-corrected.toml").read_bytes()
    kept = own.post(
        "/sites", content=text, headers={"Content-Type": "application/toml"}
    )
    return str(kept.json()["id"])


def test_reading_any_page_writes_nothing(own: TestClient, library: Path) -> None:
    """SQLite: `PRAGMA data_version` changes with each commit of another connection."""
    site = _added(own)
    watching = sqlite3.connect(library)
    (before,) = watching.execute("PRAGMA data_version").fetchone()
    for page in PAGES:
        for accept in ("text/html", "application/json"):
            reply = own.get(page.format(id=site), headers={"Accept": accept})
            assert reply.status_code == 200, page
    (after,) = watching.execute("PRAGMA data_version").fetchone()
    kept = watching.execute("SELECT count(*) FROM known").fetchone()
    watching.close()
    assert after == before
    assert kept == (0,)


def test_what_was_found_is_kept_with_the_next_change(
    own: TestClient, library: Path
) -> None:
    site = _added(own)
    own.get(f"/sites/{site}/doorways?study=true")
    _added(own)
    watching = sqlite3.connect(library)
    kept = watching.execute("SELECT site FROM known").fetchall()
    watching.close()
    assert (site,) in kept
