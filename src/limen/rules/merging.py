"""Merging one rule of an overlay with the rule it is laid on, limit by limit."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from limen.quantity import Quantity, least
from limen.rules.differing import Difference, How
from limen.rules.mistakes import Mistake
from limen.rules.rule import Compare, Rule, RuleCase

_TOUCH = 1e-12
_OWN_IN_FORCE = {How.FILLS, How.TIGHTENS}


@dataclass(frozen=True, slots=True)
class Merged:
    """A rule after an overlay's rule was laid on it.

    Attributes:
        rule: the rule.
        differences: how its figures stand to the base's.
        mistakes: what makes it unusable.
    """

    rule: Rule
    differences: tuple[Difference, ...] = ()
    mistakes: tuple[Mistake, ...] = ()


@dataclass(frozen=True)
class Merging:
    """A rule of the base and the overlay's rule that is laid on it.

    Attributes:
        below: the base's rule.
        own: the overlay's rule.
        mark: base and edition, as they are named in errors.
    """

    below: Rule
    own: Rule
    mark: str

    def merged(self) -> Merged:
        """The rule in force, how it stands to the base, and what is wrong."""
        mistakes = tuple(self._mistakes())
        if mistakes:
            return Merged(self.own, mistakes=mistakes)
        return Merged(self._rule(), tuple(self._differences()))

    @cached_property
    def how(self) -> dict[str, How]:
        """How each figure of the overlay stands to the base's."""
        return {
            name: self._how(name, self.below.limits.get(name), figure)
            for name, figure in self.own.limits.items()
        }

    @cached_property
    def taken(self) -> tuple[str, ...]:
        """The limits for which the overlay's figure is in force."""
        return tuple(
            name
            for name, how in self.how.items()
            if how in _OWN_IN_FORCE or (how is How.AGREES and self._better(name))
        )

    # What is wrong ------------------------------------------------------------

    def _mistakes(self) -> Iterator[Mistake]:
        for name in self.own.limits:
            why = self._refusal(name)
            if why:
                yield Mistake(self.mark, self.own.id, f"limits.{name}", why)

    def _refusal(self, name: str) -> str:
        below, own = self.below, self.own
        if name in below.unset:
            return ""
        if name not in below.limits:
            return f"the rule {below.name!r} it is laid on has no such limit"
        if below.dimensions[name] is not own.dimensions[name]:
            found, needed = own.dimensions[name], below.dimensions[name]
            return f"is a {found}; the limit it is laid on is a {needed}"
        if _same(below.limits[name], own.limits[name]):
            return ""
        return self._incomparable(name)

    def _incomparable(self, name: str) -> str:
        """Why nobody can say which of two differing figures is the stricter."""
        ways = self._ways(name)
        if len(ways) != 1:
            told = "differ" if ways else "say nothing"
            return f"stricter which way? the cases {told}: at least, or at most"
        below, own = self.below.limits[name], self.own.limits[name]
        if abs(below.value - own.value) < below.u + own.u:
            return "and the base's figure overlap in their ±: neither is the stricter"
        return ""

    def _ways(self, name: str) -> set[Compare]:
        """Which way is stricter: the base's cases must say so, the own may not differ.

        An overlay that could name the way by itself could call the laxer stricter.
        """
        below, own = _ways(self.below, name), _ways(self.own, name)
        return below | own if below else set()

    # Which figure is in force -------------------------------------------------

    def _how(self, name: str, below: Quantity | None, own: Quantity) -> How:
        if below is None:
            return How.FILLS
        if _same(below, own):
            return How.AGREES
        larger_is_stricter = self._ways(name) == {"at least"}
        stricter = (own.value > below.value) == larger_is_stricter
        return How.TIGHTENS if stricter else How.YIELDS

    def _better(self, name: str) -> bool:
        """Whether the overlay's figure is the better known of two that agree."""
        below, own = self.below.limits[name].grade, self.own.limits[name].grade
        return own is not below and least(own, below) is below

    def _covers(self) -> bool:
        """Whether the overlay's document asks as much as the rule as a whole."""
        how = {name: self.how.get(name, How.YIELDS) for name in self.below.limits}
        return How.YIELDS not in how.values()

    def _stricter(self) -> bool:
        """Whether more is asked than a document does, here or below."""
        in_force = any(self.how[name] in _OWN_IN_FORCE for name in self.taken)
        if self.own.stricter and in_force:
            return True
        return self.below.stricter and not self._covers()

    def _rule(self) -> Rule:
        below, own = self.below, self.own
        taken = {name: own.limits[name] for name in self.taken}
        whole = bool(taken) and taken.keys() == {*below.limits, *below.unset}
        sources = {**below.sources, **{name: own.source(name) for name in taken}}
        rule = replace(
            below,
            id=own.id,
            asks=own.asks or below.asks,
            stricter=self._stricter(),
            limits={**below.limits, **taken},
            unset={k: why for k, why in below.unset.items() if k not in taken},
            dimensions={**below.dimensions, **{k: own.dimensions[k] for k in taken}},
            authority=own.authority if whole else below.authority,
            sources=sources,
            cases=tuple(self._cases()),
            also=(),
        )
        cited = dict.fromkeys((*below.authorities(), *own.authorities()))
        named = {(one.document, one.clause) for one in rule.authorities()}
        more = (one for one in cited if (one.document, one.clause) not in named)
        return replace(rule, also=tuple(more))

    def _cases(self) -> Iterator[RuleCase]:
        """The cases that still stand: whoever fails the laxer fails the stricter."""
        moved = {name for name, how in self.how.items() if how in _OWN_IN_FORCE}
        for case in self.below.cases:
            decided = moved if case.given is None else moved & {case.given.limit}
            if case.says == "fails" or not decided:
                yield case
        for case in self.own.cases:
            yields = case.given and self.how.get(case.given.limit) is How.YIELDS
            if case.says == "fails" or not yields:
                yield case

    def _differences(self) -> Iterator[Difference]:
        own = self.own
        if not own.limits:
            yield Difference(own.id, How.CITES, own.authority)
        for name, how in self.how.items():
            yield Difference(
                own.id,
                how,
                own.source(name),
                name,
                self.below.limits.get(name),
                own.limits[name],
                own.dimensions[name],
            )


def _ways(rule: Rule, limit: str) -> set[Compare]:
    """Which way a limit is read by the cases of a rule."""
    told = (case.given for case in rule.cases if case.given is not None)
    return {given.compare for given in told if given.limit == limit}


def _same(one: Quantity, other: Quantity) -> bool:
    """Whether two figures are the same number, their ± too."""
    scale = _TOUCH * max(abs(one.value), abs(other.value))
    return abs(one.value - other.value) <= scale and abs(one.u - other.u) <= scale
