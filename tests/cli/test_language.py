"""`--language`: the same findings in the reader's words; keys and numbers stay."""

import json

import pytest

from builders.studies import failing, finding, not_shown
from cli.conftest import Give, Run
from limen.findings import Margin
from limen.quantity import Dimension

TIME = Margin(-0.28, 0.0, Dimension.TIME)
MIXED = (
    finding(question="mounting.height"),
    not_shown("sheet.presence.learns_after", question="presence.hold_time"),
    failing(margin=TIME),
)


def test_the_findings_are_told_in_german(give: Give, run: Run) -> None:
    give(MIXED)
    said = run("check", "door.toml", "--language", "de").stdout
    assert "1 vor dem Gebrauch zu beheben" in said
    assert "verfehlt" in said
    assert "0,28 s zu wenig" in said
    assert "Die Texte der Regelwerke selbst sind englisch." in said


def test_english_is_told_where_nobody_asks_for_another(give: Give, run: Run) -> None:
    give(MIXED)
    run("check", "door.toml", "--language", "de")
    said = run("check", "door.toml").stdout
    assert "1 to mend before use" in said
    assert "0.28 s short" in said


def test_the_language_may_stand_in_the_environment(
    give: Give, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    give(MIXED)
    monkeypatch.setenv("LIMEN_LANGUAGE", "de")
    assert "verfehlt" in run("check", "door.toml").stdout
    assert "fails" in run("check", "door.toml", "--language", "en").stdout


def test_a_language_that_is_not_there_is_refused_with_those_that_are(
    give: Give, run: Run
) -> None:
    give(MIXED)
    told = run("check", "door.toml", "--language", "xx")
    assert told.exit_code == 2
    assert "de, en, fr" in told.stderr


def test_json_says_sentences_in_the_language_and_all_else_as_ever(
    give: Give, run: Run
) -> None:
    give(MIXED)
    english = json.loads(run("check", "door.toml", "--json").stdout)
    german = json.loads(run("check", "door.toml", "--json", "--language", "de").stdout)
    one, other = (told["doorways"][0]["findings"] for told in (english, german))
    for key in ("verdict", "question", "case", "margin", "settled_by"):
        assert [finding[key] for finding in one] == [finding[key] for finding in other]
    assert [f["lacking"] for f in one] != [f["lacking"] for f in other]
