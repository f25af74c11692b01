"""What a terminal plan says: each wire with both its ends, each terminal, each lead."""

from collections.abc import Iterator, Sequence

from limen.findings import Finding, Measure, Message, Verdict
from limen.findings.wires import Feed, Reason, Terminal, ToSet, Try, WirePlan, WireShown
from limen.model.doorway import Doorway
from limen.model.sheet import Output
from limen.model.wiring import Cable, Operator
from limen.quantity import Dimension, Quantity, Show
from limen.words.saying import say

BASE = "desk_wiring"


def said_wire(plan: WirePlan, wire: WireShown, *, language: str | None = None) -> str:
    """One wire with both its ends, in a sentence."""
    values: dict[str, str | int | Measure | Message] = {
        "number": wire.number,
        "fitting": wire.fitting,
        "output": Message(f"output.{wire.signal}"),
    }
    if wire.terminal is not None:
        values["input"] = plan.terminals[wire.terminal].name
    return say(Message(f"{BASE}.wire.{_key(wire)}", values), language=language)


def _key(wire: WireShown) -> str:
    match wire.way:
        case "wired":
            return "wired" if wire.terminal is not None else "wired_nowhere"
        case "proposed":
            return "proposed"
        case "open":
            return "open"
        case "left alone":
            return "left_alone" if wire.named else "not_used"


def said_ends(
    plan: WirePlan, wire: WireShown, *, language: str | None = None
) -> tuple[str, ...]:
    """What both ends of a wire are, a sentence each."""
    # No manual says more of a test output than that there is one.
    found = [] if wire.signal == "test" else [_output(wire.output)]
    if wire.terminal is not None:
        found += list(_input(plan.terminals[wire.terminal]))
    return tuple(say(one, language=language) for one in found)


def _output(output: Output | None) -> Message:
    kind = Message(f"kind.{output.kind}") if output and output.kind else None
    state = output.normal_state if output else None
    rest = Message(f"state.{state}") if state else None
    if kind and rest:
        return Message(f"{BASE}.wire.output", {"kind": kind, "state": rest})
    if kind:
        return Message(f"{BASE}.wire.output_kind", {"kind": kind})
    if rest:
        return Message(f"{BASE}.wire.output_state", {"state": rest})
    return Message(f"{BASE}.wire.output_unknown")


def _input(one: Terminal) -> Iterator[Message]:
    if one.does is None:
        yield Message(f"{BASE}.wire.input_unknown")
        return
    does = {"does": Message(f"purpose.{one.does}")}
    key = "input_by_name" if one.by_name else "input"
    yield Message(f"{BASE}.wire.{key}", does)
    kinds, rest = _kinds(one), one.input.rests if one.input else None
    state = Message(f"state.{rest}") if rest else None
    if kinds and state:
        yield Message(f"{BASE}.wire.expects", {"kinds": kinds, "state": state})
    elif kinds:
        yield Message(f"{BASE}.wire.expects_kinds", {"kinds": kinds})
    elif state:
        yield Message(f"{BASE}.wire.expects_state", {"state": state})
    else:
        yield Message(f"{BASE}.wire.expects_unknown")


def _kinds(one: Terminal) -> Message | None:
    """The kinds that an input takes: "relay, semiconductor or current"."""
    named = [Message(f"kind.{kind}") for kind in (one.input.kinds if one.input else ())]
    if not named:
        return None
    said = named[-1]
    for at, kind in enumerate(reversed(named[:-1])):
        key = "or" if at == 0 else "and_so"
        said = Message(f"{BASE}.picture.{key}", {"one": kind, "other": said})
    return said


# Short, beside terminals --------------------------------------------------------


def short_output(wire: WireShown, *, language: str | None = None) -> str:
    """An output beside its terminal: "semiconductor, closed at rest"."""
    output = wire.output
    if wire.signal == "test":
        return ""
    kind = output.kind if output else None
    state = output.normal_state if output else None
    if kind is None and state is None:
        return _plain("unknown_look", language)
    named = say(Message(f"kind.{kind}"), language=language) if kind else None
    rest = _plain("rests", language, state=Message(f"state.{state}")) if state else None
    unknown = _plain("unknown", language)
    return ", ".join(one or unknown for one in (named, rest))


def short_terminal(one: Terminal, *, language: str | None = None) -> tuple[str, ...]:
    """An input beside its terminal: what is done there, and what it takes."""
    if one.does is None:
        return (_plain("does_unknown", language),)
    does = say(Message(f"purpose.{one.does}"), language=language)
    if one.by_name:
        return (f"{does} ({_plain('by_name', language)})",)
    kinds, rest = _kinds(one), one.input.rests if one.input else None
    taken = (
        _plain("takes_kinds", language, kinds=kinds)
        if kinds
        else _plain("takes_kinds_unknown", language)
    )
    state = (
        _plain("rests", language, state=Message(f"state.{rest}"))
        if rest
        else _plain("rests_unknown", language)
    )
    if kinds is None and rest is None:
        return does, _plain("takes_nothing_known", language)
    return does, f"{taken}, {state}"


def short_feed(
    feed: Feed, system: Show = Show.METRIC, *, language: str | None = None
) -> tuple[str, ...]:
    """What a unit is fed with, and its lead."""
    unit, cable = feed.fitting.unit, feed.fitting.cable
    takes = _between(unit.supply.least, unit.supply.most, language) if unit else None
    first = takes or _plain("takes_unknown", language)
    rest = [_lead(cable, system, language)] if cable else []
    drip = _drip(feed, language)
    more = ", ".join([*rest, *([drip] if drip else [])])
    return (first, more) if more else (first,)


def _between(
    least: Quantity | None, most: Quantity | None, language: str | None
) -> str | None:
    if least is None or most is None:
        return None
    low, high = (Measure(one.value, Dimension.VOLTAGE) for one in (least, most))
    return _plain("takes", language, least=low, most=high)


def _lead(cable: Cable, system: Show, language: str | None) -> str:
    far = {"length": Measure(cable.length.value, Dimension.LENGTH)}
    said = Message(f"{BASE}.picture.cable", dict(far))
    return say(said, system=system, language=language)


def _drip(feed: Feed, language: str | None) -> str:
    """Of the drip loop what is known; where none is asked, only what was said."""
    cable = feed.fitting.cable
    loop = cable.drip_loop if cable else None
    if loop is None:
        return _plain("drip_unknown", language) if feed.drips else ""
    return _plain("drip" if loop else "no_drip", language)


def short_supply(
    operator: Operator, system: Show = Show.METRIC, *, language: str | None = None
) -> str:
    """What the operator gives to units."""
    volts, amps = operator.supply, operator.current
    values: dict[str, Measure | Message] = {}
    if volts is not None:
        values["voltage"] = Measure(volts.value, Dimension.VOLTAGE)
    if amps is not None:
        values["current"] = Measure(amps.value, Dimension.CURRENT)
    key = {
        (True, True): "gives",
        (True, False): "gives_voltage",
        (False, True): "gives_current",
        (False, False): "gives_unknown",
    }[volts is not None, amps is not None]
    said = Message(f"{BASE}.picture.{key}", dict(values))
    return say(said, system=system, language=language)


def _plain(key: str, language: str | None, **values: Measure | Message) -> str:
    return say(Message(f"{BASE}.picture.{key}", dict(values)), language=language)


# Reasons ------------------------------------------------------------------------


def said_reasons(
    plan: WirePlan, wire: WireShown, system: Show = Show.METRIC
) -> tuple[str, ...]:
    """Why an input was proposed or none, and what would serve better."""
    said: list[str] = []
    if wire.none is not None:
        said.append(say(wire.none, system=system))
    if wire.serves is not None:
        name = {"input": plan.terminals[wire.serves].name}
        said.append(say(Message(f"{BASE}.wire.serves", dict(name)), system=system))
    if wire.way == "proposed":
        chosen = next(one for one in wire.reasons if one.terminal == wire.terminal)
        said.append(_if_so(chosen, system))
    if wire.way == "open":
        said += [_at(plan, one, system) for one in wire.reasons]
    return tuple(said)


def _if_so(reason: Reason, system: Show) -> str:
    if reason.verdict is Verdict.HOLDS:
        return say(Message(f"{BASE}.wire.if_so"), system=system)
    values = {"because": reason.because}
    return say(Message(f"{BASE}.wire.if_so_but", dict(values)), system=system)


def _at(plan: WirePlan, reason: Reason, system: Show) -> str:
    name = plan.terminals[reason.terminal].name
    values: dict[str, str | int | Measure | Message] = {
        "input": name,
        "because": reason.because,
    }
    return say(Message(f"{BASE}.wire.at", values), system=system)


def said_numbers(numbers: Sequence[int]) -> str:
    """Numbers of wires in a row: "2, 4"."""
    return ", ".join(map(str, numbers))


def said_setting(plan: WirePlan, one: ToSet) -> str:
    """What is to be set, with the input at which it is."""
    name = plan.terminals[one.terminal].name
    return say(Message(f"{BASE}.set.line", {"input": name, "what": one.what}))


def word_of(verdict: Verdict) -> str:
    """What a verdict means of a setting: the last name of its word."""
    match verdict:
        case Verdict.HOLDS:
            return "described"
        case Verdict.FAILS:
            return "other"
        case Verdict.NOT_SHOWN | Verdict.NOT_ASKED:
            return "unknown"


def route_of(doorway: Doorway) -> str:
    """What a doorway's use asks of its inputs: the last name of its sentence."""
    use = doorway.use
    if use.escape_route is None:
        return "unknown"
    if not use.escape_route:
        return "ordinary"
    return "breaks_out" if use.breaks_out else "escape"


def said_for(numbers: Sequence[int]) -> str:
    """For which wires something is."""
    key = "for" if len(numbers) == 1 else "for_many"
    values = {"numbers": said_numbers(numbers)}
    return say(Message(f"{BASE}.set.{key}", dict(values)))


def shared(plan: WirePlan) -> tuple[str, ...]:
    """Inputs at which presence outputs of several units end, by name."""
    found: dict[int, set[str]] = {}
    for wire in plan.wires:
        if wire.terminal is not None and wire.signal == "presence":
            found.setdefault(wire.terminal, set()).add(wire.fitting)
    return tuple(plan.terminals[at].name for at, of in found.items() if len(of) > 1)


def wrong(plan: WirePlan) -> tuple[tuple[tuple[int, ...], Finding], ...]:
    """Everything that fails, with the numbers of its wires; none for the doorway's."""
    found: dict[tuple[str, str | None, str | None], tuple[list[int], Finding]] = {}
    for wire in plan.wires:
        for one in wire.findings:
            if one.verdict is Verdict.FAILS:
                found.setdefault(one.key, ([], one))[0].append(wire.number)
    others = [*plan.general, *(one for feed in plan.feeds for one in feed.findings)]
    for one in others:
        if one.verdict is Verdict.FAILS:
            found.setdefault(one.key, ([], one))
    return tuple((tuple(numbers), one) for numbers, one in found.values())


def said_try(one: Try, system: Show = Show.METRIC) -> tuple[str, str]:
    """One thing to do at the door: what to do, what must then happen."""
    must = " ".join(say(each, system=system) for each in one.must)
    return say(one.do, system=system), must
