"""The scripts and styles that Vite has bundled: what a page needs, and serving it."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from mimetypes import guess_type
from pathlib import Path
from typing import Any, cast

from fastapi import FastAPI
from starlette.datastructures import Headers
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

STATIC = Path(__file__).parent.parent / "static"
WORKER = "sw.js"
"""The script that answers while this server cannot be reached."""
ADDRESS = "/static"
FOR_EVER = "public, max-age=31536000, immutable"  # its name changes with its content
_BYTES = "application/octet-stream"
_UTF8 = {kind: f"{kind}; charset=utf-8" for kind in ("text/javascript", "text/css")}
BRIEFLY = "no-cache"  # asked again each time, answered by "as before"

Manifest = Mapping[str, Mapping[str, Any]]


class AssetsMissingError(RuntimeError):
    """The bundle was never built; the message says how it is."""


@dataclass(frozen=True, slots=True)
class Bundle:
    """What one entry of the bundle needs, as addresses.

    Attributes:
        script: the module to run.
        ahead: modules that it imports, fetched beside it.
        styles: style sheets, of the entry and of what it imports.
    """

    script: str
    ahead: tuple[str, ...]
    styles: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assets:
    """All entries by name, and the letters that every page shows.

    Attributes:
        bundles: entry by name: ``main`` is on every page.
        letters: address of the font file that is fetched ahead; None without one.
    """

    bundles: Mapping[str, Bundle]
    letters: str | None


@cache
def read_assets(static: Path = STATIC) -> Assets:
    """Read what was bundled.

    Raises:
        AssetsMissingError: nothing was bundled.
    """
    try:
        text = (static / "manifest.json").read_text("utf-8")
    except FileNotFoundError:
        why = "The pages' scripts and styles are not built. Build them: ./run setup"
        raise AssetsMissingError(why) from None
    return assets_of(cast("Manifest", json.loads(text)))


def build_of(static: Path) -> str:
    """The name of what was bundled, as the worker has it; empty without one."""
    try:
        first = (static / WORKER).read_text("utf-8").partition("\n")[0]
    except FileNotFoundError:
        return ""
    return first.removeprefix("/* build ").removesuffix(" */")


def assets_of(manifest: Manifest) -> Assets:
    """Sort a manifest of Vite by entry."""
    entries = {
        str(chunk["name"]): _bundle(manifest, key)
        for key, chunk in manifest.items()
        if chunk.get("isEntry")
    }
    letters = [
        _address(str(chunk["file"]))
        for key, chunk in manifest.items()
        if key.endswith("latin-wght-normal.woff2")
    ]
    return Assets(entries, letters[0] if letters else None)


def _bundle(manifest: Manifest, key: str) -> Bundle:
    chunks = list(dict.fromkeys(_with_imports(manifest, key)))
    styles = [style for one in chunks for style in manifest[one].get("css", ())]
    script, *ahead = (_address(str(manifest[one]["file"])) for one in chunks)
    return Bundle(
        script, tuple(ahead), tuple(_address(str(s)) for s in dict.fromkeys(styles))
    )


def _with_imports(manifest: Manifest, key: str) -> Iterator[str]:
    """An entry and all that it imports; no chunk imports itself by a detour."""
    yield key
    for imported in manifest[key].get("imports", ()):
        yield from _with_imports(manifest, str(imported))


def _address(file: str) -> str:
    return f"{ADDRESS}/{file}"


class _Bundled(StaticFiles):
    """The bundle's folder; what carries its content in its name is kept for ever."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        response = await self._smallest(path, scope)
        hashed = path.replace("\\", "/").startswith("assets/")
        good = response.status_code in {200, 206, 304}
        response.headers["Cache-Control"] = FOR_EVER if hashed and good else BRIEFLY
        response.headers["Vary"] = "Accept-Encoding"
        return response

    async def _smallest(self, path: str, scope: Scope) -> Response:
        """The file, or the same compressed when it was bundled."""
        headers = Headers(scope=scope)
        takes = "gzip" in headers.get("Accept-Encoding", "") and "range" not in headers
        if takes and self.lookup_path(f"{path}.gz")[1]:
            response = await super().get_response(f"{path}.gz", scope)
            response.headers["Content-Encoding"] = "gzip"
            kind, _ = guess_type(path)
            response.headers["Content-Type"] = _UTF8.get(kind or "", kind or _BYTES)
            return response
        return await super().get_response(path, scope)


def serve_assets(app: FastAPI, static: Path = STATIC) -> Assets:
    """Serve the bundle's files under ``/static``.

    Raises:
        AssetsMissingError: nothing was bundled.
    """
    assets = read_assets(static)
    app.mount(ADDRESS, _Bundled(directory=static), name="static")
    return assets
