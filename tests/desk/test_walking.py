"""A walk told instant by instant, and what stands still in its drawings."""

import json
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import pytest

import limen
from builders.doorways import a_doorway
from limen.desk import library_sites as sites
from limen.desk.library import Desk, open_desk, open_site, study_of
from limen.desk.spacing import in_space
from limen.desk.walking import Walking, has_walk, told_of, walking
from limen.desk.walking_drawn import course, still_plan, still_space
from limen.draw.parts import Part
from limen.findings import Finding, Study
from limen.quantity import Show
from limen.store.bookshelf import open_shelf
from limen.study.playing import walk_of
from limen.words import say

DEMO = Path(str(limen.__file__)).parent / "demo" / "alder-quay-as-found.toml"
LATE = ("approach.opens_in_time", None, "outside, reduced width")


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    path = tmp_path_factory.mktemp("library") / "library.db"
    made = open_desk(path, today=lambda: date(2026, 11, 25))
    yield made
    made.library.close()


@pytest.fixture(scope="module")
def found(desk: Desk) -> tuple[Study, Finding, Walking]:
    stored = sites.import_text(desk, DEMO.read_text("utf-8"))
    opened = open_site(desk, stored.id)
    study = study_of(desk, opened, "main")
    (finding,) = (one for one in study.findings if one.key == LATE)
    walk = walking(desk, opened, "main", finding)
    assert walk is not None
    return study, finding, walk


def test_the_late_walk_of_the_demo_is_told_in_its_order(
    found: tuple[Study, Finding, Walking],
) -> None:
    _, _, walk = found
    marks = [one.mark for one in walk.instants]
    assert marks == ["starts", "enters", "told", "moves", "arrives", "enough"]
    times = [one.at for one in walk.instants]
    assert times == sorted(times)
    assert times[0] == 0.0
    assert times[-1] == walk.ends


def test_every_instant_has_its_sentence(found: tuple[Study, Finding, Walking]) -> None:
    said = [say(one.says) for one in found[2].instants]
    assert said[0] == "The walk begins, 2625 mm from the leaf face."
    assert "13 mm is still closed" in said[4]
    assert said[5] == "Open enough only now: 0.17 s late, at the least."


def test_what_does_not_walk_has_no_walk(found: tuple[Study, Finding, Walking]) -> None:
    study = found[0]
    still = [one for one in study.findings if one.question == "presence.threshold"]
    assert still
    assert not any(has_walk(one) for one in still)
    assert not has_walk(None)


def test_the_plan_of_a_walk_keeps_still(found: tuple[Study, Finding, Walking]) -> None:
    study, finding, walk = found
    drawn = still_plan(study, finding, walk, lambda one: one.mark, Show.METRIC)
    parts = {one.part for one in drawn.content.shapes}
    assert Part.LEAF not in parts
    assert Part.LATE not in parts
    assert {Part.FIELD, Part.WALK, Part.ROW} <= parts
    labels = [one.text for one in drawn.content.labels]
    assert {"starts", "told", "arrives"} <= set(labels)
    assert "walk" not in labels


def test_what_is_drawn_in_space_can_be_sent(
    found: tuple[Study, Finding, Walking],
) -> None:
    study, finding, walk = found
    plain = in_space(study, finding)
    still = still_space(study, finding, walk, lambda one: one.mark, Show.METRIC)
    for scene in (plain, still):
        assert json.loads(json.dumps(scene, allow_nan=False)) == scene
        used = {
            one["part"]
            for kind in ("floor", "solids", "wires", "posts")
            for one in scene[kind]  # type: ignore[attr-defined]
        }
        assert used <= set(scene["styles"])  # type: ignore[call-overload]


def test_a_course_can_be_sent_and_begins_closed(
    found: tuple[Study, Finding, Walking],
) -> None:
    study, _, walk = found
    sent = json.loads(json.dumps(course(study, walk, str), allow_nan=False))
    assert sent["left"][0] == sent["right"][0]
    assert len(sent["times"]) == len(sent["left"]) == len(sent["words"])
    assert sent["times"] == sorted(sent["times"])
    assert sent["times"][-1] == sent["ends"]
    assert len(sent["leaves"]) == 2


DULL = {"sheet.motion.least_speed": "0.4 m/s"}


def _told(question: str, changes: Mapping[str, object]) -> Walking:
    """What is told of a walk to the reference doorway with these changes."""
    doorway, book = a_doorway(changes), open_shelf().edition("en", "2012")
    found = limen.study(doorway, "en")
    (finding,) = (
        one
        for one in found.findings
        if one.question == question and one.case == "outside"
    )
    walk = walk_of(doorway, book, finding)
    assert walk is not None
    return told_of(walk)


def test_of_a_slow_walker_it_is_told_how_little_the_radar_is_shown() -> None:
    walk = _told("approach.slow_walker", DULL)
    said = [say(one.says) for one in walk.instants]
    assert [one.mark for one in walk.instants] == ["starts", "enters", "arrives"]
    assert "leads towards the radar; at least 0.4 m/s is needed" in said[1]
    assert said[2].endswith("Nothing has noticed it: the door is closed.")
    assert walk.ends == walk.played.arrives


def test_of_a_walk_that_nobody_notices_no_leaf_is_told_to_move() -> None:
    walk = _told("approach.opens_in_time", {**DULL, "use.fastest": "0.3 m/s"})
    assert [one.mark for one in walk.instants] == ["starts", "arrives"]
    assert say(walk.instants[-1].says).startswith("Reaches the leaf path. Nothing")
