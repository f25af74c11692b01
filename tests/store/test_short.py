"""The short form of a file: a dozen figures, the rest taken and marked so."""

import json
import tomllib
from datetime import date
from importlib.resources import files
from operator import attrgetter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from limen.desk.checking import study
from limen.findings import Finding, Study, Verdict
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.model.taken import MAY_BE_TAKEN, TAKEN, taken, taken_for
from limen.quantity import Grade, Quantity
from limen.questions import QUESTIONS
from limen.questions.asking import lack_fact
from limen.store.editing import save, set_value
from limen.store.faults import Fault
from limen.store.schema import schema
from limen.store.short_full import full_text
from limen.store.sitefile import SiteFaults, SiteFile, parse_site, read_site
from limen.study.running import facts_of
from limen.words import said_assumed, say

SHORT = """\
name = "Harbour hall"
rulebook = "en"

[[short]]
id = "main"
name = "Main entrance"
commissioned = 2018-06-01
leaves = "bi-parting"
clear_width = "6 ft 8 1/2 in"
lens_height = "2200 mm"
unit_outside = "two-row"
unit_inside = "not-known"
plumb_outside = "150 mm"
plumb_inside = "140 mm"
opening_runs = ["2.5 s", "2.6 s", "2.5 s"]
closing_runs = ["4.5 s", "4.6 s", "4.4 s"]
behind_left = { clearance = "220 mm", depth = "80 mm" }
behind_right = { clearance = "240 mm", depth = "80 mm" }
escape_route = false
many_frail_or_small = true
"""
LEAST = """\
name = "Harbour hall"
[[short]]
id = "main"
name = "Main entrance"
edition = "2012"
leaves = "single left"
clear_width = "1200 mm"
"""
FULL = """
[[doorway]]
id = "side"
name = "Side door"
edition = "2012"
clear_width = "1800 mm"
clear_height = "2100 mm"
leaves = { kind = "bi-parting", thickness = "40 mm" }
header = { outside = "100 mm", inside = "100 mm" }
reveal = { outside = "0 mm", inside = "0 mm" }
facing = [{ doorway = "main", side = "inside", distance = "3 m" }]
"""


def _read(text: str = SHORT) -> SiteFile:
    return parse_site(text, Path("short.toml"))


def _door(text: str = SHORT) -> Doorway:
    return _read(text).site.doorway[0]


def _study(text: str = SHORT) -> Study:
    site = _read(text).site
    return study(site.doorway[0], "en", on=date(2026, 11, 12), site=site)


def _faults(text: str) -> tuple[Fault, ...]:
    with pytest.raises(SiteFaults) as caught:
        _read(text)
    return caught.value.faults


# What is read --------------------------------------------------------------------


def test_what_was_found_stands_in_the_doorway_as_it_was_typed() -> None:
    door = _door()
    assert door.clear_width.value == pytest.approx(80.5 * 0.0254)
    assert door.clear_width.grade is Grade.MEASURED
    assert [run.value for run in door.motion.closing_runs] == [4.5, 4.6, 4.4]
    assert [space.side for space in door.side_space] == ["left", "right"]
    assert door.use.escape_route is False
    outside, inside = door.fitting
    assert outside.lens is not None
    assert (outside.lens.from_leaf.value, outside.lens.height.value) == (0.15, 2.2)
    assert outside.unit is not None
    assert inside.unit is None


def test_everything_else_is_taken_and_no_better_than_an_estimate() -> None:
    found = dict(taken_for(_door()))
    assert set(found) == set(MAY_BE_TAKEN)
    assert {one.grade for one in found.values()} == {Grade.ESTIMATE}
    assert not any(grade.may_hold for grade in {one.grade for one in found.values()})


def test_a_doorway_in_full_has_nothing_taken() -> None:
    assert list(taken_for(_door(SHORT[: SHORT.index("[[")] + FULL_ALONE))) == []


FULL_ALONE = FULL.replace(
    'facing = [{ doorway = "main", side = "inside", distance = "3 m" }]\n', ""
)


def test_what_is_left_out_is_not_known() -> None:
    door = _door(LEAST)
    assert door.use.escape_route is None
    assert door.use.many_frail_or_small is None
    assert door.motion.opening_runs == ()
    assert [fitting.unit for fitting in door.fitting] == [None, None]
    assert [fitting.lens for fitting in door.fitting] == [None, None]
    assert door.leaves.hand == "left"
    assert [space.side for space in door.side_space] == ["left"]
    assert door.side_space[0].clearance is None


def test_a_side_without_a_unit_has_none() -> None:
    door = _door(LEAST + 'unit_inside = "none"\n')
    assert [fitting.id for fitting in door.fitting] == ["outside"]


def test_the_header_is_taken_as_far_out_as_the_lens() -> None:
    door = _door()
    assert door.header.outside.value == 0.15
    assert door.header.inside.value == 0.14
    assert door.clear_height.value == 2.2
    lone = _door(SHORT.replace('plumb_inside = "140 mm"\n', ""))
    assert lone.header.inside.value == 0.15


def test_doorways_in_full_and_in_short_share_a_file_and_know_each_other() -> None:
    site = _read(SHORT + FULL).site
    assert [door.id for door in site.doorway] == ["side", "main"]
    assert site.doorway[0].facing[0].doorway == "main"


# What it says ----------------------------------------------------------------------


def test_what_was_taken_is_listed_with_how_to_settle_it() -> None:
    listed = {
        one.key: one
        for finding in _study().findings
        for one in finding.assumed
        if one.why.key.startswith("assumed.short.")
    }
    assert set(listed) == set(MAY_BE_TAKEN)
    assert all("to settle it" in say(said_assumed(one)) for one in listed.values())
    assert {one.grade for one in listed.values()} == {Grade.ESTIMATE}


def test_a_short_form_gives_answers_of_every_kind() -> None:
    verdicts = {finding.verdict for finding in _study().findings}
    assert {Verdict.HOLDS, Verdict.NOT_SHOWN, Verdict.NOT_ASKED} <= verdicts


def test_a_narrow_space_fails_by_what_was_measured() -> None:
    tight = SHORT.replace('"240 mm"', '"140 mm"')
    failing = {f.question for f in _study(tight).findings if f.verdict is Verdict.FAILS}
    assert "presence.side_screen" in failing


def test_nothing_that_lists_a_value_taken_holds_by_it() -> None:
    held = [
        (finding.key, one.key)
        for finding in _study().findings
        for one in finding.assumed
        if finding.verdict is Verdict.HOLDS and not one.grade.may_hold
    ]
    assert held == []


def stated(door: Doorway, key: str, value: Quantity) -> Doorway:
    """The doorway with another value under a key."""
    table, _, name = key.rpartition(".")
    if not table:
        return door.model_copy(update={name: value})
    part = getattr(door, table).model_copy(update={name: value})
    return door.model_copy(update={table: part})


REFERENCE = files("limen").joinpath("rulebooks", "reference_doorway.toml")


def _holding(site: Site, more: float) -> set[tuple[str, str | None, str | None]]:
    """What holds of the reference doorway with its own values merely taken."""
    door = site.doorway[0]
    for key in MAY_BE_TAKEN:
        value: Quantity = attrgetter(key)(door)
        door = stated(door, key, taken(value.value + more))
    found = study(door, "en", on=date(2026, 11, 12), site=site)
    return {one.key for one in found.findings if one.verdict is Verdict.HOLDS}


def test_nothing_that_holds_hangs_on_a_value_that_was_taken() -> None:
    """Other values in the place of those taken change nothing that holds."""
    site = read_site(Path(str(REFERENCE))).site
    own = study(site.doorway[0], "en", on=date(2026, 11, 12), site=site)
    held = {one.key for one in own.findings if one.verdict is Verdict.HOLDS}
    by_taken = _holding(site, 0.0)
    assert by_taken < held
    assert by_taken == _holding(site, 0.03)
    assert not any(key[0] == "presence.threshold" for key in by_taken)


@pytest.mark.parametrize("name", ["en", "us", "de"])
@pytest.mark.parametrize("units", ["not-known", "none", "radar-only", "four-row"])
def test_every_question_has_an_answer_for_a_short_form(name: str, units: str) -> None:
    text = LEAST.replace('edition = "2012"', "commissioned = 2018-06-01")
    for side in ("outside", "inside"):
        text += f'unit_{side} = "{units}"\n'
    site = _read(text).site
    found = study(site.doorway[0], name, on=date(2026, 11, 12), site=site)
    assert {one.question for one in found.findings} == set(QUESTIONS)
    assert all(say(one.because) for one in found.findings)
    assert all(say(lack.message) for one in found.findings for lack in one.lacking)


@pytest.mark.parametrize("key", MAY_BE_TAKEN)
def test_a_value_stated_in_its_place_is_no_longer_listed(key: str) -> None:
    door = stated(_door(), key, Quantity(0.05 if "." in key else 2.2))
    assert key not in dict(taken_for(door))
    assert set(dict(taken_for(door))) == set(MAY_BE_TAKEN) - {key}


def test_an_unknown_unit_is_named_as_what_would_settle_it() -> None:
    lacks = {one.key for f in _study().findings for one in f.lacking}
    assert "fitting[inside].sheet" in lacks


def test_an_unknown_escape_route_leaves_nothing_unasked() -> None:
    """What an escape route would be asked is at least *not shown* without the fact."""
    known = _study(LEAST + "escape_route = true\n").findings
    unknown = {one.key: one for one in _study(LEAST).findings}
    asked = [one for one in known if one.verdict is not Verdict.NOT_ASKED]
    silent = [
        one.key
        for one in asked
        if (now := unknown.get(one.key)) and now.verdict is Verdict.NOT_ASKED
    ]
    assert silent == []
    open_ = {one.question for one in unknown.values() if _lacks_the_fact(one)}
    assert {"leaf.escape_opening", "wiring.fail_safe"} <= open_
    assert "wiring.performance_level" in open_


def _lacks_the_fact(one: Finding) -> bool:
    return "use.escape_route" in {lack.key for lack in one.lacking}


@pytest.mark.parametrize("fact", facts_of(_door()))
def test_every_fact_that_a_rule_may_ask_for_has_words(fact: str) -> None:
    assert say(lack_fact(fact).message).startswith("whether ")


# Faults ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "key", "line"),
    [
        ('"6 ft 8 1/2 in"', "1800", "clear_width", 9),
        ('lens_height = "2200 mm"', 'lens_height = "2200"', "lens_height", 10),
        ('lens_height = "2200 mm"', 'lens_hight = "2200 mm"', "lens_hight", 10),
        ('"two-row"', '"no-such-unit"', "unit_outside", 11),
        ('"two-row"', '"edge-barrier"', "unit_outside", 11),
        ('"2.6 s", ', '"2.6 mm", ', "opening_runs[2]", 15),
        ('depth = "80 mm" }\nb', 'depth = "8 s" }\nb', "behind_left.depth", 17),
        ('"bi-parting"', '"single left"', "behind_right", 18),
        ("= false", '= "no"', "escape_route", 19),
        ('"bi-parting"', '"sliding"', "leaves", 8),
    ],
)
def test_a_fault_is_told_with_its_own_key_and_line(
    old: str, new: str, key: str, line: int
) -> None:
    (fault,) = _faults(SHORT.replace(old, new, 1))
    assert fault.key == f'short "main" · {key}'
    assert fault.line == line
    assert fault.why


def test_a_site_without_any_doorway_says_that_one_is_needed() -> None:
    (fault,) = _faults('name = "Nothing"\n')
    assert "at least 1" in fault.why
    assert "[[short]]" in fault.accepted


def test_ids_differ_across_both_forms() -> None:
    (fault,) = _faults(SHORT + FULL_ALONE.replace('"side"', '"main"'))
    assert fault.key == 'short "main" · id'
    assert fault.line == 5


def test_all_faults_of_both_forms_are_told_together() -> None:
    text = SHORT.replace('"6 ft', '"six ft') + FULL.replace('"40 mm"', "40")
    assert len(_faults(text)) == 2


# In and out -----------------------------------------------------------------------


def test_what_is_saved_unchanged_reads_as_the_same(tmp_path: Path) -> None:
    path = tmp_path / "short.toml"
    path.write_text(SHORT, encoding="utf-8")
    read = read_site(path)
    save(path, read.text, expected=read.digest)
    again = read_site(path)
    assert (again.text, again.digest, again.site) == (read.text, read.digest, read.site)


def test_one_figure_of_a_short_form_can_be_edited() -> None:
    edited = set_value(SHORT, ("short", 0, "clear_width"), "1900 mm")
    assert _door(edited).clear_width.value == pytest.approx(1.9)


def test_the_schema_accepts_what_the_reader_accepts() -> None:
    data: Any = tomllib.loads(SHORT.replace("2018-06-01", '"2018-06-01"'))
    validator = Draft202012Validator(schema("site"))
    assert list(validator.iter_errors(json.loads(json.dumps(data)))) == []
    data["short"][0]["clear_width"] = 1800
    assert list(validator.iter_errors(data))


LENGTHS = st.floats(0.6, 6.0).map(lambda metres: f"{metres:.3f} m")


@given(
    width=LENGTHS,
    height=st.floats(1.5, 8.0).map(lambda metres: f"{metres * 1000:.0f} mm"),
    plumb=st.floats(0.0, 3.0).map(lambda metres: f"{metres:.3f} m"),
    leaves=st.sampled_from(["bi-parting", "single left", "single right"]),
    unit=st.sampled_from(["two-row", "four-row", "radar-only", "not-known", "none"]),
)
def test_whatever_a_short_form_accepts_makes_a_doorway(
    width: str, height: str, plumb: str, leaves: str, unit: str
) -> None:
    """No value that is taken ever makes a fault that the person did not write."""
    door = _door(
        f"""name = "Any"
[[short]]
id = "any"
name = "Any"
leaves = "{leaves}"
clear_width = "{width}"
lens_height = "{height}"
plumb_outside = "{plumb}"
unit_outside = "{unit}"
unit_inside = "{unit}"
"""
    )
    assert {value.origin for _, value in taken_for(door)} == {TAKEN}
    assert door.clear_height.value == pytest.approx(float(height[:-3]) / 1000)


LISTED = f"""{LEAST}
clear_height = "2300 mm"
leaf_mass = "80 kg"
public = true
kept = {{ checked = 2025-03-01 }}
"""


def test_what_a_list_of_doors_knows_is_read_as_it_stands_there() -> None:
    door = parse_site(LISTED, Path("site.toml")).site.doorway[0]
    assert door.clear_height == Quantity(2.3, 0.0, Grade.MEASURED)
    assert door.leaves.mass == Quantity(80.0, 0.0, Grade.MEASURED)
    assert door.use.public is True
    assert door.kept.checked == date(2025, 3, 1)


def test_what_a_list_of_doors_knows_is_kept_where_the_door_is_written_in_full() -> None:
    before = parse_site(LISTED, Path("site.toml")).site.doorway[0]
    full = full_text(LISTED, Path("site.toml"))
    after = parse_site(full, Path("site.toml")).site.doorway[0]
    told = attrgetter("clear_height", "leaves.mass", "use.public", "kept")
    assert told(after) == told(before)
    assert "[[short]]" not in full
