"""Wires, leads, supplies and papers that once looked better than they were."""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.questions.wiring_papers import performance_level
from limen.rules import Rule
from limen.words import say
from questions.asking import ask, asked, book

INPUTS, FAULTS = "wiring.inputs", "wiring.fail_safe"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
NOT_ASKED = Verdict.NOT_ASKED
WIRE, OUTPUT = "fitting[inside].wires[2]", "sheet.outputs[2]"
INPUT = "operator.inputs[2]"
OPENING: dict[str, object] = {"name": "opening", "does": "opening"}
PROTECTS: dict[str, object] = {
    "name": "closing protection",
    "does": "closing protection",
    "kinds": ["relay", "semiconductor"],
    "rests": "closed",
}
WIRES: list[dict[str, object]] = [
    {"output": "opening", "to": "opening"},
    {"output": "presence", "to": "closing protection", "test_enabled": True},
]


def inside(
    question: str, changes: dict[str, object], case: str = "presence"
) -> Finding:
    return ask(question, changes, fitting="inside", case=case)


def keys(finding: Finding) -> list[str]:
    return [one.key for one in finding.lacking]


# The test -------------------------------------------------------------------------


def test_a_frequency_of_which_nobody_says_that_it_is_watched_is_not_heard() -> None:
    changes: dict[str, object] = {
        f"{WIRE}.test_enabled": False,
        f"{OUTPUT}.kind": "frequency",
        f"{OUTPUT}.monitored": None,
        f"{INPUT}.kinds": ["frequency"],
    }
    found = inside(INPUTS, changes)
    assert found.verdict is NOT_SHOWN
    assert keys(found) == [f"{OUTPUT}.monitored"]


@pytest.mark.parametrize(
    ("kinds", "verdict"),
    [(["frequency"], HOLDS), ([], NOT_SHOWN), (["relay"], FAILS)],
)
def test_an_operator_hears_a_frequency_where_its_input_listens_to_one(
    kinds: list[str], verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        f"{WIRE}.test_enabled": False,
        f"{OUTPUT}.kind": "frequency",
        f"{OUTPUT}.monitored": True,
        f"{INPUT}.kinds": kinds,
    }
    assert inside(INPUTS, changes).verdict is verdict


def test_a_test_said_to_be_on_shows_nothing_where_the_manual_names_no_input() -> None:
    found = inside(INPUTS, {f"{OUTPUT}.test_input": None})
    assert found.verdict is NOT_SHOWN
    assert keys(found) == [f"{OUTPUT}.test_input"]


def test_a_sheet_without_outputs_does_not_say_that_its_unit_can_be_tested() -> None:
    found = inside(INPUTS, {"sheet.outputs": None})
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["sheet.outputs"]


def test_a_barrier_that_cannot_be_tested_is_not_tested() -> None:
    changes: dict[str, object] = {
        "sheet.barrier": {"monitored": False},
        f"{OUTPUT}.test_input": None,
    }
    found = inside(INPUTS, changes)
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["sheet.barrier.monitored"]


def test_of_two_presence_outputs_the_better_is_not_taken() -> None:
    first = {"signals": "presence", "kind": "relay", "test_input": True}
    second = {"signals": "presence", "kind": "frequency", "test_input": False}
    changes = {"sheet.outputs": [first, second]}
    for question in (INPUTS, FAULTS):
        assert inside(question, dict(changes)).verdict is NOT_SHOWN


# Which wire, which terminal -------------------------------------------------------


@pytest.mark.parametrize("does", ["opening", "opening stop"])
def test_of_two_terminals_of_one_name_none_is_chosen(does: str) -> None:
    again = {**PROTECTS, "does": does}
    changes = {"operator.inputs": [OPENING, PROTECTS, again]}
    for question in (INPUTS, FAULTS):
        found = inside(question, dict(changes))
        assert found.verdict is NOT_SHOWN
        assert keys(found) == ["operator.inputs"]


@pytest.mark.parametrize(
    ("output", "does", "verdict"),
    [
        ("opening", "opening stop", FAILS),
        ("presence", "test", FAILS),
        ("presence", "opening stop", HOLDS),
        ("presence", "opening", HOLDS),
        ("opening", "closing protection", HOLDS),
    ],
)
def test_a_second_wire_of_an_output_must_not_do_the_contrary(
    output: str, does: str, verdict: Verdict
) -> None:
    more = {"name": "more", "does": does}
    changes: dict[str, object] = {
        "operator.inputs": [OPENING, PROTECTS, more],
        "fitting[inside].wires": [*WIRES, {"output": output, "to": "more"}],
    }
    assert inside(INPUTS, changes, output).verdict is verdict


def test_a_second_wire_to_an_unknown_terminal_leaves_doubt() -> None:
    changes: dict[str, object] = {
        "fitting[inside].wires": [*WIRES, {"output": "presence", "to": "X7"}]
    }
    found = inside(INPUTS, changes)
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["operator.inputs"]


def test_a_sense_of_which_no_output_is_listed_is_asked_about() -> None:
    opens = {"signals": "opening", "kind": "relay"}
    changes: dict[str, object] = {
        "sheet.outputs": [opens],
        "fitting[inside].wires": [WIRES[0]],
    }
    for question in (INPUTS, FAULTS):
        found = inside(question, changes)
        assert found.verdict is NOT_SHOWN
        assert keys(found) == ["fitting[inside].wires"]


@pytest.mark.parametrize(
    ("breaks_out", "verdict"), [(True, NOT_ASKED), (None, NOT_SHOWN), (False, FAILS)]
)
def test_an_escape_output_left_alone_on_a_door_that_breaks_out(
    breaks_out: bool | None, verdict: Verdict
) -> None:
    use: dict[str, Any] = {"escape_route": True, "breaks_out": breaks_out}
    changes: dict[str, object] = {
        "use": {key: value for key, value in use.items() if value is not None},
        "fitting[inside].wires": [
            *WIRES,
            {"output": "escape opening", "to": "not used"},
        ],
    }
    assert inside(INPUTS, changes, "escape opening").verdict is verdict


# A cut wire, a dead unit ----------------------------------------------------------


def test_nothing_is_said_of_a_cut_wire_to_a_terminal_that_nobody_describes() -> None:
    found = inside(FAULTS, {f"{WIRE}.to": "X7"})
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["operator.inputs"]


def test_a_presence_wire_that_opens_guards_nobody_when_it_is_cut() -> None:
    found = inside(FAULTS, {f"{INPUT}.does": "opening"})
    assert found.verdict is FAILS
    assert found.because.key == "inputs.wrong"


@pytest.mark.parametrize(
    ("kind", "state", "tested", "verdict"),
    [
        ("semiconductor", "closed", False, HOLDS),
        ("semiconductor", "open", False, NOT_SHOWN),
        ("semiconductor", "live", False, HOLDS),
        ("relay", "closed", True, HOLDS),
        ("relay", "closed", False, NOT_SHOWN),
        ("relay", "open", True, HOLDS),
        ("relay", "open", False, NOT_SHOWN),
        ("relay", None, False, NOT_SHOWN),
        (None, "closed", False, NOT_SHOWN),
    ],
)
def test_what_may_rest_without_power_looks_at_rest_when_its_unit_dies(
    kind: str | None, state: str | None, tested: bool, verdict: Verdict
) -> None:
    """A relay that draws only when it finds somebody rests without power."""
    changes: dict[str, object] = {
        f"{INPUT}.rests": state,
        f"{OUTPUT}.normal_state": state,
        f"{OUTPUT}.kind": kind,
        f"{WIRE}.test_enabled": tested,
    }
    assert inside(FAULTS, changes).verdict is verdict


def test_an_operator_that_notices_a_break_must_be_known_to_act_on_it() -> None:
    found = inside(FAULTS, {f"{INPUT}.fails_to": None})
    assert found.verdict is NOT_SHOWN
    assert keys(found) == [f"{INPUT}.fails_to"]


ESCAPE: dict[str, object] = {
    "signals": "escape opening",
    "kind": "frequency",
    "normal_state": "live",
    "monitored": True,
}
ESCAPES: dict[str, object] = {
    "name": "escape",
    "does": "escape opening",
    "kinds": ["frequency"],
    "rests": "live",
    "monitored": True,
    "fails_to": "open door",
}


def escaping(*sides: str) -> dict[str, object]:
    """An escape route whose inside unit alone opens it for escape."""
    watches = {"signals": "presence", "kind": "semiconductor", "normal_state": "closed"}
    wire = {"output": "escape opening", "to": "escape"}
    return {
        "use": {"escape_route": True, "breaks_out": False, "escape_from": list(sides)},
        "operator.inputs": [OPENING, PROTECTS, ESCAPES],
        "sheet.outputs": [watches],
        "fitting[inside].wires": [wire, WIRES[1]],
    }


@pytest.mark.parametrize(
    ("sides", "verdict"),
    [
        (("inside",), None),
        (("outside",), FAILS),
        (("outside", "inside"), FAILS),
        ((), NOT_SHOWN),
    ],
)
def test_the_unit_that_opens_for_escape_is_where_people_escape_from(
    sides: tuple[str, ...], verdict: Verdict | None
) -> None:
    found = asked(FAULTS, a_doorway(escaping(*sides)))
    finding = found.get((None, "escape opening"))
    assert (finding.verdict if finding else None) is verdict


def test_an_escape_output_is_not_done_by_an_input_that_protects_from_closing() -> None:
    output = {**ESCAPE, "kind": "semiconductor", "normal_state": "closed"}
    wire = {"output": "escape opening", "to": "closing protection"}
    changes = {
        **escaping("inside"),
        "sheet.outputs": [output],
        "fitting[inside].wires": [wire],
    }
    assert inside(FAULTS, changes, "escape opening").verdict is FAILS


def test_what_the_door_does_on_a_fault_of_an_escape_input_is_not_taken_for_open() -> (
    None
):
    changes = {**escaping("inside"), "sheet.outputs": [ESCAPE]}
    changes["operator.inputs"] = [
        OPENING,
        PROTECTS,
        {key: value for key, value in ESCAPES.items() if key != "fails_to"},
    ]
    found = inside(FAULTS, changes, "escape opening")
    assert found.verdict is NOT_SHOWN
    assert keys(found) == ["operator.inputs[3].fails_to"]


# Leads ----------------------------------------------------------------------------

CABLE = "fitting[inside].cable"
LONG: dict[str, object] = {"operator.supply": "13 V", f"{CABLE}.length": "60 m"}


def lead(changes: Mapping[str, object]) -> Finding:
    return ask("wiring.voltage", {**LONG, **changes}, fitting="inside")


def test_of_an_area_and_a_gauge_that_differ_the_thicker_is_not_taken() -> None:
    thick = {f"{CABLE}.area": "2.5 mm²", f"{CABLE}.awg": None}
    thin = {f"{CABLE}.area": None, f"{CABLE}.awg": 28}
    assert lead({f"{CABLE}.area": "2.5 mm²"}).verdict is HOLDS
    assert lead(thin).verdict is FAILS
    for both in (thick | {f"{CABLE}.awg": 28}, thin | {f"{CABLE}.area": "2.5 mm²"}):
        assert lead(both).verdict is NOT_SHOWN


def test_a_loop_that_resists_less_than_pure_copper_is_not_believed() -> None:
    """60 m of 0.5 mm² resist 4.1 ohm out and back, however pure."""
    found = lead({f"{CABLE}.loop": "0.2 ohm"})
    assert found.verdict is NOT_SHOWN
    assert found.because.key == "voltage.lead_differs"
    assert lead({f"{CABLE}.loop": "4.6 ohm"}).because.key != "voltage.lead_differs"


def test_the_air_at_the_units_does_not_stand_for_how_hot_a_lead_gets() -> None:
    found = lead({f"{CABLE}.hottest": None, "exposure.hottest": "21 °C"})
    assert [one.key for one in found.assumed] == [f"{CABLE}.hottest"]
    taken = found.assumed[0].value
    assert getattr(taken, "value", 0.0) == pytest.approx(273.15 + 60.0)


def test_of_a_current_and_a_power_the_lesser_is_not_taken() -> None:
    small, large = {"sheet.supply.current": "0.01 A"}, {"sheet.supply.power": "9 W"}
    assert lead(dict(small)).verdict is HOLDS
    assert lead(small | large).verdict is FAILS


# Papers ---------------------------------------------------------------------------

PAPERS = "wiring.performance_level"


def paper(level: str, **more: object) -> dict[str, object]:
    about = {"about": "performance level", "function": "presence"}
    return {**about, "level": level, "title": f"Letter {level}", **more}


@pytest.mark.parametrize(
    ("papers", "verdict"),
    [
        ([paper("d")], HOLDS),
        ([paper("b")], FAILS),
        ([paper("d"), paper("b")], NOT_SHOWN),
        ([paper("d"), paper("c")], HOLDS),
        ([paper("d"), paper("b", fitting="inside")], FAILS),
        ([paper("d", fitting="outside")], NOT_SHOWN),
    ],
)
def test_of_several_papers_the_best_is_not_taken(
    papers: list[dict[str, object]], verdict: Verdict
) -> None:
    found = ask(PAPERS, {"document": papers}, fitting="inside", case="presence")
    assert found.verdict is verdict


def test_a_paper_of_a_later_day_states_nothing_yet() -> None:
    door = a_doorway({"document": [paper("d", dated="2026-05-01")]})
    rule = book().rule_for(PAPERS, {})
    assert isinstance(rule, Rule)
    for on, verdict in ((date(2026, 4, 30), NOT_SHOWN), (date(2026, 5, 1), HOLDS)):
        found = performance_level(Asked(door, settle(door), rule, on=on))
        assert {one.verdict for one in found} == {verdict}


@pytest.mark.parametrize(
    ("names", "verdict"),
    [([None], HOLDS), (["inside"], NOT_SHOWN), (["inside", "outside"], HOLDS)],
)
def test_a_paper_on_one_unit_does_not_speak_of_the_other_that_opens_for_escape(
    names: list[str | None], verdict: Verdict
) -> None:
    letters = [
        paper("d", function="escape opening", **({"fitting": one} if one else {}))
        for one in names
    ]
    changes = {
        **escaping("inside"),
        "sheet.outputs": [ESCAPE],
        "document": letters,
    }
    assert ask(PAPERS, changes, case="escape opening").verdict is verdict


# Words ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given", "least", "most", "key"),
    [
        ("40 V", None, "30 V", "supply.voltage.high"),
        ("5 V", "12 V", None, "supply.voltage.low"),
        ("5 V", "12 V", "30 V", "supply.voltage.low"),
    ],
)
def test_a_supply_that_fails_says_at_which_end(
    given: str, least: str | None, most: str | None, key: str
) -> None:
    changes: dict[str, object] = {
        "operator.supply": given,
        "sheet.supply.least": least,
        "sheet.supply.most": most,
    }
    found = ask("wiring.supply", changes, fitting="inside", case="voltage")
    assert found.because.key == key
    assert found.remedy
    for message in (found.because, found.remedy.message):
        assert "not given" not in say(message)


def test_a_weak_figure_is_not_said_to_be_close() -> None:
    changes: dict[str, object] = {"operator.supply": "24 V, estimate"}
    found = ask("wiring.supply", changes, fitting="inside", case="voltage")
    assert found.verdict is NOT_SHOWN
    assert "on a figure too weak" in say(found.because)


@pytest.mark.parametrize("signal", ["presence", "escape opening"])
def test_an_output_that_was_connected_is_tried_by_what_it_does(signal: str) -> None:
    changes = escaping("inside")
    wires = [
        {"output": one, "to": "not used"} for one in ("escape opening", "presence")
    ]
    found = inside(INPUTS, changes | {"fitting[inside].wires": wires}, signal)
    assert found.verdict is FAILS
    assert found.remedy
    assert ("test box" in say(found.remedy.message)) is (signal == "presence")


@pytest.mark.parametrize(
    ("question", "fitting", "case", "changes"),
    [
        ("wiring.voltage", "inside", None, {f"{CABLE}.loop": "0 ohm"}),
        ("wiring.voltage", "inside", None, {"sheet.supply.current": "0 A"}),
        ("wiring.supply", None, "current", {"sheet.supply.current": "0 A"}),
    ],
)
def test_a_lead_that_resists_nothing_and_a_unit_that_draws_nothing(
    question: str, fitting: str | None, case: str | None, changes: dict[str, object]
) -> None:
    found = ask(question, {**LONG, **changes}, fitting=fitting, case=case)
    assert found.verdict is NOT_SHOWN
    assert found.lacking
