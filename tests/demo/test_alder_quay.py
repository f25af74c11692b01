"""The demo's planted faults are found for their own reasons, and mended."""

import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import NamedTuple

import pytest

from limen.desk.checking import study
from limen.desk.sites import load_site
from limen.exchange.tally import for_office
from limen.findings import Finding, Study, Verdict
from limen.model.site import Site
from limen.quantity import Dimension, parse
from limen.rules import Weight
from limen.words import say

DOORWAYS = ("main", "vestibule", "staff", "escape", "reading-room")
STATES = ("as-found", "corrected")


class Planted(NamedTuple):
    """A fault that was put in: where it is found, and what the reason says."""

    doorway: str
    question: str
    case: str | None
    verdict: Verdict
    because: str
    fitting: str | None = None


LATE = "approach.opens_in_time"
PLANTED = (
    Planted(
        "main",
        "wiring.inputs",
        "presence",
        Verdict.FAILS,
        "inputs.not_tested",
        "inside",
    ),
    Planted("main", LATE, "outside, reduced width", Verdict.FAILS, "in_time.fails"),
    Planted("main", LATE, "inside, reduced width", Verdict.FAILS, "in_time.fails"),
    Planted("main", "presence.threshold", "upright", Verdict.FAILS, "coverage.fails"),
    Planted("main", "presence.leaf_path", "upright", Verdict.FAILS, "coverage.fails"),
    Planted(
        "main",
        "presence.leaf_path",
        "upright, reduced width",
        Verdict.FAILS,
        "coverage.fails",
    ),
    Planted(
        "main",
        "presence.neighbours",
        "inside and vestibule: outside",
        Verdict.FAILS,
        "neighbours.same",
    ),
    Planted(
        "vestibule",
        "presence.neighbours",
        "outside and main: inside",
        Verdict.FAILS,
        "neighbours.same",
    ),
    Planted(
        "reading-room", "presence.threshold", "upright", Verdict.FAILS, "coverage.fails"
    ),
    Planted(
        "staff", "presence.side_screen", "left", Verdict.FAILS, "side_screen.fails"
    ),
    Planted(
        "staff",
        "site.obstacles",
        "leaflet stand",
        Verdict.FAILS,
        "obstacles.behind_leaf",
    ),
    Planted(
        "escape",
        "presence.leaf_path",
        "upright",
        Verdict.NOT_SHOWN,
        "coverage.not_shown.unit",
    ),
)


def _name(planted: Planted) -> str:
    return f"{planted.doorway} {planted.question} {planted.case}"


TOUCHED = {
    "note",
    "main.reduced_width",
    "main.outside.settings.tilt",
    "main.inside.settings.tilt",
    "main.inside.wires[2].test_enabled",
    "vestibule.outside.settings.channel",
    "staff.side_space[1].clearance",
    "staff.side_space[1].behind",
    "staff.thing",
    "escape.outside.read",
    "escape.inside.read",
    "reading-room.outside.settings.fan",
    "reading-room.inside.settings.fan",
}


def _path(state: str) -> str:
    return str(files("limen").joinpath("demo", f"alder-quay-{state}.toml"))


@cache
def _site(state: str) -> Site:
    return load_site(_path(state))


@cache
def _study(state: str, doorway: str) -> Study:
    site = _site(state)
    return study(site.door(doorway), "en", site=site)


def _finding(
    state: str,
    doorway: str,
    question: str,
    case: str | None,
    fitting: str | None = None,
) -> Finding:
    found = [
        finding
        for finding in _study(state, doorway).findings
        if (finding.question, finding.case) == (question, case)
        and finding.fitting == fitting
    ]
    assert len(found) == 1, f"{len(found)} findings for {doorway}, {question}, {case}"
    return found[0]


@pytest.mark.parametrize("state", STATES)
def test_the_five_doorways_are_there_in_both_states(state: str) -> None:
    assert tuple(door.id for door in _site(state).doorway) == DOORWAYS


@pytest.mark.parametrize("planted", PLANTED, ids=_name)
def test_a_planted_fault_is_found_for_its_own_reason(planted: Planted) -> None:
    doorway, question, case, verdict, because, fitting = planted
    finding = _finding("as-found", doorway, question, case, fitting)
    assert finding.verdict is verdict
    assert finding.because.key == because


@pytest.mark.parametrize(
    "planted",
    [one for one in PLANTED if one.question != "site.obstacles"],
    ids=_name,
)
def test_a_planted_fault_is_mended(planted: Planted) -> None:
    finding = _finding(
        "corrected",
        planted.doorway,
        planted.question,
        planted.case,
        planted.fitting,
    )
    assert finding.verdict is Verdict.HOLDS


@pytest.mark.parametrize("doorway", DOORWAYS)
def test_corrected_no_must_fails(doorway: str) -> None:
    assert _study("corrected", doorway).musts(Verdict.FAILS) == ()


def test_corrected_papers_alone_settle_what_a_must_leaves_open() -> None:
    """The owner's copy of the standard, and the manual of the old units."""
    left = {
        (doorway, finding.question)
        for doorway in DOORWAYS
        for finding in _study("corrected", doorway).musts(Verdict.NOT_SHOWN)
    }
    hold_time = {(doorway, "presence.hold_time") for doorway in DOORWAYS}
    assert left == {*hold_time, ("escape", "wiring.inputs")}
    keys = {
        lack.key
        for doorway in DOORWAYS
        for finding in _study("corrected", doorway).musts(Verdict.NOT_SHOWN)
        for lack in finding.lacking
    }
    assert all(for_office(key) for key in keys)


def test_as_found_nothing_fails_that_was_not_planted() -> None:
    failing = {
        (doorway, finding.question)
        for doorway in DOORWAYS
        for finding in _study("as-found", doorway).of(Verdict.FAILS)
        if finding.weight is not Weight.ADVICE
    }
    assert failing == {
        (one.doorway, one.question) for one in PLANTED if one.verdict is Verdict.FAILS
    } | {("reading-room", "presence.leaf_path")}


def test_the_body_stands_unseen_between_the_rows_of_the_main_entrance() -> None:
    for case in ("upright", "on its edge"):
        witness = _finding("as-found", "main", "presence.leaf_path", case).witness
        assert witness is not None
        assert witness.pose is not None
        assert abs(witness.pose.y) < 0.025
        assert witness.pose.depth == 0.2


def test_the_body_stands_unseen_beside_the_narrow_fan_of_the_reading_room() -> None:
    witness = _finding("as-found", "reading-room", "presence.threshold", "upright")
    assert witness.witness is not None
    assert witness.witness.pose is not None
    assert abs(witness.witness.pose.x) > 0.35


def test_the_inner_rows_of_the_main_entrance_are_250_mm_apart() -> None:
    rows = {unit.fitting: unit.rows[0] for unit in _study("as-found", "main").units}
    leaf = _site("as-found").door("main").leaves.thickness.value
    apart = rows["outside"].from_leaf + rows["inside"].from_leaf + leaf
    assert apart == pytest.approx(0.250, abs=1e-3)


def test_the_rows_of_the_main_entrance_were_brought_into_the_printed_window() -> None:
    remedy = _finding("as-found", "main", "presence.leaf_path", "upright").remedy
    assert remedy is not None
    assert {target.fitting for target in remedy.targets} == {"outside", "inside"}
    now = {unit.fitting: unit.rows[0] for unit in _study("corrected", "main").units}
    for target in remedy.targets:
        assert target.least <= now[target.fitting].from_leaf <= target.most


def test_the_old_units_are_not_shown_until_their_readings_are_in() -> None:
    keys = {
        lack.key
        for finding in _study("as-found", "escape").musts(Verdict.NOT_SHOWN)
        for lack in finding.lacking
    }
    assert {"fitting[outside].read.first_row", "fitting[inside].read.first_row"} <= keys


def test_the_leaflet_stand_leaves_140_mm() -> None:
    finding = _finding("as-found", "staff", "presence.side_screen", "left")
    assert finding.margin is not None
    assert finding.margin.value == pytest.approx(0.140 - 0.500)


def test_the_untested_unit_comes_with_the_test_that_shows_it() -> None:
    finding = _finding("as-found", "main", "wiring.inputs", "presence", "inside")
    assert finding.weight is Weight.MUST
    assert finding.remedy
    assert "closing protection" in say(finding.remedy.message)


def test_the_winter_width_is_late_and_the_whole_width_is_not() -> None:
    for side in ("outside", "inside"):
        late = _finding("as-found", "main", LATE, f"{side}, reduced width")
        whole = _finding("as-found", "main", LATE, side)
        assert late.witness is not None
        assert late.witness.kind == "walk"
        assert whole.verdict is Verdict.HOLDS


def test_the_corrected_winter_width_is_as_wide_as_the_remedy_says() -> None:
    remedy = _finding("as-found", "main", LATE, "outside, reduced width").remedy
    assert remedy is not None
    widths = [c.value for c in remedy.changes if c.setting == "reduced_width"]
    width = _site("corrected").door("main").reduced_width
    assert width is not None
    assert all(parse(w, Dimension.LENGTH).value <= width.value for w in widths)


# The two files -----------------------------------------------------------------


def _leaves(value: object, path: str = "") -> Iterator[tuple[str, object]]:
    match value:
        case dict():
            for key, item in value.items():
                yield from _leaves(item, f"{path}.{key}" if path else key)
        case list():
            for number, item in enumerate(value, 1):
                name = item.get("id") if isinstance(item, dict) else None
                yield from _leaves(item, _named(path, name, number))
        case _:
            yield path, value


def _named(path: str, name: str | None, number: int) -> str:
    if name is None:
        return f"{path}[{number}]"
    outer = path.removesuffix("doorway").removesuffix("fitting")
    return outer + name


def test_the_corrected_file_differs_in_what_was_mended_and_in_nothing_else() -> None:
    found, corrected = (
        {(path, str(value)) for path, value in _leaves(tomllib.loads(_text(state)))}
        for state in STATES
    )
    changed = {path for path, _ in found ^ corrected}
    assert {path for path in changed if not path.startswith(tuple(TOUCHED))} == set()
    assert all(any(path.startswith(key) for path in changed) for key in TOUCHED)


def _text(state: str) -> str:
    return (
        files("limen").joinpath("demo", f"alder-quay-{state}.toml").read_text("utf-8")
    )
