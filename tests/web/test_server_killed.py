"""A change that was answered is on the disk, though the server be killed."""

import json
import random
import sqlite3
from contextlib import closing, suppress
from http.client import HTTPException
from pathlib import Path
from threading import Thread
from time import sleep

import pytest

from browsing import Desk
from limen.store.starter import starter_text

WRITERS = 3
SEED = 20261125


class Writer(Thread):
    """A person who saves one site again and again, until nobody answers."""

    def __init__(self, desk: Desk, site: str, version: int) -> None:
        super().__init__(daemon=True)
        self.desk, self.site = desk, site
        self.version, self.said = version, ""
        """The last version that was answered, and what it said."""

    def run(self) -> None:
        with suppress(OSError, HTTPException):  # the connection is cut
            while True:
                said = f"{self.version + 1} {'x' * 4000}"
                text = f"# {said}\n{starter_text()}".encode()
                kept = self.desk.ask(
                    "PUT",
                    f"/sites/{self.site}/text",
                    text,
                    If_Match=f'"{self.version}"',
                    Content_Type="application/toml",
                )
                self.version, self.said = json.loads(kept)["version"], said


def _killed_while_writing(desk: Desk, writers: list[Writer], after: float) -> None:
    for one in writers:
        one.start()
    sleep(after)
    desk.kill()
    for one in writers:
        one.join(20)
        assert not one.is_alive()


@pytest.mark.parametrize(
    "rounds", [3, pytest.param(50, marks=pytest.mark.slow)], ids=str
)
def test_no_answered_change_is_lost_when_the_server_is_killed(
    tmp_path: Path, rounds: int
) -> None:
    chance, desk = random.Random(SEED), Desk(tmp_path / "home")
    answered = 0
    try:
        desk.start()
        sites = [desk.add(starter_text()) for _ in range(WRITERS)]
        versions = dict.fromkeys(sites, 1)
        for _ in range(rounds):
            writers = [Writer(desk, site, versions[site]) for site in sites]
            _killed_while_writing(desk, writers, chance.uniform(0.05, 0.6))
            with closing(sqlite3.connect(desk.home / "library.db")) as file:
                assert file.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            desk.start()
            for one in writers:
                kept = desk.json(f"/sites/{one.site}")
                assert kept["version"] >= one.version
                if kept["version"] == one.version and one.said:
                    assert one.said in kept["text"]
                answered += one.version - versions[one.site]
                versions[one.site] = kept["version"]
    finally:
        desk.kill()
    assert answered > rounds
