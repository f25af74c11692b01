"""A door beside its sealed record: what is compared, and what that owes."""

import json
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from builders.sealed import (
    DAY,
    Said,
    digest_of,
    least,
    row,
    sealed,
    step,
    studying_once,
    taps,
)
from limen.desk.changes import Compared
from limen.desk.changes_file import change_file
from limen.desk.changes_told import told
from limen.desk.refusal import Refusal

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-corrected.toml")))
TEXT = DEMO.read_text("utf-8")
LEAST = least(DEMO)
PLACE = "place.u500.0.0"
LATER = "5f0c7a52-9a1e-4c41-8d0a-6a2f3f2b7c11"
RECORD = sealed(
    DEMO,
    [
        ("reading", row("64 mm")),
        ("reading", row("62 mm", "outside")),
        *map(step, (*LEAST, PLACE)),
    ],
)
Ask = Callable[..., Compared]


@pytest.fixture(scope="module", autouse=True)
def studied_once() -> Iterator[None]:
    """Equal texts are studied once for all tests here."""
    with studying_once():
        yield


@pytest.fixture
def ask(tmp_path: Path) -> Ask:
    """Compare the demo's main entrance, its text edited, with the record of it."""

    def compare(*edits: tuple[str, str], told: bytes = RECORD, **more: Any) -> Compared:
        text = TEXT
        for old, new in edits:
            assert old in text
            text = text.replace(old, new, 1)
        site, record = tmp_path / DEMO.name, tmp_path / "record.json"
        site.write_text(text, "utf-8")
        record.write_bytes(told)
        return change_file(site, "main", record, on=DAY, **more)

    return compare


def visit(path: Path, *said: Said, **more: Any) -> Path:
    file = path / "visit.json"
    events = taps(digest_of(DEMO), said, phone="phone-b", visit=LATER, **more)
    file.write_text(json.dumps({"events": events}), "utf-8")
    return file


def owed(found: Compared) -> set[str]:
    return {one.test.id for one in found.owing.owed}


def test_a_door_that_is_as_it_was_owes_nothing(ask: Ask) -> None:
    found = ask()
    assert found.then.text == "same"
    assert (owed(found), found.owing.reopened, found.settings) == (set(), (), ())
    assert {one.id for one in found.owing.left} == {*LEAST, PLACE}
    assert found.then.number == 7


def test_what_says_the_same_in_other_words_is_no_change(ask: Ask) -> None:
    same = (
        ('clear_width = "2000 mm"', 'clear_width = "2 m"'),
        ('clear_height = "2130 mm"', 'clear_height = "2.13 m"  # by the drawing'),
        ('closing_time = "5.0 s"', 'closing_time = "5 s"'),
        ("covered = true", "covered = true\nbeams = []"),
    )
    found = ask(*same, was=DEMO)
    assert found.then.text == "known"
    assert found.settings == ()
    assert owed(found) == set()


def test_a_setting_that_was_turned_owes_the_tests_that_rest_on_it(ask: Ask) -> None:
    found = ask(('reach = "100 %"', 'reach = "80 %"'), was=DEMO)
    assert owed(found) == {"walk.outside.straight", "walk.outside.wall"}
    assert found.settings is not None
    assert [one.way[-1] for one in found.settings] == ["reach"]
    (group,) = told(found).owed
    assert group.because == (
        "Owed because this changed: the reach of unit outside was set otherwise: "
        "100 % → 80 %.",
    )
    assert [one.name for one in group.tests] == [
        "Walk straight at the door, outside",
        "Walk in from aside, outside",
    ]
    assert told(found).total == "2 tests; about 3 min"


def test_a_place_that_was_tested_is_tested_again_where_rows_were_turned(
    ask: Ask,
) -> None:
    found = ask(('tilt = "-2.5 deg"', 'tilt = "-2.4 deg"'), was=DEMO)
    assert {PLACE, "box.middle", "still"} <= owed(found)
    assert not any(one.startswith(("walk", "plug")) for one in owed(found))


def test_without_the_text_of_that_day_every_test_is_owed(ask: Ask) -> None:
    found = ask(('reach = "100 %"', 'reach = "80 %"'))
    assert (found.then.text, found.settings) == ("not here", None)
    assert owed(found) == {*LEAST, PLACE}
    assert "--was" in " ".join(told(found, kept=False).notes)


def test_a_row_that_is_found_within_both_readings_owes_nothing(
    ask: Ask, tmp_path: Path
) -> None:
    said = (("as_found", row("2 3/4 in")), ("as_found", row("55 mm", "outside")))
    found = ask(visit=visit(tmp_path, *said))
    assert [(one.moved, round(one.within, 6)) for one in found.readings] == [
        (False, 0.01),
        (False, 0.01),
    ]
    assert owed(found) == set()
    assert [one.says for one in told(found).readings] == [
        "as it was within ± 10 mm",
        "as it was within ± 10 mm",
    ]


def test_a_row_that_is_found_further_off_owes_what_rests_on_its_unit(
    ask: Ask, tmp_path: Path
) -> None:
    found = ask(visit=visit(tmp_path, ("as_found", row("90 mm"))))
    (one,) = found.readings
    assert one.moved
    assert told(found).readings[0].says == (
        "left 64 mm, found 90 mm: moved 26 mm, ± 10 mm of both readings"
    )
    assert {"box.middle", PLACE} <= owed(found)
    assert not any(one.startswith(("walk", "plug")) for one in owed(found))


def test_a_value_that_is_typed_at_the_door_is_compared_with_the_text(
    ask: Ask, tmp_path: Path
) -> None:
    tilt = {"key": "fitting.inside.settings.tilt", "value": "-2.50 deg"}
    assert owed(ask(visit=visit(tmp_path, ("as_found", tilt)))) == set()
    other = tilt | {"value": "-1 deg"}
    found = ask(visit=visit(tmp_path, ("as_found", other)))
    assert {"box.middle", "still"} <= owed(found)
    because = {why for one in told(found).owed for why in one.because}
    assert because == {
        "Owed because this changed: Unit: inside · Settings · Row tilt: left −2.5°, "
        "found −1°."
    }


def test_what_was_tested_after_it_was_turned_is_not_owed_again(
    ask: Ask, tmp_path: Path
) -> None:
    work = ("work", {"step": "radar", "done": True})
    walks = [one for one in LEAST if one.startswith("walk")]
    before = ask(visit=visit(tmp_path, step(walks[0]), work))
    assert owed(before) == set(walks)
    after = ask(visit=visit(tmp_path, work, step(walks[0]), step(walks[1], "touched")))
    assert owed(after) == set(walks[1:])
    assert after.since == ("work done: Radar",)


def test_a_test_that_was_never_made_is_owed(ask: Ask) -> None:
    paper = sealed(DEMO, None)
    found = ask(told=paper)
    assert owed(found) == set(LEAST)
    some = sealed(DEMO, [*map(step, LEAST[1:]), step(LEAST[1], "lamp only")])
    assert owed(ask(told=some)) == set(LEAST[:2])


def test_work_and_mended_causes_owe_what_they_may_have_moved(ask: Ask) -> None:
    assert owed(ask(done=("log",))) == set()
    assert "plug.inside" in owed(ask(done=("wires",)))
    assert {"box.left", "still"} <= owed(ask(mended=("unit_askew",)))
    assert owed(ask(mended=("none_of_these",))) == {*LEAST, PLACE}


@pytest.mark.parametrize(
    ("edit", "word"),
    [
        ({"told": RECORD.replace(b"64 mm", b"65 mm")}, "cannot be relied on"),
        ({"told": b"{}"}, "no sealed record"),
        ({"done": ("painting",)}, "no such work"),
        ({"mended": ("magic",)}, "no such cause"),
    ],
)
def test_what_cannot_be_used_is_refused_and_named(
    ask: Ask, edit: dict[str, Any], word: str
) -> None:
    with pytest.raises(Refusal) as refused:
        ask(**edit)
    assert word in " ".join(refused.value.lines)


def test_a_record_of_another_door_or_another_text_is_refused(
    ask: Ask, tmp_path: Path
) -> None:
    with pytest.raises(Refusal, match="doorway main"):
        ask(told=sealed(DEMO, None, "staff"))
    other = tmp_path / "other.toml"
    other.write_text(TEXT.replace("2000 mm", "1900 mm", 1), "utf-8")
    with pytest.raises(Refusal, match="digest"):
        ask(('reach = "100 %"', 'reach = "80 %"'), was=other)
