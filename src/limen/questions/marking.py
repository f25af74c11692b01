"""What makes the door seen, and its way of working known."""

from dataclasses import replace

from limen.findings import Finding, Margin, Message
from limen.findings.message import length
from limen.model.surroundings import Marking
from limen.quantity import Comparison, Dimension, Outcome, Quantity, at_least, at_most
from limen.questions.asking import Asked, lack, margin_of, too_weak
from limen.questions.wiring_ends import (
    Reply,
    answered,
    fails,
    holds,
    not_asked,
    unknown,
    worst,
)

BANDS = ("lowest_from", "lowest_to", "highest_from", "highest_to")
"""Limits for the lower edge of the lowest marks and the upper edge of the highest."""
SIGNED = "signed_sides"
SIDES = 2


def marking(asked: Asked) -> tuple[Finding, ...]:
    """Is large glass marked, and is it said that the door works by itself?

    Glass is to be marked; where the rulebook gives heights, the lowest marks begin
    between ``lowest_from`` and ``lowest_to`` and the highest end between
    ``highest_from`` and ``highest_to``.  Where the rulebook asks for signs, the
    share of the sides from which one is read is at least ``signed_sides``.

    Args:
        asked: limits ``lowest_from``, ``lowest_to``, ``highest_from``,
            ``highest_to`` (m) and ``signed_sides``, where the rulebook has them;
            ``marking``.

    Returns:
        Two findings: case "glass" and case "signs".

    Source:
        The rulebook's figures; a comparison.  Left out: contrast of the marks,
        wording of the signs, the break-out instruction.
    """
    glass, margin = _glass(asked, asked.doorway.marking)
    found = answered(asked, glass, fitting=None, case="glass")
    signs = answered(asked, _signs(asked), fitting=None, case="signs")
    return (replace(found, margin=margin), signs)


def _glass(asked: Asked, marks: Marking) -> tuple[Reply, Margin | None]:
    match marks.glass:
        case None:
            missing = lack("lack.weather.glass_marks", "marking.glass")
            return unknown(Message("marking.unknown"), missing), None
        case "none":
            return holds(Message("marking.no_glass")), None
        case "plain":
            remedy = _mark(asked)
            return fails(Message("marking.plain"), remedy), None
        case "marked":
            return _heights(asked, marks)


def _mark(asked: Asked) -> Message:
    """Where to put marks: at the rulebook's heights, if it gives them."""
    if not all(asked.rule.has(name) for name in BANDS):
        return Message("remedy.marking.glass")
    said = {name: length(asked.rule.limit(name).value) for name in BANDS}
    return Message("remedy.marking.bands", said)


def _heights(asked: Asked, marks: Marking) -> tuple[Reply, Margin | None]:
    """The marks' heights against those of the rulebook."""
    stated = {"lowest": marks.lowest, "highest": marks.highest}
    edges = [
        (end, name)
        for end in stated
        for name in BANDS
        if name.startswith(end) and asked.rule.has(name)
    ]
    if not edges:
        return holds(Message("marking.marked")), None
    replies: list[Reply] = []
    margins: list[Margin] = []
    for end, name in edges:
        height = stated[end]
        if height is None:
            missing = lack(f"lack.weather.marks_{end}", f"marking.{end}")
            replies.append(unknown(Message("marking.heights_unknown"), missing))
            continue
        comparison = _edge(asked, name, height)
        replies.append(_reply(asked, end, height, comparison))
        margins.append(margin_of(comparison, Dimension.LENGTH))
    least = min(margins, key=lambda one: one.least, default=None)
    return worst(replies), least


def _edge(asked: Asked, name: str, height: Quantity) -> Comparison:
    compare = at_least if name.endswith("from") else at_most
    return compare(height, asked.rule.limit(name))


def _reply(asked: Asked, end: str, height: Quantity, found: Comparison) -> Reply:
    said = {"height": length(height.value)}
    match found.outcome:
        case Outcome.HOLDS:
            return holds(Message("marking.marked"), practice=found.to_confirm)
        case Outcome.FAILS:
            return fails(Message(f"marking.{end}", said), _mark(asked))
        case Outcome.NOT_SHOWN:
            closer = (lack("lack.closer", f"marking.{end}"),)
            figures = ((f"marking.{end}", height),)
            because = Message("marking.heights_unknown")
            return unknown(because, *(too_weak(figures) or closer))


def _signs(asked: Asked) -> Reply:
    """The sides from which one reads that the door works by itself."""
    if not asked.rule.has(SIGNED):
        return not_asked(Message("marking.no_signs_asked"))
    signed, signs = asked.doorway.marking.signed, asked.doorway.marking.signs
    if signed is None and signs != ():
        missing = lack("lack.weather.signed", "marking.signed")
        return unknown(Message("marking.signs_unknown"), missing)
    if signed and signs == ():
        missing = lack("lack.weather.signs", "marking.signs")
        return unknown(Message("marking.signs_differ"), missing)
    share = Quantity(len(set(signed or ())) / SIDES)
    found = at_least(share, asked.rule.limit(SIGNED))
    if found.outcome is Outcome.FAILS:
        return fails(Message("marking.unsigned"), Message("remedy.marking.signs"))
    return holds(Message("marking.signed"), practice=found.to_confirm)
