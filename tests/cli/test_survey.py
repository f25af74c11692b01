"""The survey at the terminal: questions, answers, reasons, and the first verdicts."""

import builtins
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from builders.studies import finding
from limen.cli.main import app
from limen.desk.sites import load_site
from limen.desk.survey import DOOR, NEEDED, PAPERS
from limen.findings import Lack, Message, Verdict
from limen.words import has

ANSWERS = (
    "Harbour hall",
    "Main entrance",
    "en",
    "2018-06-01",
    "2",
    "6' 8 1/2\"",
    "2200 mm",
    "two-row",
    "150 mm",
    "-",
    "-",
    "2.5 s, 2.6 s, 2.5 s",
    "4.5 s, 4.6 s, 4.4 s",
    "220 mm, 80 mm",
    "140 mm, 80 mm",
    "no",
    "yes",
)
INTERRUPTED = 130


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "door.toml"


@pytest.fixture
def nothing_found(give: Any) -> None:
    """Let the check at the end find one thing that is not shown."""
    lack = Lack(Message("lack.lens", {"fitting": "inside"}), "fitting[inside].lens")
    because = Message("height.no_lens")
    give((finding(verdict=Verdict.NOT_SHOWN, because=because, lacking=(lack,)),))


def _type(file: Path, *typed: str, options: tuple[str, ...] = ()) -> Result:
    text = "".join(f"{line}\n" for line in typed)
    words = ["new", "--ask", str(file), *options]
    env = {"COLUMNS": "", "NO_COLOR": "1"}
    return CliRunner().invoke(app, words, input=text, env=env)


# From the first question to the file --------------------------------------------


def test_piped_answers_make_a_file_that_is_checked_at_once(file: Path) -> None:
    """End to end, by the same path as at the keyboard."""
    done = _type(file, *ANSWERS)
    assert done.exit_code == 0, done.output
    assert load_site(file).doorway[0].name == "Main entrance"
    assert "13 of 13" in done.output
    assert "to mend before use" in done.output
    assert "only 140 mm" in done.output
    assert "fitting[inside].sheet" in done.output
    assert "40 mm (an estimate)" in done.output
    assert "limen new" in done.output


@pytest.mark.usefixtures("nothing_found")
def test_what_settles_a_question_stands_in_a_list(file: Path) -> None:
    done = _type(file, *ANSWERS)
    assert "1 question cannot be answered yet" in done.output
    assert "(fitting[inside].lens)" in done.output


@pytest.mark.usefixtures("nothing_found")
def test_a_wrong_answer_is_asked_again_with_its_reason(file: Path) -> None:
    typed: list[str] = [*ANSWERS]
    typed[5:5] = ["2045"]
    done = _type(file, *typed)
    assert done.exit_code == 0
    assert "a bare number has no unit" in done.output
    assert "Accepted: a length: 1800 mm" in done.output
    assert load_site(file).doorway[0].clear_width.value == pytest.approx(2.0447)


@pytest.mark.usefixtures("nothing_found")
def test_a_question_mark_helps_and_an_arrow_goes_back(file: Path) -> None:
    typed: list[str] = [*ANSWERS]
    typed[6:6] = ["?", "<", "?", "1900 mm"]
    done = _type(file, *typed)
    assert done.exit_code == 0
    assert "not the lower edge of its cover" in done.output
    assert "Handles that stand into the opening count" in done.output
    assert "now: 6' 8 1/2\" (Enter keeps it)" in done.output
    assert load_site(file).doorway[0].clear_width.value == pytest.approx(1.9)


@pytest.mark.usefixtures("nothing_found")
def test_the_rulebook_can_be_said_before(file: Path) -> None:
    typed = [*ANSWERS[:2], *ANSWERS[3:]]
    done = _type(file, *typed, options=("--rulebook", "us"))
    assert done.exit_code == 0, done.output
    assert load_site(file).rulebook == "us"


def test_a_file_that_is_there_is_never_asked_for(file: Path) -> None:
    file.write_text("mine", encoding="utf-8")
    done = _type(file, *ANSWERS)
    assert done.exit_code == 2
    assert "stays as it is" in done.stderr
    assert file.read_text("utf-8") == "mine"


# Broken off -----------------------------------------------------------------------


@pytest.mark.usefixtures("nothing_found")
def test_answers_that_end_early_are_kept_and_offered(file: Path) -> None:
    broken = _type(file, *ANSWERS[:7])
    assert broken.exit_code == 2
    assert f"limen new --ask {file}" in broken.stderr
    assert not file.exists()
    rest = _type(file, "", *ANSWERS[7:])
    assert rest.exit_code == 0, rest.output
    assert "7 answers are kept from last time" in rest.output
    assert "\n1 of 13" not in rest.output
    assert load_site(file).doorway[0].clear_width.value == pytest.approx(2.0447)


@pytest.mark.usefixtures("nothing_found")
def test_one_can_begin_anew(file: Path) -> None:
    _type(file, "Another hall")
    done = _type(file, "what?", "n", *ANSWERS)
    assert done.exit_code == 0, done.output
    assert load_site(file).name == "Harbour hall"


def test_an_interrupt_loses_nothing(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = iter(ANSWERS[:5])

    def line(_: str = "") -> str:
        try:
            return next(lines)
        except StopIteration:
            raise KeyboardInterrupt from None

    monkeypatch.setattr(builtins, "input", line)
    done = _type(file)
    assert done.exit_code == INTERRUPTED
    assert f"{file}.part" in done.output
    monkeypatch.undo()
    again = _type(file, "")
    assert "2 of 13" in again.output


def test_nothing_answered_is_nothing_kept(file: Path) -> None:
    done = _type(file)
    assert "nothing is kept" in done.stderr
    assert not file.with_name(f"{file.name}.part").exists()


# Written in full ------------------------------------------------------------------


@pytest.mark.usefixtures("nothing_found")
def test_the_short_form_can_be_written_in_full(file: Path) -> None:
    _type(file, *ANSWERS)
    full = file.with_name("full.toml")
    done = CliRunner().invoke(app, ["new", str(full), "--full", str(file)])
    assert done.exit_code == 0, done.output
    assert "# assumed: " in full.read_text("utf-8")
    short, long = load_site(file).doorway[0], load_site(full).doorway[0]
    assert long.model_dump(mode="json") == short.model_dump(mode="json")


def test_a_full_form_never_overwrites(file: Path) -> None:
    file.write_text("mine", encoding="utf-8")
    done = CliRunner().invoke(app, ["new", str(file), "--full", str(file)])
    assert done.exit_code == 2
    assert file.read_text("utf-8") == "mine"


@pytest.mark.parametrize("options", [("--full", "short.toml"), ()])
def test_options_that_do_not_go_together_are_refused(
    file: Path, options: tuple[str, ...]
) -> None:
    words = ["new", str(file), "--ask", *options] if options else ["new", str(file)]
    words += [] if options else ["--rulebook", "en"]
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 2
    assert not file.exists()


# What is said ---------------------------------------------------------------------


@pytest.mark.parametrize("key", [*PAPERS, *DOOR])
def test_every_question_says_what_to_measure_and_what_is_accepted(key: str) -> None:
    topic, _, side = key.rpartition("_")
    topic = topic if side in ("outside", "inside", "left", "right") else key
    for part in ("ask", "how", "accepts", "help"):
        assert has(f"survey.{topic}.{part}")


@pytest.mark.usefixtures("nothing_found")
def test_a_question_that_must_be_known_does_not_offer_otherwise(file: Path) -> None:
    output = _type(file, *ANSWERS).output
    asked = [part for part in output.split("\n\n") if "accepted: " in part]
    offered = [part for part in asked if "- not known" in part]
    needed = [key for key in NEEDED if key != "edition"]
    assert len(asked) - len(offered) == len(needed)


def test_a_narrow_terminal_gets_every_line_within_its_width(file: Path) -> None:
    env = {"COLUMNS": "60", "NO_COLOR": "1"}
    words = ["new", "--ask", str(file)]
    done = CliRunner().invoke(app, words, input="Hall\nDoor\n", env=env)
    printed = [line for line in done.stdout.splitlines() if str(file) not in line]
    assert max(map(len, printed)) <= 60
