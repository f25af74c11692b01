"""`limen trace`: asks, weighs what a file answers, and refuses what it cannot use."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from typer.testing import CliRunner

from limen.cli.main import app
from limen.keep.tracing import STRUCK
from limen.store.causes import known_causes
from limen.words.tracing import said_answer, said_ask, said_cause

DEMO = Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml")))
RUN = CliRunner(env={"COLUMNS": "100"})
PUDDLE = """
[door]
place = "outdoors"
[answers]
does = "stays-open"
mode = "automatic"
changed = "nothing"
lamp_presence = "flickers"
lamp_motion = "quiet"
when = "wet"
field = "water"
"""


def written(folder: Path, text: str) -> str:
    path = folder / "call.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def as_json(*more: str) -> dict[str, Any]:
    done = RUN.invoke(app, ["trace", *more, "--json"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def test_answers_from_a_file_are_weighed_and_the_cause_is_named(tmp_path: Path) -> None:
    told = as_json("--answers", written(tmp_path, PUDDLE))
    assert told["ranked"][0]["cause"] == "wet_floor"
    assert told["found"] == "wet_floor"
    assert told["next"] is None
    assert told["asked"][:2] == ["does", "mode"]
    assert sum(one["p"] for one in told["ranked"]) == pytest.approx(1.0, abs=1e-2)


def test_without_an_answer_the_first_question_comes_with_its_reason() -> None:
    following = as_json()["next"]
    assert following["question"] == "does"
    assert following["minutes"] > 0
    assert following["why"]


def test_figures_of_a_doorway_turn_the_odds(tmp_path: Path) -> None:
    answers = '[answers]\ndoes = "reopens"\n'
    without = as_json("--answers", written(tmp_path, answers))
    faced = as_json(
        str(DEMO), "--doorway", "main", "--answers", str(tmp_path / "call.toml")
    )
    share = {one["cause"]: one["p"] for one in without["ranked"]}
    with_figures = {one["cause"]: one["p"] for one in faced["ranked"]}
    assert with_figures["shared_channel"] > share["shared_channel"]
    assert faced["doorway"]


def test_where_somebody_was_struck_nothing_is_looked_for(tmp_path: Path) -> None:
    call = written(tmp_path, f'[answers]\ndoes = "{STRUCK}"\n')
    told = as_json("--answers", call)
    assert told["struck"]
    assert not told["ranked"]
    said = RUN.invoke(app, ["trace", "--answers", call]).stdout
    assert "out of use" in said
    assert "Touch nothing" in said


def test_it_asks_until_it_is_stopped_goes_back_and_keeps_what_was_said(
    tmp_path: Path,
) -> None:
    kept = tmp_path / "kept.toml"
    typed = "2\n1\nb\n\nsurely\nq\n"
    done = RUN.invoke(app, ["trace", "--save", str(kept)], input=typed)
    assert done.exit_code == 0, done.output
    assert "does = " in kept.read_text("utf-8")
    assert 'mode = "unknown"' in kept.read_text("utf-8")
    again = as_json("--answers", str(kept))
    assert again["asked"] == ["does", "mode"]


def test_a_saved_call_names_its_site_and_reads_back(tmp_path: Path) -> None:
    kept = tmp_path / "kept.toml"
    asked = ["trace", str(DEMO), "--doorway", "staff", "--save", str(kept)]
    assert RUN.invoke(app, asked, input="q\n").exit_code == 0
    assert as_json("--answers", str(kept))["doorway"]


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    kept = written(tmp_path, PUDDLE)
    done = RUN.invoke(app, ["trace", "--save", kept], input="q\n")
    assert done.exit_code == 2
    assert Path(kept).read_text("utf-8") == PUDDLE


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[answers]\ncolour = "blue"\n', "no such question"),
        ('[answers]\nmode = "blue"\n', "automatic"),
        ('[answers]\nmode = "struck"\n', "no such answer"),
        ('doorway = "main"\n', "site"),
        ("[door]\nplace = 3\n", "place"),
        ("colour = 1\n", "colour"),
        ("answers = ", "line 1"),
    ],
)
def test_what_cannot_be_used_is_told_with_what_would_be(
    text: str, said: str, tmp_path: Path
) -> None:
    done = RUN.invoke(app, ["trace", "--answers", written(tmp_path, text)])
    assert done.exit_code == 2
    assert said in done.output


def test_a_doorway_is_asked_for_where_the_site_has_several() -> None:
    done = RUN.invoke(app, ["trace", str(DEMO)])
    assert done.exit_code == 2
    assert "reading-room" in done.output


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_every_question_answer_and_cause_has_words(language: str) -> None:
    causes = known_causes()
    for asking in causes.asked:
        assert said_ask(asking.id, language=language)
        for answer in (*asking.usual, "unknown"):
            assert said_answer(asking.id, answer, language=language)
    for cause in causes.causes:
        assert said_cause(cause.id, language=language)


def test_low_sun_at_the_hour_makes_it_likelier(tmp_path: Path) -> None:
    """An evening of October in the north, a door that looks west, and one east."""

    def share(faces: str) -> float:
        text = tomlkit.parse(DEMO.read_text("utf-8"))
        text["latitude"], text["longitude"] = "53.5 deg", "10 deg"
        doors: Any = text["doorway"]
        doors[0].setdefault("exposure", {})["faces"] = faces
        (tmp_path / "site.toml").write_text(tomlkit.dumps(text), encoding="utf-8")
        call = f'site = "site.toml"\ndoorway = "{doors[0]["id"]}"\n'
        call += 'at = 2026-10-14T17:10:00+02:00\n[answers]\ndoes = "reopens"\n'
        told = as_json("--answers", written(tmp_path, call))
        return {one["cause"]: one["p"] for one in told["ranked"]}["low_sun"]

    assert share("250 deg") > 2 * share("70 deg")


def test_a_description_is_printed_or_written_and_never_written_over(
    tmp_path: Path,
) -> None:
    call, to = written(tmp_path, PUDDLE), tmp_path / "told.txt"
    printed = RUN.invoke(app, ["trace", "--answers", call, "--describe", "-"])
    assert printed.exit_code == 0, printed.output
    assert "When does it happen? in rain or snow" in printed.stdout
    assert "What is ruled out, and why" in printed.stdout
    asked = ["trace", "--answers", call, "--describe", str(to)]
    assert RUN.invoke(app, asked).exit_code == 0
    assert to.read_text("utf-8") == printed.stdout
    assert RUN.invoke(app, asked).exit_code == 2
    assert to.read_text("utf-8") == printed.stdout


def test_a_description_has_the_door_as_its_file_has_it(tmp_path: Path) -> None:
    text = f'site = "{DEMO}"\ndoorway = "main"\n{PUDDLE}'
    told = RUN.invoke(
        app, ["trace", "--answers", written(tmp_path, text), "--describe", "-"]
    )
    assert told.exit_code == 0, told.output
    flat = " ".join(told.stdout.replace("\N{NO-BREAK SPACE}", " ").split())
    assert "Clear width 2000 mm" in flat
    assert "Sensor sheet two-row" in flat
    assert "What fails by the doorway's own study" in flat
