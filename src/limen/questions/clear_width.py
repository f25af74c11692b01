"""How wide the door opens, for whoever needs the room: a wheelchair, a pram."""

from limen.findings import Finding, Message, Remedy, Verdict
from limen.findings.message import length
from limen.quantity import Dimension, Quantity, at_least
from limen.questions.asking import Asked, compared, lack, margin_of

REDUCED = "reduced width"


def clear_width(asked: Asked) -> tuple[Finding, ...]:
    """Does the door open wide enough, in every mode that people can choose?

    The free width, leaves open, is held against ``least_width``; where there is a
    reduced mode, its width too.

    Args:
        asked: limit ``least_width`` (m).

    Returns:
        One finding, and one more for a reduced width.  Margin in m.

    Source:
        The rulebook's figure; a comparison.  Left out: what stands in the
        opening, the force to move a leaf by hand, room to turn beside the door.
    """
    door = asked.doorway
    found = [_wide_enough(asked, door.clear_width, "clear_width", None)]
    if door.reduced_width is not None:
        found.append(_wide_enough(asked, door.reduced_width, "reduced_width", REDUCED))
    return tuple(found)


def _wide_enough(asked: Asked, width: Quantity, key: str, case: str | None) -> Finding:
    group = "clear_width.reduced" if case else "clear_width.open"
    if not asked.rule.has("least_width"):
        missing = lack("lack.least_width", asked.figure("least_width"))
        because = Message("clear_width.no_figure", {"width": length(width.value)})
        return asked.answer(Verdict.NOT_SHOWN, because, case=case, lacking=(missing,))
    limit = asked.rule.limit("least_width")
    comparison = at_least(width, limit)
    told = compared(comparison, asked.weak((key, width), "least_width"))
    said = {"width": length(width.value), "limit": length(limit.value)}
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"{group}.{told.verdict.key}", said),
        case=case,
        margin=margin_of(comparison, Dimension.LENGTH),
        needed=Message("clear_width.needed", {"limit": length(limit.value)}),
        remedy=Remedy(Message(f"{group}.remedy", said)) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )
