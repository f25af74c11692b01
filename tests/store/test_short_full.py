"""The short form written in full: the same doorway, with what was taken marked."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from limen.model.taken import MAY_BE_TAKEN, taken_for
from limen.quantity import Grade
from limen.store.faults import FileFaults
from limen.store.short_full import WIDTH, full_text
from limen.store.sitefile import parse_site

HERE = Path("short.toml")
HEAD = '# ours\nname = "Harbour hall"   # the hall\nrulebook = "en"\n\n'
SHORT = """\
[[short]]
id = "main"
name = "Main entrance"
commissioned = 2018-06-01
leaves = "bi-parting"
clear_width = '''6' 8 1/2"'''
lens_height = "2200 mm"
unit_outside = "two-row"
unit_inside = "not-known"
plumb_outside = "150 mm ± 2 mm"
opening_runs = ["2.5 s", "2.6 s", "2.5 s"]
closing_runs = ["4.5 s", "4.6 s", "4.4 s"]
behind_left = { clearance = "220 mm", depth = "80 mm" }
escape_route = false

[short.behind_right]
clearance = "140 mm"
"""
LEAST = """\
[[short]]
id = "least"
name = "Least"
leaves = "single right"
clear_width = "1200 mm"
"""
DOOR = """\
[[doorway]]
id = "side"
name = "Side door"
clear_width = "1800 mm"     # wide
clear_height = "2100 mm"
leaves = { kind = "bi-parting", thickness = "40 mm" }
header = { outside = "100 mm", inside = "100 mm" }
reveal = { outside = "0 mm", inside = "0 mm" }

"""


def _doors(text: str) -> list[Any]:
    site = parse_site(text, HERE).site
    return [door.model_dump(mode="json") for door in site.doorway]


def _full(text: str) -> str:
    return full_text(text, HERE)


@pytest.mark.parametrize("short", [SHORT, LEAST])
def test_in_full_it_is_the_same_doorway(short: str) -> None:
    assert _doors(_full(HEAD + short)) == _doors(HEAD + short)


def test_everything_around_it_stays_as_it_was() -> None:
    text = HEAD + SHORT + "\n" + DOOR + LEAST
    full = _full(text)
    assert full.startswith(HEAD)
    assert DOOR in full
    ids = [door["id"] for door in _doors(full)]
    assert ids == ["main", "side", "least"]
    assert "short" not in tomllib.loads(full)


def test_every_value_that_was_taken_stands_under_a_comment_that_says_so() -> None:
    lines = _full(HEAD + SHORT).splitlines()
    estimates = [n for n, line in enumerate(lines) if "estimate" in line]
    assert len(estimates) == len({key.partition(".")[0] for key in MAY_BE_TAKEN})
    assert all(lines[number - 1].startswith("# assumed: ") for number in estimates)


def test_in_full_it_is_stated_as_an_estimate_and_no_longer_taken() -> None:
    door = parse_site(_full(HEAD + SHORT), HERE).site.doorway[0]
    assert list(taken_for(door)) == []
    assert door.leaves.thickness.grade is Grade.ESTIMATE


def test_what_was_typed_stays_typed() -> None:
    full = _full(HEAD + SHORT)
    assert r"""clear_width = "6' 8 1/2\"" """.strip() in full
    assert '"150 mm ± 2 mm"' in full


@pytest.mark.parametrize("short", [SHORT, LEAST])
def test_what_is_not_known_can_be_filled_in_by_taking_a_sign_away(short: str) -> None:
    opened = "\n".join(
        line.removeprefix("# ") if line.startswith("# ") and " = " in line else line
        for line in _full(HEAD + short).splitlines()
    ).replace('"not-known"', '"two-row"')
    (door,) = parse_site(opened, HERE).site.doorway
    assert door.leaves.mass is not None
    assert door.motion.hold_open is not None
    assert all(space.gap for space in door.side_space)
    assert all(fitting.read.first_row for fitting in door.fitting)
    assert door.use.many_frail_or_small is not None


def test_a_known_unit_without_the_place_of_its_lens_is_left_to_be_filled_in() -> None:
    text = HEAD + SHORT.replace('plumb_outside = "150 mm ± 2 mm"\n', "")
    full = _full(text)
    assert '# sheet = "two-row"' in full
    assert [one["id"] for one in _doors(full)[0]["fitting"]] == ["inside"]


def test_no_line_runs_off_a_narrow_screen() -> None:
    assert max(map(len, _full(HEAD + SHORT + LEAST).splitlines())) <= WIDTH


def test_a_file_with_nothing_in_short_is_told_so() -> None:
    with pytest.raises(FileFaults) as caught:
        _full(HEAD + DOOR)
    assert "[[short]]" in caught.value.faults[0].accepted


def test_short_forms_in_one_piece_are_told_so() -> None:
    inline = 'id = "a", name = "A", leaves = "bi-parting", clear_width = "1800 mm"'
    with pytest.raises(FileFaults) as caught:
        _full(f"{HEAD}short = [{{ {inline} }}]\n")
    assert caught.value.faults[0].line == 5


def test_faults_of_the_short_form_are_told_first() -> None:
    with pytest.raises(FileFaults) as caught:
        _full(HEAD + SHORT.replace('"bi-parting"', '"sliding"'))
    assert caught.value.faults[0].key == 'short "main" · leaves'
