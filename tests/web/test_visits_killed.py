"""Whatever was tapped and answered is on the desk's disk, though it be killed."""

import json
import random
from contextlib import suppress
from hashlib import sha256
from http.client import HTTPException
from pathlib import Path
from threading import Thread
from time import sleep
from typing import Any

import pytest

from browsing import Desk
from builders.pictures import png
from builders.visit_events import VISIT, raw, step
from limen.store.starter import starter_text

SEED = 20261126
PHONES = ("phone-a", "phone-b")
MOST = 7  # events of one batch


class Phone(Thread):
    """A card that sends what it has, as it does it, until nobody answers."""

    def __init__(self, desk: Desk, name: str, events: list[dict[str, Any]]) -> None:
        super().__init__(daemon=True)
        self.desk, self.phone, self.events = desk, name, events
        self.answered = 0
        """The highest number up to which all were said to be kept."""

    def run(self) -> None:
        with suppress(OSError, HTTPException):  # the connection is cut
            self.answered = self._kept()
            while self.answered < len(self.events):
                # A batch begins with what was sent before: it may have arrived.
                begin = max(0, self.answered - 2)
                batch = self.events[begin : begin + MOST]
                body = json.dumps({"events": batch}).encode()
                said = json.loads(self.desk.ask("POST", "/visits/events", body))
                assert not said["clashes"]
                self.answered = said["devices"][0]["kept"]

    def _kept(self) -> int:
        return self.desk.json(f"/visits/devices/{self.phone}")["kept"]


def _step(seq: int) -> dict[str, Any]:
    answers = ("stayed open", "touched", "lamp only")
    return step(answers[seq % 3], f"test-{seq % 9}")


def _events(phone: str, site: str, count: int) -> list[dict[str, Any]]:
    return [
        raw(phone, seq, "step", _step(seq), site=site, minute=seq % 600)
        for seq in range(1, count + 1)
    ]


def _wait(phones: list[Phone], more: int) -> None:
    """Until so many more events were answered, or nobody sends any longer."""
    begun = sum(one.answered for one in phones)
    while any(one.is_alive() for one in phones):
        if sum(one.answered for one in phones) >= begun + more:
            return
        sleep(0.002)


@pytest.mark.parametrize(
    ("rounds", "count"), [(1, 150), pytest.param(20, 1500, marks=pytest.mark.slow)]
)
def test_no_answered_event_is_lost_or_kept_twice_when_the_server_is_killed(
    tmp_path: Path, rounds: int, count: int
) -> None:
    chance, desk = random.Random(SEED), Desk(tmp_path / "home")
    killed_between = 0
    try:
        desk.start()
        site = desk.add(starter_text())
        sent = {name: _events(name, site, count) for name in PHONES}
        for last in range(rounds + 1):
            phones = [Phone(desk, name, events) for name, events in sent.items()]
            for one in phones:
                one.start()
            if last < rounds:
                _wait(phones, chance.randint(5, 60))
                sleep(chance.uniform(0, 0.03))
                desk.kill()
            for one in phones:
                one.join(120)
                assert not one.is_alive()
            if last < rounds:
                desk.start()
            for one in phones:
                kept = desk.json(f"/visits/devices/{one.phone}")
                assert kept["kept"] >= one.answered
                assert kept["missing"] == []
                killed_between += 0 < one.answered < count
        told = desk.json(f"/sites/{site}/doorways/main/visits/{VISIT}")["folded"]
    finally:
        desk.kill()
    assert killed_between
    every = {(one["device"], one["seq"]): one["said"] for one in told["tests"]}
    wanted = {
        (one["device"], one["seq"]): one["said"]
        for events in sent.values()
        for one in events
    }
    assert every == wanted
    assert len(told["tests"]) == 2 * count


def test_a_photo_goes_on_where_the_killed_server_left_it(tmp_path: Path) -> None:
    picture = png(900, 100)
    picture += b"\0" * 60_000  # bytes after its end belong to it all the same
    digest, whole, size = sha256(picture).hexdigest(), len(picture), 7_000
    desk, rounds = Desk(tmp_path / "home"), 0
    address = f"/visits/photos/{digest}"
    try:
        desk.start()
        while not (state := desk.json(f"{address}/kept"))["whole"]:
            at = state["kept"]
            piece = picture[at : at + size]
            headers = {"Content_Range": f"bytes {at}-{at + len(piece) - 1}/{whole}"}
            desk.ask("PUT", address, piece, **headers)
            rounds += 1
            if rounds == 3:
                desk.kill()
                desk.start()
        assert desk.ask("GET", address) == picture
    finally:
        desk.kill()
    assert rounds == -(-whole // size)
