"""The description of a call-out: everything that is known, and nothing that is not."""

import re

import pytest

from builders.studies import finding, study
from limen.exchange.handed_on import WIDTH, plain_text
from limen.findings import Verdict
from limen.keep.tracing import Ranked
from limen.words import languages, say_question
from limen.words.handed_on import HandedOn, Part, handed_on, title_of
from limen.words.tracing import said, said_cause

TOLD = HandedOn(
    site="Alder Quay",
    doorway="Main",
    began=("Taken up: 2026-11-26.",),
    happened=("The sun stood low.",),
    door=("Clear width 2000 mm",),
    settings=("inside: Row tilt 6 deg",),
    answers={
        "does": "reopens",
        "mode": "automatic",
        "when": "unknown",
        "whom": "neither",
        "leaf_held": "gone",
    },
    ranked=(Ranked("own_leaf", 0.6), Ranked("wind", 0.3), Ranked("blower", 0.001)),
    out=(("mode_set", "mode"), ("radar_dead", "mode"), ("none_of_these", "mode")),
    changes=("Row tilt: from 5 deg to 6 deg",),
    record="Record 3 of 2026-03-17.",
)
ORDER = (
    *("does", "door", "settings", "answers", "tried", "likely", "out"),
    *("changes", "record"),
)


def by_key(told: HandedOn, language: str = "en") -> dict[str, Part]:
    return {one.key: one for one in handed_on(told, language=language)}


def test_every_part_is_there_in_its_order() -> None:
    assert tuple(by_key(TOLD)) == ORDER


def test_what_is_not_known_is_left_out() -> None:
    assert not handed_on(HandedOn())
    assert title_of(HandedOn()) == said("told.nowhere")
    assert "Main, Alder Quay" in title_of(TOLD)


def test_answers_stand_in_the_order_in_which_they_were_given() -> None:
    lines = by_key(TOLD)["answers"].lines
    assert [line.partition("? ")[2] for line in lines] == [
        "automatic",
        "cannot say",
        "none of these",
        "yes, it stops",
    ]
    assert by_key(TOLD)["does"].lines[0] == "Turns back while closing, again and again."


def test_what_was_done_to_the_door_stands_once_more_by_itself() -> None:
    (tried,) = by_key(TOLD)["tried"].lines
    assert tried.startswith("Hold the leaf still")


def test_likely_causes_are_words_and_what_is_hardly_so_is_no_line() -> None:
    lines = by_key(TOLD)["likely"].lines
    assert [said_cause("own_leaf") in line for line in lines] == [True, False]
    assert not re.search(r"\d", " ".join(lines))


def test_what_is_ruled_out_stands_with_the_answer_that_did_it() -> None:
    (line,) = by_key(TOLD)["out"].lines
    assert line.startswith("What does the mode switch stand on? automatic.")
    assert said_cause("mode_set") in line
    assert said_cause("radar_dead") in line
    assert said_cause("none_of_these") not in line


def test_each_question_that_fails_stands_once_with_its_reason() -> None:
    fails = finding(Verdict.FAILS)
    found = study(
        fails,
        finding(Verdict.FAILS, case="upright"),
        finding(Verdict.HOLDS, "presence.threshold"),
        finding(Verdict.NOT_SHOWN, "presence.self_view"),
    )
    parts = by_key(HandedOn(findings=found.findings))
    (line,) = parts["fails"].lines
    assert say_question(fails.question) in line
    assert parts["not_shown"].lines == (say_question("presence.self_view"),)


def test_where_somebody_was_struck_no_cause_is_named() -> None:
    struck = HandedOn(answers={"does": "struck"}, ranked=TOLD.ranked, struck=True)
    (part,) = handed_on(struck)
    assert part.key == "does"
    assert said("struck") in part.lines


@pytest.mark.parametrize("language", languages())
def test_it_is_whole_in_every_language(language: str) -> None:
    assert tuple(by_key(TOLD, language)) == ORDER


def test_as_plain_text_no_line_is_too_wide_and_nothing_is_lost() -> None:
    parts = handed_on(TOLD)
    text = plain_text(title_of(TOLD), parts, caution=said("caution"))
    assert max(map(len, text.splitlines())) <= WIDTH
    flat = re.sub(r"\s+", " ", text)
    for part in parts:
        assert part.title in text
        assert all(line in flat for line in part.lines)
    assert text.endswith("decide.\n")
