"""A doorway's life is read from where it is kept: nothing of it is left out."""

from collections import Counter
from collections.abc import Iterator

import pytest

from builders.lived import DOOR, Lived, lived_door
from limen.desk.between import call_off, plan
from limen.desk.library import open_site
from limen.desk.life import Life, SaidEntry, TextEntry, life_of
from limen.desk.life_courses import Course, margins_of, readings_over, windows_of
from limen.desk.spoken import At
from limen.desk.visits import Folded
from limen.store.database.keeping import keep_event
from limen.store.database.records import KeptRecord


@pytest.fixture(scope="module")
def lived(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lived]:
    with lived_door(tmp_path_factory.mktemp("lived") / "library.db") as one:
        at = At(one.site, DOOR, "R. Okafor")
        made = plan(one.desk, at, {"day": "2027-03-17", "what": "check"})
        call_off(one.desk, at, made.words.about, {})
        for kind, text in (("called_out", "{}"), ("answered", '{"question": "does"}')):
            keep_event(
                one.desk.library,
                about="0123456789ab",
                site=one.site,
                doorway=DOOR,
                kind=kind,
                text=text,
            )
        yield one


@pytest.fixture(scope="module")
def life(lived: Lived) -> Life:
    return life_of(lived.desk, lived.site, DOOR)


@pytest.fixture(scope="module")
def rooms(lived: Lived, life: Life) -> tuple[Course, ...]:
    opened = open_site(lived.desk, lived.site)
    return margins_of(lived.desk, opened, DOOR, life.records)


def test_everything_that_was_kept_stands_in_it_the_newest_first(life: Life) -> None:
    kinds = Counter(one.kind for one in life.entries)
    assert kinds == {
        "texts": 5,
        "visits": 5,
        "records": 5,
        "planned": 2,
        "reports": 1,
    }
    moments = [one.moment[:19] for one in life.entries]
    assert moments == sorted(moments, reverse=True)


def test_a_text_is_an_entry_where_it_changed_this_doorway(lived: Lived) -> None:
    texts = [
        one.of
        for one in life_of(lived.desk, lived.site, DOOR).entries
        if isinstance(one.of, TextEntry)
    ]
    *changed, first = texts
    assert first.first
    for one in changed:
        assert one.changes is not None
        (change,) = one.changes
        assert change.key[-2:] == ("lens", "height")
    other = life_of(lived.desk, lived.site, "staff")
    assert [type(one.of) for one in other.entries] == [TextEntry]


def test_texts_of_one_day_stand_together(lived: Lived) -> None:
    before = lived.desk.library.read(lived.site).version
    found = life_of(lived.desk, lived.site, DOOR)
    numbers = [one.of.numbers for one in found.entries if isinstance(one.of, TextEntry)]
    assert sum(map(len, numbers)) == before


def test_a_word_that_calls_off_knows_what_it_calls_off(life: Life) -> None:
    said = [one.of for one in life.entries if isinstance(one.of, SaidEntry)]
    off = next(one for one in said if one.row.kind == "called_off")
    assert off.before["day"] == "2027-03-17"


def test_what_others_fold_is_one_entry_with_the_rest_of_it(life: Life) -> None:
    (found,) = (one.of for one in life.entries if one.kind == "reports")
    assert isinstance(found, SaidEntry)
    assert [one.kind for one in (found.row, *found.later)] == ["called_out", "answered"]


def test_visits_and_records_are_those_that_are_kept(life: Life) -> None:
    assert [one.visit for one in life.visits] == [
        one.of.visit for one in life.entries if isinstance(one.of, Folded)
    ]
    numbers = [one.of.number for one in life.entries if isinstance(one.of, KeptRecord)]
    assert numbers == [5, 4, 3, 2, 1]


def test_a_row_that_is_set_back_each_year_is_seen_to_drift(
    lived: Lived, life: Life
) -> None:
    opened = open_site(lived.desk, lived.site)
    windows = windows_of(lived.desk, opened, DOOR)
    (found,) = readings_over(lived.desk, opened.doorway(DOOR), life.visits, windows)
    assert (found.of, found.fitting, found.row, found.place) == (
        "row line",
        "inside",
        1,
        0.0,
    )
    assert [one.how for one in found.marks] == ["left", *("found", "left") * 4]
    assert found.found.shown
    assert found.found.slope == pytest.approx(0.0057, abs=1e-4)
    assert found.found.reach is not None
    assert found.found.reach.limit == found.most
    least, _, most = windows["inside"]
    assert least < 0.056 < most


def test_each_record_and_the_day_it_is_have_their_room(
    rooms: tuple[Course, ...],
) -> None:
    one = next(
        one for one in rooms if (one.of, one.case) == ("presence.threshold", "upright")
    )
    assert [mark.how for mark in one.marks] == [*("record",) * 5, "now"]
    assert [mark.of for mark in one.marks] == ["1", "2", "3", "4", "5", ""]
    assert one.least == 0.0


def test_a_text_that_says_the_same_tells_nothing_new(rooms: tuple[Course, ...]) -> None:
    for one in rooms:
        assert not one.last.tells
        assert one.found.dates <= 5


def test_settings_that_were_changed_begin_a_new_run(lived: Lived) -> None:
    from limen.desk.life_courses import _State, _steps

    def state(text: str, book: str = "b") -> _State:
        return _State(lived.clock.day, "record", "1", (), book, text)

    def text(tilt: str, height: str) -> str:
        return (
            '[[doorway]]\nid = "main"\n[[doorway.fitting]]\nid = "inside"\n'
            f'lens = {{ height = "{height}" }}\nsettings = {{ tilt = "{tilt}" }}\n'
        )

    states = [
        state(text("1 deg", "2200 mm")),
        state(text("1 deg", "2200 mm")),
        state(text("1 deg", "2190 mm")),
        state(text("2 deg", "2190 mm")),
        state(text("2 deg", "2190 mm"), "another"),
        _State(lived.clock.day, "now", "", (), "another", None),
    ]
    assert list(_steps(states, "main")) == [
        (False, False),
        (False, True),
        (True, True),
        (True, True),
        (True, True),
    ]
