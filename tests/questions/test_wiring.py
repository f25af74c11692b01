"""Each output on its input, and the test that must be on."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.rules import Weight
from questions.asking import ask, asked, book

INPUTS = "wiring.inputs"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
PRESENCE = "fitting[inside].wires[2]"
OUTPUT = "sheet.outputs[2]"


def presence(**changes: object) -> Finding:
    """What is said of the inside unit's presence wire; names with __ for points."""
    return ask(INPUTS, _keys(changes), fitting="inside", case="presence")


def _keys(changes: dict[str, object]) -> dict[str, object]:
    return {
        key.replace("wire__", f"{PRESENCE}.")
        .replace("output__", f"{OUTPUT}.")
        .replace("__", "."): value
        for key, value in changes.items()
    }


def test_as_it_should_be_it_holds_on_a_figure_to_be_confirmed() -> None:
    found = presence()
    assert found.verdict is HOLDS
    assert found.because.key == "inputs.tested"
    assert found.to_confirm


def test_every_unit_and_output_has_its_own_finding() -> None:
    both = {("outside", "opening"), ("outside", "presence")}
    both |= {("inside", "opening"), ("inside", "presence")}
    assert set(asked(INPUTS, a_doorway())) == both


# The test: frequent, and dangerous -----------------------------------------------


def test_a_presence_unit_that_the_operator_does_not_test_fails_a_must() -> None:
    found = presence(wire__test_enabled=False)
    assert found.verdict is FAILS
    assert found.weight is Weight.MUST
    assert found.because.key == "inputs.not_tested"
    assert found.remedy
    assert found.remedy.message.key == "remedy.wiring.test"
    assert found.witness
    assert found.witness.kind == "state"


def test_only_the_unit_without_its_test_fails() -> None:
    found = asked(INPUTS, a_doorway({f"{PRESENCE}.test_enabled": False}))
    failing = {key for key, one in found.items() if one.verdict is FAILS}
    assert failing == {("inside", "presence")}


@pytest.mark.parametrize(
    ("here", "everywhere", "verdict", "because"),
    [
        (True, True, HOLDS, "inputs.tested"),
        (True, None, HOLDS, "inputs.tested"),
        (None, True, HOLDS, "inputs.tested"),
        (False, True, FAILS, "inputs.not_tested"),
        (None, False, FAILS, "inputs.not_tested"),
        (False, None, FAILS, "inputs.not_tested"),
        (None, None, NOT_SHOWN, "inputs.test_unknown"),
        (True, False, NOT_SHOWN, "inputs.test_contradicted"),
    ],
)
def test_the_test_as_said_of_the_wire_and_of_the_operator(
    here: bool | None, everywhere: bool | None, verdict: Verdict, because: str
) -> None:
    found = presence(wire__test_enabled=here, operator__tests_before_closing=everywhere)
    assert found.verdict is verdict
    assert found.because.key == because
    assert bool(found.lacking) is (verdict is NOT_SHOWN)


@pytest.mark.parametrize(
    ("kind", "monitored", "verdict"),
    [
        ("frequency", True, HOLDS),
        ("frequency", None, NOT_SHOWN),
        ("current", True, HOLDS),
        ("frequency", False, FAILS),
        ("relay", True, FAILS),
        ("semiconductor", True, FAILS),
    ],
)
def test_a_unit_without_a_test_input_must_be_heard_all_the_time(
    kind: str, monitored: bool | None, verdict: Verdict
) -> None:
    found = presence(
        wire__test_enabled=False,
        output__test_input=False,
        output__kind=kind,
        output__monitored=monitored,
        **{"operator.inputs[2].kinds": [kind]},
    )
    assert found.verdict is verdict
    key = {
        HOLDS: "inputs.heard",
        FAILS: "inputs.cannot_be_tested",
        NOT_SHOWN: "inputs.hearing_unknown",
    }
    assert found.because.key == key[verdict]


def test_a_test_that_is_on_for_a_unit_without_a_test_input_is_a_contradiction() -> None:
    found = presence(output__test_input=False)
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == ["sheet.outputs[2].test_input"]


def test_in_america_the_test_is_an_engineering_check() -> None:
    changes = {f"{PRESENCE}.test_enabled": False}
    us = book("us", "2005")
    found = ask(INPUTS, changes, fitting="inside", case="presence", rules=us)
    assert found.verdict is FAILS
    assert found.weight is Weight.SHOULD
    assert found.stricter


# Where the wire ends ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("does", "verdict"),
    [
        ("closing protection", HOLDS),
        ("opening", FAILS),
        ("opening stop", FAILS),
        ("escape opening", FAILS),
        ("test", FAILS),
    ],
)
def test_presence_goes_to_the_closing_protection(does: str, verdict: Verdict) -> None:
    found = presence(**{"operator__inputs[2]__does": does})
    assert found.verdict is verdict
    if verdict is FAILS:
        assert found.remedy
        assert found.remedy.message.key == "remedy.wiring.move"


@pytest.mark.parametrize(
    ("along", "place", "watches"),
    [
        ("0 mm", "header face", "closing protection"),
        ("1100 mm", "header face", "opening stop"),
        ("-1100 mm", "header face", "opening stop"),
        ("1000 mm ± 5 mm", "header face", "closing protection"),
        ("0 mm", "beside", "opening stop"),
    ],
)
def test_a_unit_beside_the_opening_stops_the_opening_leaf(
    along: str, place: str, watches: str
) -> None:
    """The clear width is 2000 mm: beyond 1000 mm a unit looks at the side space."""
    for does in ("closing protection", "opening stop"):
        changes = {
            "fitting[inside].lens.along": along,
            "fitting[inside].place": place,
            "operator.inputs[2].does": does,
        }
        found = ask(INPUTS, changes, fitting="inside", case="presence")
        assert found.verdict is (HOLDS if does == watches else FAILS)


def test_of_several_wires_one_at_the_right_input_is_enough() -> None:
    wires = [
        {"output": "opening", "to": "opening"},
        {"output": "presence", "to": "opening"},
        {"output": "presence", "to": "closing protection", "test_enabled": True},
    ]
    assert presence(**{"fitting[inside]__wires": wires}).verdict is HOLDS


@pytest.mark.parametrize(
    ("output", "verdict"), [("opening", None), ("presence", FAILS)]
)
def test_an_output_left_alone_matters_where_it_protects(
    output: str, verdict: Verdict | None
) -> None:
    place = 1 if output == "opening" else 2
    changes = {f"fitting[inside].wires[{place}].to": "not used"}
    found = ask(INPUTS, changes, fitting="inside", case=output)
    assert found.verdict is (verdict or Verdict.NOT_ASKED)


def test_what_is_not_known_names_what_settles_it() -> None:
    missing = {
        "fitting[inside].wires": (None, "fitting[inside].wires"),
        f"{PRESENCE}.to": ("terminal 12", "operator.inputs"),
    }
    for key, (value, settles) in missing.items():
        found = ask(INPUTS, {key: value}, fitting="inside", case="presence")
        assert found.verdict is NOT_SHOWN
        assert [lack.key for lack in found.lacking] == [settles]


@pytest.mark.parametrize(
    ("terminal", "verdict"),
    [
        ("closing protection", HOLDS),
        ("Closing protection", HOLDS),
        ("closing protection inside", HOLDS),
        ("opening outside", FAILS),
        ("opening", FAILS),
        ("protection", NOT_SHOWN),
        ("X4.7", NOT_SHOWN),
    ],
)
def test_without_a_list_of_inputs_a_terminal_goes_by_its_name(
    terminal: str, verdict: Verdict
) -> None:
    """Common practice, no source: terminals are named after what they do."""
    changes = {"operator.inputs": None, f"{PRESENCE}.to": terminal}
    us = book("us", "2005")
    found = ask(INPUTS, changes, fitting="inside", case="presence", rules=us)
    assert found.verdict is verdict
    assert found.to_confirm is (verdict is HOLDS)


def test_an_escape_output_left_unwired_matters_on_an_escape_route_only() -> None:
    for escape, verdict in ((True, NOT_SHOWN), (False, Verdict.NOT_ASKED)):
        changes = {
            "sheet.outputs[1].signals": "escape opening",
            "fitting[inside].wires": [{"output": "presence", "to": "nowhere"}],
            "fitting[outside].wires": [],
            "use.escape_route": escape,
        }
        found = ask(INPUTS, changes, fitting="inside", case="escape opening")
        assert found.verdict is verdict
