import gzip
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from limen.web.assets import AssetsMissingError, assets_of, read_assets, serve_assets

MANIFEST = {
    "src/main.ts": {
        "file": "assets/main-1.js",
        "name": "main",
        "isEntry": True,
        "imports": ["_shared-2.js"],
        "css": ["assets/main-3.css"],
    },
    "src/doorway/main.ts": {
        "file": "assets/doorway-4.js",
        "name": "doorway",
        "isEntry": True,
        "imports": ["_shared-2.js", "_drawn-5.js"],
    },
    "_shared-2.js": {"file": "assets/shared-2.js", "css": ["assets/shared-6.css"]},
    "_drawn-5.js": {"file": "assets/drawn-5.js", "imports": ["_shared-2.js"]},
    "a/letters-latin-ext-wght-normal.woff2": {"file": "assets/ext-7.woff2"},
    "a/letters-latin-wght-normal.woff2": {"file": "assets/latin-8.woff2"},
}


@pytest.fixture
def bundled(tmp_path: Path) -> Path:
    (tmp_path / "assets").mkdir()
    (tmp_path / "manifest.json").write_text("{}", "utf-8")
    (tmp_path / "assets" / "main-1.js").write_text("1;", "utf-8")
    (tmp_path / "icon.svg").write_text("<svg/>", "utf-8")
    return tmp_path


def asked(folder: Path, path: str) -> tuple[int, str]:
    app = FastAPI()
    serve_assets(app, folder)
    answer = TestClient(app).get(path)
    return answer.status_code, answer.headers.get("Cache-Control", "")


def test_an_entry_brings_what_it_imports_once_and_the_styles_of_all() -> None:
    bundle = assets_of(MANIFEST).bundles["doorway"]
    assert bundle.script == "/static/assets/doorway-4.js"
    assert bundle.ahead == ("/static/assets/shared-2.js", "/static/assets/drawn-5.js")
    assert bundle.styles == ("/static/assets/shared-6.css",)


def test_only_entries_can_be_named_by_a_page() -> None:
    assert set(assets_of(MANIFEST).bundles) == {"main", "doorway"}


def test_the_letters_fetched_ahead_are_those_of_every_page() -> None:
    assert assets_of(MANIFEST).letters == "/static/assets/latin-8.woff2"
    assert assets_of({}).letters is None


def test_without_a_bundle_it_is_said_how_to_make_one(tmp_path: Path) -> None:
    with pytest.raises(AssetsMissingError, match=r"\./run setup"):
        read_assets(tmp_path)


def test_what_carries_its_content_in_its_name_is_kept_for_ever(bundled: Path) -> None:
    status, kept = asked(bundled, "/static/assets/main-1.js")
    assert (status, "immutable" in kept) == (200, True)


def test_what_keeps_its_name_is_asked_again(bundled: Path) -> None:
    assert asked(bundled, "/static/icon.svg") == (200, "no-cache")


def test_a_file_that_is_not_there_is_not_kept_as_missing(bundled: Path) -> None:
    status, kept = asked(bundled, "/static/assets/gone-9.js")
    assert status == 404
    assert "immutable" not in kept


def test_nothing_outside_the_bundle_is_served(bundled: Path) -> None:
    (bundled.parent / "secret.toml").write_text("x = 1", "utf-8")
    for path in ("/static/../secret.toml", "/static/%2e%2e/secret.toml"):
        assert asked(bundled, path)[0] == 404


def test_a_script_that_was_compressed_is_sent_so_to_whoever_takes_it(
    bundled: Path,
) -> None:
    (bundled / "assets" / "main-1.js.gz").write_bytes(gzip.compress(b"1;"))
    app = FastAPI()
    serve_assets(app, bundled)
    client = TestClient(app)
    small = client.get("/static/assets/main-1.js", headers={"Accept-Encoding": "gzip"})
    plain = client.get("/static/assets/main-1.js", headers={"Accept-Encoding": "br"})
    assert (small.headers["Content-Encoding"], small.text) == ("gzip", "1;")
    assert "Content-Encoding" not in plain.headers
    assert plain.text == "1;"
    for name in ("Content-Type", "Cache-Control", "Vary"):
        assert small.headers[name] == plain.headers[name]
    icon = client.get("/static/icon.svg", headers={"Accept-Encoding": "gzip"})
    assert icon.text == "<svg/>"
