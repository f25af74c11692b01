"""Laying an overlay on its base: the stricter figure is in force, both are cited."""

from collections.abc import Iterable
from dataclasses import replace

from limen.rules.differing import Difference, How
from limen.rules.merging import Merged, Merging
from limen.rules.mistakes import Mistake, RulebookError
from limen.rules.overlay import Layer, Overlay
from limen.rules.rule import Rule, Weight
from limen.rules.rulebook import Document, Rulebook
from limen.rules.selecting import ambiguous, disjoint, within

_HEAVIEST = (Weight.MUST, Weight.SHOULD, Weight.ADVICE)


def lay(base: Rulebook, overlay: Overlay, digest: str = "") -> Rulebook:
    """The rulebook of a place: its base with what the place says too.

    Args:
        base: one edition, with the firm's own figures in place.
        overlay: read for that edition; its rules are laid one after the other.
        digest: SHA-256 of the files of both.

    Returns:
        The rulebook. Every rule carries the overlay's id; those it does not touch
        are otherwise the base's.

    Raises:
        RulebookError: an overlay's rule finds no rule to be laid on, widens it,
            leaves open which of two figures is the stricter, or stands beside a
            rule of the same question without saying so.
    """
    rules = {rule.name: _taken_over(rule, base, overlay) for rule in base.rules}
    differences: list[Difference] = []
    mistakes: list[Mistake] = []
    for layer in overlay.layers:
        merged = _laid(layer, rules, base.mark)
        mistakes += merged.mistakes
        differences += merged.differences
        rules[_place(layer, merged.rule, rules)] = merged.rule
    laid = tuple(rules.values())
    mistakes += _unclear(laid, f"{overlay.id} {base.edition}")
    if mistakes:
        raise RulebookError(mistakes)
    return replace(
        base,
        id=overlay.id,
        title=f"{overlay.title}, on {base.title}",
        rules=laid,
        valid=replace(base.valid, rulebook=overlay.id),
        digest=digest,
        notes=(*overlay.notes, *base.notes),
        documents=_documents(base, overlay),
        base=base.id,
        differences=tuple(differences),
    )


def _documents(base: Rulebook, overlay: Overlay) -> tuple[Document, ...]:
    """Each document once; what the overlay says of one goes before."""
    every = {one.name: one for one in (*base.documents, *overlay.documents)}
    return tuple(every.values())


def _taken_over(rule: Rule, base: Rulebook, overlay: Overlay) -> Rule:
    """The base's rule under the overlay's id, and as what it counts there."""
    taken = replace(rule, id=f"{overlay.id}.{base.edition}.{rule.name}")
    if not overlay.stands_in or rule.stricter:
        return taken
    note = " ".join(part for part in (overlay.stands_in, rule.authority.note) if part)
    return replace(taken, stricter=True, authority=replace(rule.authority, note=note))


def _place(layer: Layer, merged: Rule, rules: dict[str, Rule]) -> str:
    """Under which name it stands: in place of the rule it is laid on, or beside."""
    below = rules.get(layer.over)
    same = below is not None and below.where == merged.where
    return layer.over if same else merged.name


def _laid(layer: Layer, rules: dict[str, Rule], mark: str) -> Merged:
    own = layer.rule
    if not layer.over:
        return _added(layer, rules)
    below = rules.get(layer.over)
    if below is None:
        why = f"{mark} has no rule {layer.over!r}; it has {', '.join(rules)}"
        return Merged(own, mistakes=(Mistake(mark, own.id, "over", why),))
    where = {**below.where, **own.where}
    if not within(where, below.where) or below.question != own.question:
        why = f"{own.id} does not lie within the rule {layer.over!r} it is laid on"
        return Merged(own, mistakes=(Mistake(mark, own.id, "where", why),))
    merged = Merging(below, own, mark).merged()
    if where != below.where:
        narrowed = Difference(own.id, How.NARROWS, own.authority)
        merged = replace(merged, differences=(narrowed, *merged.differences))
    return _weighed(replace(merged, rule=replace(merged.rule, where=where)), layer)


def _weighed(merged: Merged, layer: Layer) -> Merged:
    """Let the overlay raise what hangs on the rule; it never lowers it."""
    rule = merged.rule
    if layer.weight is None or not _heavier(layer.weight, rule.weight):
        return merged
    raised = Difference(rule.id, How.RAISES, layer.rule.authority)
    return replace(
        merged,
        rule=replace(rule, weight=layer.weight),
        differences=(*merged.differences, raised),
    )


def _heavier(one: Weight, other: Weight) -> bool:
    return _HEAVIEST.index(one) < _HEAVIEST.index(other)


def _added(layer: Layer, rules: dict[str, Rule]) -> Merged:
    """A rule of its own: it must be whole and stand beside no other."""
    own = layer.rule
    mistakes = [
        Mistake(own.id, "", key, "is missing; a rule laid on no other needs it")
        for key, said in (("asks", own.asks), ("weight", layer.weight))
        if not said
    ]
    mistakes += [
        Mistake(own.id, "", "over", f'stands beside {one.id}; say over = "{one.name}"')
        for one in rules.values()
        if one.question == own.question and not disjoint(one.where, own.where)
    ]
    added = Difference(own.id, How.ADDS, own.authority)
    return Merged(own, (added,), tuple(mistakes))


def _unclear(rules: tuple[Rule, ...], mark: str) -> Iterable[Mistake]:
    for one, other in ambiguous(rules):
        yield Mistake(mark, one.id, "where", f"may apply together with {other.id}")
