"""The survey asks what it needs, takes what a file may hold, and loses nothing."""

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.desk.refusal import Refusal
from limen.desk.sites import load_site
from limen.desk.survey import (
    DOOR,
    NEEDED,
    PAPERS,
    UNKNOWN,
    Survey,
    Why,
    anew,
    answer,
    asked,
    back,
    begin,
    finish,
)
from limen.store.short_answers import DOOR_KEYS, SITE_KEYS, faults_of, part_of

GIVEN = {
    "site": "Harbour hall",
    "door": "Main entrance",
    "rulebook": "en",
    "commissioned": "2018-06-01",
    "leaves": "2",
    "clear_width": "6' 8 1/2\"",
    "lens_height": "2200 mm",
    "unit_outside": "two-row",
    "plumb_outside": "150 mm ± 3 mm",
    "unit_inside": "-",
    "plumb_inside": "-",
    "opening_runs": "2.5, 2.6, 2.5 s",
    "closing_runs": "4.5 s, 4.6 s, 4.4 s",
    "behind_left": "220 mm, 80 mm",
    "behind_right": "240 mm, -",
    "escape_route": "no",
    "many_frail_or_small": "yes",
}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "door.toml"


def _through(survey: Survey, **changed: str) -> Survey:
    """Answer everything that is asked; an answer that is refused fails the test."""
    given = GIVEN | changed
    while (question := asked(survey)) is not None:
        survey = _taken(survey, given[question.key])
    return survey


def _taken(survey: Survey, typed: str) -> Survey:
    after = answer(survey, typed)
    assert isinstance(after, Survey), (survey.at, typed, after)
    return after


def _asked_keys(survey: Survey, **changed: str) -> Iterator[str]:
    given = GIVEN | changed
    while (question := asked(survey)) is not None:
        yield question.key
        survey = _taken(survey, given[question.key])


def _at(file: Path, key: str) -> Survey:
    """A survey in which everything before a question is answered."""
    survey = begin(file)
    while (question := asked(survey)) is not None and question.key != key:
        survey = _taken(survey, GIVEN[question.key])
    assert survey.at == key
    return survey


# What is asked ----------------------------------------------------------------


def test_every_answer_has_a_place_in_the_file() -> None:
    assert set(PAPERS) | set(DOOR) == set(SITE_KEYS) | set(DOOR_KEYS)


def test_about_a_dozen_things_are_asked_at_the_door(file: Path) -> None:
    keys = list(_asked_keys(begin(file)))
    assert [key for key in keys if key in DOOR] == list(DOOR)
    assert len(DOOR) == 13


def test_a_single_leaf_is_asked_for_one_space(file: Path) -> None:
    keys = list(_asked_keys(begin(file), leaves="left"))
    assert "behind_left" in keys
    assert "behind_right" not in keys


def test_a_side_without_a_unit_has_no_plumb_mark(file: Path) -> None:
    assert "plumb_inside" not in _asked_keys(begin(file), unit_inside="none")


def test_the_edition_is_asked_only_where_the_date_does_not_tell(file: Path) -> None:
    survey = _taken(_at(file, "commissioned"), UNKNOWN)
    question = asked(survey)
    assert question is not None
    assert (question.key, question.choices) == ("edition", ("2012", "2023"))
    assert isinstance(answer(survey, UNKNOWN), Why)
    assert _taken(survey, "2").answers["edition"] == "2023"


def test_a_date_that_tells_leaves_the_edition_unasked(file: Path) -> None:
    assert "edition" not in list(_asked_keys(begin(file)))


def test_a_rulebook_that_is_given_is_not_asked(file: Path) -> None:
    survey = begin(file, "us")
    assert "rulebook" not in list(_asked_keys(survey))
    written = finish(_through(begin(file, "us")))
    assert load_site(written).rulebook == "us"


def test_a_choice_can_be_made_by_its_number(file: Path) -> None:
    survey = _at(file, "unit_outside")
    question = asked(survey)
    assert question is not None
    first = question.choices[0]
    assert _taken(survey, "1").answers["unit_outside"] == first
    assert question.choices[-1] == "none"


def test_a_sheet_beside_the_file_can_be_chosen(file: Path) -> None:
    (file.parent / "sheets").mkdir()
    own = file.parent / "sheets" / "our-own.toml"
    own.write_text('name = "Ours"\n[motion]\n', encoding="utf-8")
    assert "our-own" in begin(file).sheets


def test_a_barrier_is_not_offered_as_the_unit_above_the_door(file: Path) -> None:
    question = asked(_at(file, "unit_outside"))
    assert question is not None
    assert "edge-barrier" not in question.choices
    assert {"two-row", "radar-only"} <= set(question.choices)


# What is taken ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "typed", "why"),
    [
        ("clear_width", "1800", "a bare number has no unit"),
        ("clear_width", "1,8 m", "the decimal sign is the point"),
        ("clear_width", "100 mm", "outside what a door can have"),
        ("lens_height", "2200 kg", "kg measures mass"),
        ("plumb_outside", "-150 mm", "outside"),
        ("opening_runs", "2.5", "a bare number has no unit"),
        ("closing_runs", "4.5 s, 4.6 mm", "mm measures length"),
        ("behind_left", "220 mm", "two figures are asked for"),
        ("behind_left", "220 mm, 80 mm, 3 mm", "two figures are asked for"),
        ("behind_left", "220, 80 mm", "a bare number has no unit"),
        ("escape_route", "perhaps", "not accepted here"),
        ("leaves", "swing", "not one of the accepted words"),
        ("commissioned", "1st of June", "not accepted here"),
        ("commissioned", "2018-13-01", "not accepted here"),
        ("unit_outside", "Brightest", "not one of those listed"),
        ("rulebook", "house rules", "not one of those listed"),
        ("site", "", "nothing was typed"),
    ],
)
def test_a_wrong_answer_is_refused_with_its_reason(
    file: Path, key: str, typed: str, why: str
) -> None:
    survey = _at(file, key)
    refused = answer(survey, typed)
    assert isinstance(refused, Why)
    assert why in refused.why
    assert asked(survey) == asked(survey)
    assert key not in survey.answers


@pytest.mark.parametrize("key", NEEDED)
def test_what_nothing_can_do_without_must_be_known(file: Path, key: str) -> None:
    survey = begin(file)
    while survey.at != key:
        typed = UNKNOWN if survey.at == "commissioned" and key == "edition" else None
        survey = _taken(survey, typed or GIVEN[survey.at])
    assert isinstance(answer(survey, UNKNOWN), Why)


@pytest.mark.parametrize("key", [key for key in GIVEN if key not in NEEDED])
def test_whatever_else_is_not_known_stays_not_known(file: Path, key: str) -> None:
    changed = {key: UNKNOWN}
    edition = {"edition": "2012"} if key == "commissioned" else {}
    survey = _through(begin(file), **changed, **edition)
    load_site(finish(survey))


def test_one_unit_at_the_end_counts_for_all_runs(file: Path) -> None:
    door = load_site(finish(_through(begin(file)))).doorway[0]
    assert [run.value for run in door.motion.opening_runs] == [2.5, 2.6, 2.5]


@settings(max_examples=30)
@given(st.text(max_size=30))
def test_no_text_whatever_breaks_the_judging_of_an_answer(text: str) -> None:
    """Whatever is typed is taken as a file would take it, or refused with a reason."""
    typed = text.strip()
    if not typed:
        return
    for key in ("site", *DOOR):
        assert all(fault.why for fault in faults_of(key, typed))


# Going back, going on ---------------------------------------------------------


def test_one_can_go_back_and_change_an_answer(file: Path) -> None:
    survey = back(_at(file, "lens_height"))
    question = asked(survey)
    assert question is not None
    assert (question.key, question.before) == ("clear_width", GIVEN["clear_width"])
    changed = _taken(survey, "1900 mm")
    assert changed.at == "lens_height"
    door = load_site(finish(_through(changed))).doorway[0]
    assert door.clear_width.value == pytest.approx(1.9)


def test_the_first_question_has_none_before_it(file: Path) -> None:
    survey = begin(file)
    assert back(survey).at == survey.at == "site"


def test_enter_takes_the_answer_that_is_shown(file: Path) -> None:
    survey = back(_at(file, "lens_height"))
    assert _taken(survey, "").answers["clear_width"] == GIVEN["clear_width"]


def test_an_answer_that_no_longer_applies_is_left_out(file: Path) -> None:
    survey = _through(begin(file))
    while survey.at != "leaves":
        survey = back(survey)
    door = load_site(finish(_taken(survey, "right"))).doorway[0]
    assert [space.side for space in door.side_space] == ["right"]


@pytest.mark.parametrize("answered", range(1, len(GIVEN)))
def test_nothing_is_lost_wherever_it_is_broken_off(file: Path, answered: int) -> None:
    """After any number of answers a new survey goes on at the next question."""
    survey = begin(file)
    for key in list(GIVEN)[:answered]:
        survey = _taken(survey, GIVEN[key])
    again = begin(file)
    assert again.answers == survey.answers
    assert again.at == survey.at == list(GIVEN)[answered]


def test_begun_anew_it_asks_from_the_start(file: Path) -> None:
    _at(file, "lens_height")
    fresh = anew(begin(file))
    assert (fresh.at, dict(fresh.answers)) == ("site", {})
    load_site(finish(_through(fresh)))


def test_a_kept_answer_that_is_no_longer_accepted_is_asked_again(file: Path) -> None:
    _at(file, "unit_inside")
    part = part_of(file)
    text = part.read_text("utf-8").replace('"two-row"', '"gone-unit"')
    part.write_text(text, encoding="utf-8")
    assert begin(file).at == "unit_outside"


def test_kept_answers_that_cannot_be_read_are_told(file: Path) -> None:
    part_of(file).write_text("clear_width = \n", encoding="utf-8")
    with pytest.raises(Refusal, match=r"door\.toml\.part"):
        begin(file)


def test_answers_kept_by_somebody_else_meanwhile_are_not_overwritten(
    file: Path,
) -> None:
    one, other = begin(file), begin(file)
    _taken(one, "Harbour hall")
    with pytest.raises(Refusal, match="changed by someone else"):
        answer(other, "Another hall")
    assert "Harbour hall" in part_of(file).read_text("utf-8")


# Written ----------------------------------------------------------------------


def test_the_file_says_what_was_answered_as_it_was_typed(file: Path) -> None:
    text = finish(_through(begin(file))).read_text("utf-8")
    assert r'''clear_width = "6' 8 1/2\""''' in text
    assert '"150 mm ± 3 mm"' in text
    assert 'unit_inside = "not-known"' in text
    assert "# plumb_inside: not known" in text
    assert not part_of(file).exists()


def test_a_file_that_is_there_stays_as_it_is(file: Path) -> None:
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(Refusal, match="stays as it is"):
        begin(file)
    assert file.read_text("utf-8") == "mine"


def test_a_file_that_came_meanwhile_stays_as_it_is(file: Path) -> None:
    survey = _through(begin(file))
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(Refusal):
        finish(survey)
    assert file.read_text("utf-8") == "mine"
    assert part_of(file).exists()


def test_an_open_question_leaves_the_file_unwritten(file: Path) -> None:
    with pytest.raises(Refusal):
        finish(_at(file, "lens_height"))
    assert not file.exists()


def test_a_rulebook_that_is_not_there_is_refused_with_those_that_are(
    file: Path,
) -> None:
    with pytest.raises(Refusal, match=r"there are: .*en"):
        begin(file, "xx")


@settings(max_examples=8)  # each writes a file an answer
@given(
    leaves=st.sampled_from(["2", "left", "right"]),
    left_out=st.sets(st.sampled_from([key for key in DOOR if key not in NEEDED])),
    units=st.lists(st.sampled_from(["two-row", "radar-only", "none", "-"]), min_size=2),
)
def test_whatever_is_answered_the_file_reads(
    tmp_path_factory: pytest.TempPathFactory,
    leaves: str,
    left_out: Iterable[str],
    units: list[str],
) -> None:
    file = tmp_path_factory.mktemp("survey") / "door.toml"
    changed = {"unit_outside": units[0], "unit_inside": units[1], "leaves": leaves}
    changed |= dict.fromkeys(left_out, UNKNOWN)
    site = load_site(finish(_through(begin(file), **changed)))
    assert site.doorway[0].leaves.hand in (None, leaves)
