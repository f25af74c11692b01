"""What the tests of the leaf's questions share: rules by book, a day named."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from builders.doorways import a_doorway
from limen.findings import Finding
from limen.quantity import Dimension, Grade, Quantity
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule
from questions.asking import book


def leaf(
    question: str,
    changes: Mapping[str, object] | None = None,
    *,
    rules: str = "us",
    case: str | None = None,
    on: date | None = None,
    own: Mapping[str, float] | None = None,
) -> Finding:
    """One finding about the leaf of the changed reference doorway.

    ``own`` gives limits of the rule a figure, SI, as from the owner's copy.
    """
    doorway = a_doorway(changes)
    shelf = book(rules, "2005" if rules == "us" else "2012")
    facts = {"escape_route": bool(doorway.use.escape_route)}
    rule = shelf.rule_for(question, facts)
    assert isinstance(rule, Rule)
    for name, value in (own or {}).items():
        rule = with_figure(rule, name, value)
    asked = Asked(doorway, settle(doorway), rule, (), on)
    found = {f.case: f for f in QUESTIONS[question].ask(asked)}
    return found[case]


def with_figure(rule: Rule, name: str, value: float) -> Rule:
    limits = {**rule.limits, name: Quantity(value, grade=Grade.OWN)}
    dimension = QUESTIONS[rule.question].limits[name]
    return replace(
        rule,
        limits=limits,
        unset={k: why for k, why in rule.unset.items() if k != name},
        dimensions={**rule.dimensions, name: Dimension(dimension)},
    )


def lacks(finding: Finding) -> list[str]:
    return [lack.key for lack in finding.lacking]
