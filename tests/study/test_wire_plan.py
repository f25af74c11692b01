"""The terminal plan: every wire to its end, proposals that hold, nothing invented."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders.wiring import an_input, fitting, found, output, plan, wired
from limen.findings import Verdict
from limen.findings.wires import WirePlan, WireShown
from limen.model.doorway import Doorway
from limen.model.wiring import Wire

FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
NOT_ASKED = Verdict.NOT_ASKED
QUIET: dict[str, Any] = {"kind": "semiconductor", "normal_state": "closed"}
"""A presence output as most are."""
TAKES: dict[str, Any] = {"kinds": ["semiconductor"], "rests": "closed"}
OPENS: dict[str, Any] = {"kind": "relay", "normal_state": "open"}
PROTECTS = an_input("S1", "closing protection", **TAKES)


def presence(**more: object) -> Any:
    return output("presence", **{**QUIET, "test_input": True, **more})


def wire(signal: str, to: str, **more: object) -> Wire:
    return Wire.model_validate({"output": signal, "to": to, **more})


def only(made: WirePlan) -> WireShown:
    (one,) = made.wires
    return one


# Wires that are described --------------------------------------------------------


def test_every_output_and_every_wire_is_there_once_with_its_number() -> None:
    outside = fitting(
        "outside",
        [output("opening", **OPENS), presence()],
        [wire("presence", "S1"), wire("presence", "S2"), wire("opening", "not used")],
    )
    made = plan(wired([outside, fitting("inside", [presence()])], [PROTECTS]))
    assert [one.number for one in made.wires] == [1, 2, 3, 4]
    named = [
        (one.fitting, one.signal, one.way)
        for one in sorted(made.wires, key=lambda one: (one.fitting, one.signal))
    ]
    assert named == [
        ("inside", "presence", "proposed"),
        ("outside", "opening", "left alone"),
        ("outside", "presence", "wired"),
        ("outside", "presence", "wired"),
    ]


def test_a_fault_is_marked_at_its_own_wire() -> None:
    both = [wire("presence", "S1", test_enabled=True), wire("presence", "S2")]
    inputs = [PROTECTS, an_input("S2", "test", **TAKES)]
    made = plan(wired([fitting("outside", [presence()], both)], inputs))
    right, wrong = made.wires
    assert wrong.verdict is FAILS
    assert {one.because.key for one in wrong.findings} == {"inputs.wrong"}
    assert right.verdict is not FAILS


def test_a_wire_that_fails_is_told_which_input_would_serve() -> None:
    inputs = [an_input("S0", "opening"), PROTECTS]
    unit = fitting("outside", [presence()], [wire("presence", "S0")])
    made = plan(wired([unit], inputs))
    assert only(made).verdict is FAILS
    assert only(made).serves == 1


def test_a_terminal_that_only_a_wire_names_stands_behind_those_of_the_manual() -> None:
    unit = fitting("outside", [presence()], [wire("presence", "S9")])
    made = plan(wired([unit], [PROTECTS]))
    assert [one.name for one in made.terminals] == ["S1", "S9"]
    assert made.terminals[1].does is None
    assert only(made).verdict is NOT_SHOWN


def test_of_two_inputs_of_one_name_none_is_meant() -> None:
    unit = fitting("outside", [presence()], [wire("presence", "S1")])
    assert only(plan(wired([unit], [PROTECTS, PROTECTS]))).terminal is None


# Proposals -----------------------------------------------------------------------


def test_an_output_goes_where_its_kind_and_its_state_at_rest_are_meant() -> None:
    inputs = [
        an_input("S0", "closing protection", kinds=["frequency"], rests="live"),
        an_input("S1", "closing protection", kinds=["semiconductor"], rests="open"),
        an_input("S2", "opening", **TAKES),
        an_input("S3", "closing protection", **TAKES),
    ]
    one = only(plan(wired([fitting("outside", [presence()])], inputs)))
    assert one.way == "proposed"
    assert one.terminal == 3
    why = {reason.terminal: reason.because.key for reason in one.reasons}
    assert (why[0], why[1]) == ("fail_safe.kind", "fail_safe.rest")


def test_an_opening_output_is_kept_from_inputs_that_mean_another_state() -> None:
    closed = an_input("S0", "opening", kinds=["relay"], rests="closed")
    opening = [output("opening", **OPENS), presence()]
    inputs = [closed, PROTECTS]
    made = plan(wired([fitting("outside", opening)], inputs))
    one = next(one for one in made.wires if one.signal == "opening")
    assert (one.way, one.terminal) == ("open", None)
    assert [reason.because.key for reason in one.reasons] == ["fail_safe.rest"]


def test_each_side_gets_the_input_named_after_it_and_else_its_own() -> None:
    takes: dict[str, Any] = {"kinds": ["relay"], "rests": "open"}
    units = [
        fitting("outside", [output("opening", **OPENS), presence()], side="outside"),
        fitting("inside", [output("opening", **OPENS), presence()], side="inside"),
    ]
    named = [
        an_input("opening inside", "opening", **takes),
        an_input("opening outside", "opening", **takes),
    ]
    plain = [an_input("A", "opening", **takes), an_input("B", "opening", **takes)]
    for inputs, ends in ((named, [1, 0]), (plain, [0, 1])):
        made = plan(wired(units, inputs))
        opening = [one.terminal for one in made.wires if one.signal == "opening"]
        assert opening == ends


def test_an_input_for_escape_is_left_to_outputs_for_escape() -> None:
    takes: dict[str, Any] = {"kinds": ["relay"], "rests": "open"}
    inputs = [
        an_input("E", "escape opening", **takes),
        an_input("O", "opening", **takes),
    ]
    unit = fitting("outside", [output("opening", **OPENS), presence()])
    made = plan(wired([unit], inputs))
    one = next(one for one in made.wires if one.signal == "opening")
    assert one.terminal == 1


def test_where_no_input_is_described_none_is_invented() -> None:
    made = plan(wired([fitting("outside", [presence()])]))
    assert made.terminals == ()
    one = only(made)
    assert one.way == "open"
    assert one.none is not None
    assert one.none.key == "desk_wiring.none.no_inputs"


def test_where_no_input_does_what_is_needed_it_is_said() -> None:
    made = plan(wired([fitting("outside", [presence()])], [an_input("O", "opening")]))
    assert only(made).none is not None
    assert only(made).none.key == "desk_wiring.none.no_purpose"  # type: ignore[union-attr]


def test_an_output_for_escape_is_not_asked_for_on_no_escape_route() -> None:
    escape = output("escape opening", kind="frequency", normal_state="live")
    unit = fitting("inside", [escape, presence()])
    door = wired([unit], [PROTECTS], {"escape_route": False})
    one = next(one for one in plan(door).wires if one.signal == "escape opening")
    assert (one.way, one.verdict) == ("left alone", NOT_ASKED)
    assert not one.named


# What shows it -------------------------------------------------------------------


def test_a_pulled_plug_must_open_where_it_guards_an_escape_and_else_keep_open() -> None:
    escape = output(
        "escape opening", kind="frequency", normal_state="live", monitored=True
    )
    ends = [wire("escape opening", "E"), wire("presence", "S1", test_enabled=True)]
    inputs = [
        an_input(
            "E",
            "escape opening",
            kinds=["frequency"],
            rests="live",
            monitored=True,
            fails_to="open door",
        ),
        PROTECTS,
    ]
    units = [
        fitting("inside", [escape, presence()], ends, side="inside"),
        fitting("outside", [presence()], [ends[1]], side="outside"),
    ]
    made = plan(wired(units, inputs, {"escape_route": True}))
    plugs = [one for one in made.tries if one.kind == "plug"]
    assert [one.do.key for one in plugs] == [
        "desk_wiring.try.plug_closed",
        "desk_wiring.try.plug_open",
    ]
    assert plugs[0].must[0].key == "desk_wiring.must.escape"
    assert [one.key for one in plugs[1].must] == ["desk_wiring.must.stays"]
    assert [one.kind for one in made.tries] == ["plug", "plug", "walk"]


def test_a_unit_beside_the_opening_must_stop_a_leaf_that_opens() -> None:
    unit = fitting("side", [presence()], [wire("presence", "S2")], place="beside")
    made = plan(wired([unit], [an_input("S2", "opening stop", **TAKES)]))
    (plug,) = made.tries
    assert [one.key for one in plug.must] == ["desk_wiring.must.stop"]


def test_what_nobody_knows_is_to_be_looked_up_and_named_once() -> None:
    unit = fitting("outside", [output("presence")], [wire("presence", "S1")])
    made = plan(wired([unit], [an_input("S1", "closing protection")]))
    lacks = [(one.key, str(one.message)) for one in made.look_up]
    assert len(lacks) == len(set(lacks))
    keys = {one.key for one in made.look_up}
    assert "fitting[outside].wires[1].test_enabled" in keys
    assert {one.verdict for one in made.to_set} == {NOT_SHOWN}


# Whatever is wired -----------------------------------------------------------------

KINDS = ("relay", "semiconductor", "frequency", "current")
STATES = ("open", "closed", "live", "dead")
DOES = ("opening", "closing protection", "opening stop", "escape opening", "test")
maybe = st.sampled_from((True, False, None))


@st.composite
def inputs(draw: st.DrawFn, name: str) -> Any:
    return an_input(
        name,
        draw(st.sampled_from(DOES)),
        kinds=draw(st.lists(st.sampled_from(KINDS), max_size=3, unique=True)),
        rests=draw(st.sampled_from((*STATES, None))),
        monitored=draw(maybe),
        fails_to=draw(st.sampled_from(("open door", "standing door", "ignored", None))),
    )


@st.composite
def outputs(draw: st.DrawFn, signal: str) -> Any:
    return output(
        signal,
        kind=draw(st.sampled_from((*KINDS, None))),
        normal_state=draw(st.sampled_from((*STATES, None))),
        monitored=draw(maybe),
        test_input=draw(maybe),
    )


@st.composite
def doors(draw: st.DrawFn) -> Doorway:
    terminals = [draw(inputs(f"S{at}")) for at in range(draw(st.integers(0, 4)))]
    names = [*(one.name for one in terminals), "S7", "not used"]
    units = []
    for name in ("outside", "inside")[: draw(st.integers(1, 2))]:
        signals = draw(
            st.lists(
                st.sampled_from(("opening", "presence", "escape opening")),
                min_size=1,
                unique=True,
            )
        )
        ends = [
            wire(one, draw(st.sampled_from(names)), test_enabled=draw(maybe))
            for one in signals
            if draw(st.booleans())
        ]
        made = [draw(outputs(one)) for one in signals]
        place = draw(st.sampled_from(("header face", "beside")))
        units.append(fitting(name, made, ends, side=name, place=place))
    use = {"escape_route": draw(maybe), "breaks_out": draw(maybe)}
    return wired(units, terminals, use, tests_before_closing=draw(maybe))


@given(doors())
@settings(max_examples=150)
def test_a_proposal_that_is_wired_is_found_as_it_was_promised(door: Doorway) -> None:
    for one in plan(door).wires:
        if one.way != "proposed" or one.terminal is None:
            continue
        promised = next(r for r in one.reasons if r.terminal == one.terminal)
        verdicts = [f.verdict for f in found(_with(door, one)) if _of(f, one)]
        assert FAILS not in verdicts
        if promised.verdict is HOLDS:
            assert set(verdicts) <= {HOLDS, NOT_ASKED}


def _of(finding: Any, one: WireShown) -> bool:
    asked = finding.question in ("wiring.inputs", "wiring.fail_safe")
    return asked and (finding.fitting, finding.case) == (one.fitting, one.signal)


def _with(door: Doorway, one: WireShown) -> Doorway:
    """The door with a proposal wired, its test switched on where there is one."""
    assert one.terminal is not None
    name = door.operator.inputs[one.terminal].name
    tests = True if one.output and one.output.test_input else None
    enabled = tests if one.signal == "presence" else None
    more = wire(one.signal, name, test_enabled=enabled)
    units = tuple(
        each.model_copy(update={"wires": (*each.wires, more)})
        if each.id == one.fitting
        else each
        for each in door.fitting
    )
    return door.model_copy(update={"fitting": units})


@given(doors())
@settings(max_examples=150)
def test_what_is_to_be_set_never_contradicts_what_was_found(door: Doorway) -> None:
    made = plan(door)
    for one in made.wires:
        if one.way != "wired" or one.signal == "opening":
            continue
        mine = [each for each in made.to_set if one.number in each.wires]
        if mine and one.verdict is HOLDS:
            assert FAILS not in {each.verdict for each in mine}
        broken = {f.because.key for f in one.findings if f.verdict is FAILS}
        wrong = {each.what.key for each in mine if each.verdict is FAILS}
        for because, what in _SAME.items():
            if because in broken:
                assert what in wrong


_SAME = {
    "fail_safe.kind": "desk_wiring.set.kind",
    "fail_safe.rest": "desk_wiring.set.rest",
    "inputs.not_tested": "desk_wiring.set.test",
    "inputs.cannot_be_tested": "desk_wiring.set.no_test",
}


@given(doors())
@settings(max_examples=80)
def test_no_terminal_is_named_that_the_file_does_not_name(door: Doorway) -> None:
    made = plan(door)
    told = {one.name for one in door.operator.inputs}
    told |= {one.to for each in door.fitting for one in each.wires}
    assert {one.name for one in made.terminals} <= told
    for one in made.wires:
        assert one.terminal is None or one.terminal < len(made.terminals)


@pytest.mark.parametrize("signal", ["presence", "escape opening"])
def test_a_plug_is_pulled_for_every_output_that_is_known_to_guard(signal: str) -> None:
    does = "closing protection" if signal == "presence" else "escape opening"
    unit = fitting("inside", [output(signal, **QUIET)], [wire(signal, "S1")])
    made = plan(wired([unit], [an_input("S1", does, **TAKES)]))
    assert "plug" in {one.kind for one in made.tries}
