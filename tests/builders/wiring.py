"""Doorways whose wiring is all that matters, and their terminal plans."""

import json
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from builders.doorways import a_doorway
from limen.findings import Finding, Study
from limen.findings.wires import WirePlan
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.sheet import Output
from limen.model.wiring import Input, Operator, Wire
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook
from limen.store.bookshelf import open_shelf
from limen.study.running import facts_of
from limen.study.wire_plan import wire_plan

WIRING = ("wiring.inputs", "wiring.fail_safe", "wiring.voltage", "wiring.supply")


@cache
def book() -> Rulebook:
    return open_shelf().edition("en", "2012")


@cache
def _plain() -> Doorway:
    return a_doorway()


def output(signals: str, **more: Any) -> Output:
    """An output; whatever matters to a test is given."""
    return Output.model_validate({"signals": signals, **more})


def an_input(name: str, does: str, **more: Any) -> Input:
    """An input of the operator."""
    fields = {"name": name, "does": does, **more}
    return Input.model_validate_json(json.dumps(fields))


def fitting(
    name: str, outputs: Sequence[Output], wires: Sequence[Wire] = (), **more: Any
) -> Fitting:
    """A unit of these outputs."""
    plain = _plain().fitting[0]
    assert plain.unit is not None
    moves = any(one.signals == "opening" for one in outputs)
    senses = {} if moves else {"motion": None}
    unit = plain.unit.model_copy(update={"outputs": tuple(outputs), **senses})
    fields = {"id": name, "wires": tuple(wires), "unit": unit, **more}
    return plain.model_copy(update=fields)


def wired(
    fittings: Sequence[Fitting],
    inputs: Sequence[Input] = (),
    use: Mapping[str, object] | None = None,
    **operator: object,
) -> Doorway:
    """A doorway with these units on this operator."""
    plain = _plain()
    fields = {"inputs": tuple(inputs), **operator}
    return plain.model_copy(
        update={
            "fitting": tuple(fittings),
            "operator": Operator().model_copy(update=fields),
            "use": plain.use.model_copy(update=dict(use or {})),
        }
    )


def found(doorway: Doorway) -> tuple[Finding, ...]:
    """What is found of the wiring."""
    rules = (book().rule_for(name, facts_of(doorway)) for name in WIRING)
    settled = settle(doorway)
    return tuple(
        one
        for rule in rules
        if isinstance(rule, Rule)
        for one in QUESTIONS[rule.question].ask(Asked(doorway, settled, rule))
    )


def a_study(doorway: Doorway) -> Study:
    """A study of the wiring alone."""
    return Study(
        doorway=doorway,
        rulebook="en",
        edition="2012",
        digest="0" * 64,
        on=None,
        version="0",
        findings=found(doorway),
    )


def plan(doorway: Doorway) -> WirePlan:
    """The terminal plan of a doorway."""
    return wire_plan(a_study(doorway), book())
