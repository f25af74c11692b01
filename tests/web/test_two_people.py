"""Two people at one site, in any order: nobody's kept text is ever lost.

The model is an editor's: texts hang below those they were made from; undo goes up,
redo to the newest below.  A change made from an older version changes nothing.
"""

import json
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)
from starlette.testclient import TestClient

from limen.store.starter import starter_text

TILT = "fitting[outside].settings.tilt"
PEOPLE = st.sampled_from(["one", "other"])
DEGREES = st.integers(-60, 60).map(lambda tenths: f"{tenths / 10:.1f} deg")


@dataclass
class Text:
    """A text that was kept, and what it was made from."""

    said: str
    made_from: "Text | None"


class Desk(RuleBasedStateMachine):
    """What two people may do, and what must be true after each step."""

    client: TestClient

    @initialize()
    def begin(self) -> None:
        text = starter_text()
        kept = self.client.post("/sites", content=text).json()
        self.site = f"/sites/{kept['id']}"
        self.door = self.client.get(f"{self.site}/doorways").json()[0]["id"]
        self.kept = [text]
        self.every = [Text(text, None)]
        self.now = self.every[0]
        self.seen = {"one": 1, "other": 1}
        """The version that each has opened."""

    # What they do -------------------------------------------------------------------

    @rule(who=PEOPLE)
    def open(self, who: str) -> None:
        self.seen[who] = self.client.get(self.site).json()["version"]

    @rule(who=PEOPLE, words=st.text("abc ", max_size=6))
    def write(self, who: str, words: str) -> None:
        text = f"# {words}\n{starter_text()}"
        reply = self.client.put(
            f"{self.site}/text",
            content=text,
            headers={"If-Match": f'"{self.seen[who]}"'},
        )
        if text == self.now.said:
            assert reply.status_code == 200
            self.seen[who] = reply.json()["version"]
        elif self._told_too_late(reply, who):
            assert reply.json()["mine"] == text
        else:
            self._is_kept(who, text)

    @rule(who=PEOPLE, tilt=DEGREES)
    def turn(self, who: str, tilt: str) -> None:
        sent = {"version": self.seen[who], "edits": {TILT: tilt}}
        reply = self.client.post(f"{self.site}/doorways/{self.door}/save", json=sent)
        if not self._told_too_late(reply, who, may_be_same=True):
            text = self._file()
            assert f'"{tilt}"' in text
            before, after = self.now.said.splitlines(), text.splitlines()
            assert sum(a != b for a, b in zip(before, after, strict=True)) <= 1
            self._is_kept(who, text)

    @rule(who=PEOPLE, wrong=st.sampled_from(["banana", "900 deg", "", "1 kg"]))
    def turn_wrongly(self, who: str, wrong: str) -> None:
        sent = {"version": self.seen[who], "edits": {TILT: wrong}}
        reply = self.client.post(f"{self.site}/doorways/{self.door}/save", json=sent)
        assert reply.status_code == 422
        assert reply.json()["lines"]

    @rule(who=PEOPLE)
    def undo(self, who: str) -> None:
        self._step(who, "undo", self.now.made_from)

    @rule(who=PEOPLE)
    def redo(self, who: str) -> None:
        below = [one for one in self.every if one.made_from is self.now]
        self._step(who, "redo", below[-1] if below else None)

    @rule(away=st.booleans())
    def put_away(self, away: bool) -> None:
        way = "archive" if away else "restore"
        assert self.client.post(f"{self.site}/{way}").json()["archived"] is away

    # What is true -------------------------------------------------------------------

    @invariant()
    def the_newest_text_is_the_one_that_was_kept_last(self) -> None:
        assert self._file() == self.now.said
        stored = self.client.get(self.site).json()
        assert stored["version"] == len(self.kept)
        assert stored["can_undo"] == (self.now.made_from is not None)

    def teardown(self) -> None:
        for number, text in enumerate(self.kept, 1):
            earlier = self.client.get(f"{self.site}/versions/{number}.toml")
            assert earlier.content.decode() == text

    # How it is told -----------------------------------------------------------------

    def _told_too_late(
        self, reply: Any, who: str, *, may_be_same: bool = False
    ) -> bool:
        """Whether a change was refused for its version, with both texts."""
        late = self.seen[who] != len(self.kept)
        if late and may_be_same and reply.status_code == 200:
            assert self._file() == self.now.said  # what was wanted stands there already
            return False
        assert reply.status_code == (412 if late else 200), reply.text
        if late:
            body = reply.json()
            assert body["theirs"] == self.now.said
            assert body["version"] == len(self.kept)
        return late

    def _step(self, who: str, way: str, to: Text | None) -> None:
        reply = self.client.post(
            f"{self.site}/{way}", headers={"If-Match": f'"{self.seen[who]}"'}
        )
        if self.seen[who] != len(self.kept):
            assert reply.status_code == 412
        elif to is None:
            assert reply.status_code == 409
        else:
            assert reply.status_code == 200
            self.now = to
            self.kept.append(to.said)
            self.seen[who] = json.loads(reply.text)["version"]

    def _is_kept(self, who: str, text: str) -> None:
        if text != self.now.said:
            self.now = Text(text, self.now)
            self.every.append(self.now)
            self.kept.append(text)
        self.seen[who] = len(self.kept)

    def _file(self) -> str:
        return self.client.get(f"{self.site}/site.toml").content.decode()


@pytest.mark.parametrize(
    ("times", "steps"), [(6, 12), pytest.param(120, 50, marks=pytest.mark.slow)]
)
def test_whatever_two_people_do_nothing_kept_is_lost(
    client: TestClient, times: int, steps: int
) -> None:
    Desk.client = client
    run_state_machine_as_test(
        Desk,
        settings=settings(
            max_examples=times, stateful_step_count=steps, deadline=None, database=None
        ),
    )
