"""What a cut wire does."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from questions.asking import ask, asked

QUESTION = "wiring.fail_safe"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
OUTPUT, INPUT = "sheet.outputs[2]", "operator.inputs[2]"
ESCAPE: dict[str, object] = {
    "use.escape_route": True,
    "use.breaks_out": False,
    "sheet.outputs[1]": {
        "signals": "escape opening",
        "normal_state": "closed",
        "kind": "relay",
        "monitored": True,
    },
    "operator.inputs[1]": {
        "does": "escape opening",
        "rests": "closed",
        "monitored": True,
        "fails_to": "open door",
    },
    "fitting[inside].wires[1].output": "escape opening",
    "fitting[inside].wires[1].test_enabled": True,
    "fitting[outside].wires[1].output": "escape opening",
}


def presence(changes: dict[str, object]) -> Finding:
    return ask(QUESTION, changes, fitting="inside", case="presence")


def escape(changes: dict[str, object] | None = None) -> Finding:
    every = {**ESCAPE, **(changes or {})}
    return ask(QUESTION, every, fitting="inside", case="escape opening")


@pytest.mark.parametrize(
    ("state", "rests", "monitored", "verdict"),
    [
        ("closed", "closed", False, HOLDS),
        ("live", "live", False, HOLDS),
        ("closed", "live", False, HOLDS),
        ("closed", None, None, HOLDS),
        ("open", "open", True, HOLDS),
        ("dead", "dead", True, HOLDS),
        ("open", "open", False, FAILS),
        ("dead", "dead", False, FAILS),
        ("open", "open", None, NOT_SHOWN),
        (None, "closed", False, NOT_SHOWN),
        ("closed", "open", True, FAILS),
        ("dead", "live", True, FAILS),
    ],
)
def test_a_cut_wire_is_noticed_by_current_at_rest_or_by_the_operator(
    state: str | None, rests: str | None, monitored: bool | None, verdict: Verdict
) -> None:
    changes = {
        f"{OUTPUT}.normal_state": state,
        f"{INPUT}.rests": rests,
        f"{INPUT}.monitored": monitored,
    }
    found = presence(changes)
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)
    assert bool(found.remedy) is (verdict is FAILS)


@pytest.mark.parametrize(
    ("kind", "kinds", "verdict"),
    [
        ("relay", ["relay"], HOLDS),
        ("relay", ["frequency"], FAILS),
        ("frequency", ["relay", "semiconductor"], FAILS),
        ("frequency", [], HOLDS),
        (None, ["relay"], HOLDS),
    ],
)
def test_an_input_takes_the_kind_of_output_that_it_was_made_for(
    kind: str | None, kinds: list[str], verdict: Verdict
) -> None:
    found = presence({f"{OUTPUT}.kind": kind, f"{INPUT}.kinds": kinds})
    assert found.verdict is verdict
    assert (found.because.key == "fail_safe.kind") is (verdict is FAILS)


@pytest.mark.parametrize(
    ("fault", "presence_says", "escape_says"),
    [
        ("open door", HOLDS, HOLDS),
        ("standing door", HOLDS, FAILS),
        ("ignored", FAILS, FAILS),
    ],
)
def test_what_the_operator_does_on_a_fault(
    fault: str, presence_says: Verdict, escape_says: Verdict
) -> None:
    """AutSchR, 1997, second hand: opens by itself if the signal device fails."""
    assert presence({f"{INPUT}.fails_to": fault}).verdict is presence_says
    assert escape({"operator.inputs[1].fails_to": fault}).verdict is escape_says


def test_a_break_that_only_the_operator_notices_must_have_a_consequence() -> None:
    changes = {
        f"{OUTPUT}.normal_state": "open",
        f"{INPUT}.rests": "open",
        f"{INPUT}.fails_to": None,
    }
    found = presence(changes)
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == ["operator.inputs[2].fails_to"]


@pytest.mark.parametrize(
    ("unit", "operator", "verdict"),
    [
        (True, True, HOLDS),
        (False, True, FAILS),
        (True, False, FAILS),
        (None, True, NOT_SHOWN),
        (True, None, NOT_SHOWN),
    ],
)
def test_an_escape_output_is_watched_from_both_ends(
    unit: bool | None, operator: bool | None, verdict: Verdict
) -> None:
    changes: dict[str, object] = {
        "sheet.outputs[1].monitored": unit,
        "operator.inputs[1].monitored": operator,
    }
    assert escape(changes).verdict is verdict


@pytest.mark.parametrize(
    ("breaks_out", "verdict"),
    [(True, Verdict.NOT_ASKED), (False, FAILS), (None, NOT_SHOWN)],
)
def test_an_escape_route_without_an_output_that_opens_it(
    breaks_out: bool | None, verdict: Verdict
) -> None:
    """EN 16005:2012, 4.7.2.3: without break-out a fail-safe system opens it."""
    door = a_doorway({"use.escape_route": True})
    use = door.use.model_copy(update={"breaks_out": breaks_out})
    found = asked(QUESTION, door.model_copy(update={"use": use}))
    assert found[None, "escape opening"].verdict is verdict


def test_no_escape_route_no_question_of_escape() -> None:
    assert {case for _, case in asked(QUESTION, a_doorway())} == {"presence"}


@pytest.mark.parametrize(
    ("missing", "key"),
    [
        ("fitting[inside].wires", "fitting[inside].wires"),
        ("sheet.outputs", "sheet.outputs"),
    ],
)
def test_what_is_not_known_names_what_settles_it(missing: str, key: str) -> None:
    found = presence({missing: None})
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == [key]
