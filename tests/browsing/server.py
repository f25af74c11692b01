"""A planning desk in a process of its own, asked over its port."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

ROOT = Path(__file__).parents[2]
DAY = "2026-11-25"
"""What day it is for the server: a verdict may depend on it."""

SERVER = """
import sys
from datetime import date
from pathlib import Path
from limen.desk.serving import address, listening
from limen.web.app import create_app
from limen.web.serving import until_ended
with listening(int(sys.argv[2])) as here:
    day, static = date.fromisoformat(sys.argv[1]), Path(sys.argv[3])
    app = create_app(today=lambda: day, static=static)
    print(address(here), flush=True)
    until_ended(app, here, address(here), show=False)
"""


class Refused(Exception):  # noqa: N818 - it was refused; nothing went wrong
    """An answer that refuses: its status and its body."""

    def __init__(self, status: int, body: bytes) -> None:
        super().__init__(f"{status}: {body.decode(errors='replace')[:400]}")
        self.status = status
        self.body = body


@dataclass
class Desk:
    """A server that runs.

    Attributes:
        home: its folder, `LIMEN_HOME`.
        url: its address, without a slash at the end.
        process: what runs it; it may be killed and started again.
    """

    home: Path
    url: str = ""
    process: "subprocess.Popen[str] | None" = None

    def start(self) -> None:
        """Run it, at the same address as before if it had one."""
        port = self.url.rpartition(":")[2] or "0"
        self.process = subprocess.Popen(
            [sys.executable, "-c", SERVER, DAY, port, str(self._static())],
            stdout=subprocess.PIPE,
            text=True,
            env=os.environ | {"LIMEN_HOME": str(self.home)},
        )
        assert self.process.stdout is not None
        said = self.process.stdout.readline().strip()
        assert said, "the server ended before it listened; its reason stands above"
        self.url = said.rstrip("/")

    def _static(self) -> Path:
        """What was bundled, as it is now: the pages may be built anew meanwhile.

        `LIMEN_STATIC` names another bundle.
        """
        kept = self.home / "static"
        if not kept.exists():
            built = os.environ.get("LIMEN_STATIC", ROOT / "src" / "limen" / "static")
            shutil.copytree(built, kept)
        return kept

    def kill(self) -> None:
        """End it at once, whatever it is doing."""
        if self.process is None:
            return
        self.process.kill()
        self.process.communicate()
        self.process = None

    def ask(self, method: str, path: str, body: bytes = b"", **headers: str) -> bytes:
        """Ask as a program does.

        Raises:
            Refused: the answer is a refusal.
        """
        ours = {"Limen-Desk": "1", "Origin": self.url, "Accept": "application/json"}
        asked = Request(  # noqa: S310 - an address of our own
            self.url + path,
            data=body or None,
            headers=ours | {k.replace("_", "-"): v for k, v in headers.items()},
            method=method,
        )
        try:
            with urlopen(asked, timeout=60) as reply:  # noqa: S310
                return reply.read()
        except HTTPError as error:
            raise Refused(error.code, error.read()) from None

    def json(self, path: str) -> Any:
        """What a program is told at an address."""
        return json.loads(self.ask("GET", path))

    def add(self, text: str | bytes) -> str:
        """Keep a site; its id."""
        data = text.encode() if isinstance(text, str) else text
        body = self.ask("POST", "/sites", data, Content_Type="application/toml")
        return str(json.loads(body)["id"])

    def demo(self, state: str = "as-found") -> str:
        """Keep the invented building in one of its states; its id."""
        return self.add(demo_text(state))

    def text(self, site: str) -> str:
        """The site file as it is kept."""
        return self.ask("GET", f"/sites/{site}/site.toml").decode()


def demo_text(state: str = "as-found") -> bytes:
    """The invented building's site file."""
    folder = ROOT / "src" / "limen" / "demo"
    return (folder / f"alder-quay-{state}.toml").read_bytes()


@contextmanager
def running(home: Path) -> Iterator[Desk]:
    """A server on a folder, ended for certain."""
    desk = Desk(home)
    try:
        desk.start()
        yield desk
    finally:
        desk.kill()
