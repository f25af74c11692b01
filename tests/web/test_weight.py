"""What a page must fetch before it can be used, as it was bundled."""

import gzip
import json
from pathlib import Path
from typing import Any

import pytest

from limen.web.assets import STATIC, assets_of

WORTH_IT = 1000  # bytes; smaller ones are sent as they are
MOST = 120_000
"""Bytes of all scripts together, compressed, without what is drawn in space."""


@pytest.fixture(scope="module")
def manifest() -> dict[str, Any]:
    return json.loads((STATIC / "manifest.json").read_text("utf-8"))


def _small(address: str) -> int:
    file = STATIC / Path(address).relative_to("/static")
    return len(gzip.compress(file.read_bytes(), 9))


def test_all_scripts_of_all_pages_together_are_light(manifest: dict[str, Any]) -> None:
    bundles = assets_of(manifest).bundles.values()
    scripts = {one for bundle in bundles for one in (bundle.script, *bundle.ahead)}
    sizes = {one: _small(one) for one in scripts}
    assert sum(sizes.values()) <= MOST, sizes


def test_what_is_drawn_in_space_is_fetched_only_when_it_is_opened(
    manifest: dict[str, Any],
) -> None:
    bundles = assets_of(manifest).bundles.values()
    at_once = {one for bundle in bundles for one in (bundle.script, *bundle.ahead)}
    later = [
        f"/static/{chunk['file']}"
        for chunk in manifest.values()
        if chunk.get("isDynamicEntry")
    ]
    assert later
    assert not at_once & set(later)
    assert max(_small(one) for one in later) > MOST  # it would not fit


def test_every_script_and_style_of_any_size_has_its_compressed_twin(
    manifest: dict[str, Any],
) -> None:
    for bundle in assets_of(manifest).bundles.values():
        for address in (bundle.script, *bundle.styles):
            file = STATIC / Path(address).relative_to("/static")
            if file.stat().st_size < WORTH_IT:
                continue
            twin = file.with_name(f"{file.name}.gz")
            assert gzip.decompress(twin.read_bytes()) == file.read_bytes()
