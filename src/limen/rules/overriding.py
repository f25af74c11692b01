"""A firm's own figures in place of a rulebook's.

Whoever owns a copy of a standard enters its figures once, in a values file::

    [[value]]
    rule = "en.2012.presence.hold_time"
    limit = "hold"
    value = "60 s"
    source = "own copy, page 12"
    by = "who read it"
    on = 2026-03-02

A figure so entered has the grade *own* and is listed wherever the rulebook is
used. The id names the edition, so a figure never slips into another one.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from limen.quantity import Dimension, Grade, Quantity
from limen.rules.figures import take_figure
from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.rule import Rule
from limen.rules.rulebook import Override, Rulebook
from limen.rules.table import Table

_VALUE_KEYS = ("rule", "limit", "value", "source", "by", "on")


@dataclass(frozen=True, slots=True)
class OwnValue:
    """A figure from a firm's values file.

    Attributes:
        rule: id of the rule, edition included.
        limit: name of the limit.
        value: the figure, of grade *own*; its origin is ``source``.
        dimension: its dimension.
        source: where the firm read it.
        by: who entered it.
        on: the day it was entered.
        file: the values file.
    """

    rule: str
    limit: str
    value: Quantity
    dimension: Dimension
    source: str
    by: str
    on: date
    file: str

    def meant_for(self, rulebook: str, edition: str) -> bool:
        """Whether its rule belongs to that edition of that rulebook."""
        return self.rule.startswith(f"{rulebook}.{edition}.")


def read_values(data: Mapping[str, object], file: str) -> tuple[OwnValue, ...]:
    """Read a firm's values file.

    Args:
        data: the parsed file.
        file: its name, for errors.

    Returns:
        Its figures, in the order of the file.

    Raises:
        RulebookError: everything that is wrong with it.
    """
    mistakes: list[Mistake] = []
    table = Table(data, mistakes, file)
    table.only(("value",))
    values = [_value(one) for one in table.tables("value")]
    read = tuple(value for value in values if value is not None)
    mistakes += _entered_twice(read, file)
    if mistakes:
        raise RulebookError(mistakes)
    return read


def override(rulebook: Rulebook, values: Iterable[OwnValue]) -> Rulebook:
    """Put a firm's figures in place of the rulebook's.

    Args:
        rulebook: as it ships.
        values: the firm's figures; those of other rulebooks and editions are
            passed over.

    Returns:
        The rulebook with these figures in place, each listed as an override.

    Raises:
        RulebookError: a figure names an unknown rule or limit, or measures
            something else than the limit does.
    """
    own = [one for one in values if one.meant_for(rulebook.id, rulebook.edition)]
    rules = {rule.id: rule for rule in rulebook.rules}
    mistakes = [wrong for one in own if (wrong := _refusal(one, rules))]
    if mistakes:
        raise RulebookError(mistakes)
    overrides = tuple(_recorded(one, rules[one.rule]) for one in own)
    for one in own:
        rules[one.rule] = _with(rules[one.rule], one)
    return replace(
        rulebook,
        rules=tuple(rules.values()),
        overrides=(*rulebook.overrides, *overrides),
    )


def _value(table: Table) -> OwnValue | None:
    table.only(_VALUE_KEYS)
    rule, limit, source, by = map(table.text, ("rule", "limit", "source", "by"))
    on = table.day("on", needed=True)
    figure = take_figure(table, "value", Grade.OWN)
    if figure is None or on is None:
        return None
    quantity, dimension = figure
    if quantity.grade is not Grade.OWN:
        table.wrong("value", f"a firm's figure has the grade own, not {quantity.grade}")
    quantity = replace(quantity, origin=source)
    return OwnValue(rule, limit, quantity, dimension, source, by, on, table.file)


def _entered_twice(values: Iterable[OwnValue], file: str) -> list[Mistake]:
    counts = Counter((value.rule, value.limit) for value in values)
    return [
        Mistake(file, rule, limit, f"stands {count} times; enter it once")
        for (rule, limit), count in counts.items()
        if count > 1
    ]


def _refusal(one: OwnValue, rules: Mapping[str, Rule]) -> Mistake | None:
    if one.rule not in rules:
        return Mistake(one.file, one.rule, "rule", "this rulebook has no such rule")
    rule = rules[one.rule]
    known = (*rule.limits, *rule.unset)
    if one.limit not in known:
        listed = ", ".join(known) or "none"
        return Mistake(one.file, one.rule, one.limit, f"no such limit; known: {listed}")
    asked = rule.dimensions.get(one.limit, one.dimension)
    if one.dimension is not asked:
        why = f"is a {one.dimension}; this limit is a {asked}"
        return Mistake(one.file, one.rule, one.limit, why)
    return None


def _recorded(one: OwnValue, rule: Rule) -> Override:
    old = rule.limits.get(one.limit)
    return Override(one.rule, one.limit, old, one.value, one.source, one.by, one.on)


def _with(rule: Rule, one: OwnValue) -> Rule:
    source = replace(
        rule.source(one.limit),
        grade=Grade.OWN,
        note=f"entered by {one.by} on {one.on}: {one.source}",
        seen_in="",
    )
    changed = replace(
        rule,
        limits={**rule.limits, one.limit: one.value},
        unset={name: why for name, why in rule.unset.items() if name != one.limit},
        dimensions={**rule.dimensions, one.limit: one.dimension},
        sources={**rule.sources, one.limit: source},
    )
    return _confirmed(changed) if _all_own(changed) else changed


def _all_own(rule: Rule) -> bool:
    """Whether the firm has entered every figure the rule's own document gives."""
    own = [
        figure.grade is Grade.OWN
        for name, figure in rule.limits.items()
        if rule.source(name).document == rule.authority.document
    ]
    return not rule.unset and bool(own) and all(own)


def _confirmed(rule: Rule) -> Rule:
    """Whoever read all figures of a rule in an own copy has read the rule there."""
    return replace(rule, authority=replace(rule.authority, grade=Grade.OWN))
