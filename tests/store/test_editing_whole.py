"""A text is brought to say something else, and keeps its comments and its order."""

import copy
import tomllib
from importlib.resources import files
from typing import Any

import pytest

from limen.store.editing import EditError
from limen.store.editing_whole import rewrite, same

WHOLE = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
DEMO = WHOLE.partition("# --- The staff door")[0]
STAND = {"name": "stand", "side": "inside", "along": "1 m"}


def _wanted() -> dict[str, Any]:
    return copy.deepcopy(tomllib.loads(DEMO))


def _added(wanted: dict[str, Any]) -> list[str]:
    text = rewrite(DEMO, wanted)
    assert tomllib.loads(text) == wanted
    before = DEMO.splitlines()
    return [line for line in text.splitlines() if line and line not in before]


def test_the_same_is_the_same_text() -> None:
    assert rewrite(DEMO, _wanted()) == DEMO


def test_a_new_key_stands_among_the_keys_of_its_table() -> None:
    wanted = _wanted()
    wanted["doorway"][0]["motion"]["slow_speed"] = "0.1 m/s"
    text = rewrite(DEMO, wanted)
    assert 'hold_open = "2 s"\nslow_speed = "0.1 m/s"\n' in text
    assert len(text) == len(DEMO) + len('slow_speed = "0.1 m/s"\n')


def test_a_new_table_stands_on_one_line_with_the_spaces_people_write() -> None:
    wanted = _wanted()
    wanted["doorway"][0]["fitting"][0]["mount"] = {"place": "5 mm", "plumb": "1 deg"}
    assert _added(wanted) == ['mount = { place = "5 mm", plumb = "1 deg" }']


def test_a_new_thing_stands_where_its_doorway_ends_and_above_the_next_heading() -> None:
    wanted = _wanted()
    wanted["doorway"][0]["thing"].append(STAND)
    wanted["doorway"][1]["thing"] = [STAND]
    text = rewrite(DEMO, wanted)
    assert tomllib.loads(text) == wanted
    heading = text.index("# --- The inner door of the vestibule")
    first = text.index('name = "stand"')
    assert first < heading < text.index('name = "stand"', first + 1)
    assert text[heading:].split("\n", 2)[1] == ""


def test_what_is_taken_out_leaves_all_else() -> None:
    wanted = _wanted()
    del wanted["doorway"][0]["fitting"][0]
    text = rewrite(DEMO, wanted)
    assert tomllib.loads(text) == wanted
    assert "# the winter position" in text
    assert not [line for line in text.splitlines() if line not in DEMO.splitlines()]


def test_line_ends_stay_those_of_the_text() -> None:
    wanted = _wanted()
    wanted["doorway"][0]["thing"].append(STAND)
    text = rewrite(DEMO.replace("\n", "\r\n"), wanted)
    assert "\n" not in text.replace("\r\n", "")


def test_lines_that_the_toml_library_would_space_anew_stay() -> None:
    """tomlkit drops the space behind a date in an inline table."""
    text = 'day = { on = 2026-03-17 }\nname = "a"\n'
    wanted = {**tomllib.loads(text), "name": "b"}
    assert rewrite(text, wanted) == 'day = { on = 2026-03-17 }\nname = "b"\n'


def test_true_is_not_one() -> None:
    assert not same({"a": True}, {"a": 1})
    assert tomllib.loads(rewrite("a = true\n", {"a": 1})) == {"a": 1}


def test_what_is_no_toml_is_refused() -> None:
    with pytest.raises(EditError):
        rewrite("a = ", {"a": 1})
