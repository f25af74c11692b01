"""What was looked at with the leaves pushed by hand."""

from functools import reduce

from limen.findings import Finding, Message, Remedy, Verdict
from limen.model.movement import Condition, Mechanics
from limen.quantity import Outcome
from limen.questions.asking import Asked, graded
from limen.questions.leaf_lacks import lacking, weak

PARTS = tuple(Mechanics.model_fields)


def mechanics(asked: Asked) -> tuple[Finding, ...]:
    """Are the moving parts in order, each of them looked at?

    What is to mend *fails*; what nobody looked at is *not shown* and listed; what
    remains *holds*.

    Args:
        asked: no limits.

    Returns:
        One finding.

    Source:
        Common practice, no source: about four call-outs in ten are not the sensor,
        and no proof about beams stands while a leaf drags.
    """
    seen = _seen(asked.doorway.mechanics)
    to_mend = [part for part, condition in seen.items() if condition == "to mend"]
    unseen = [part for part, c in seen.items() if c is None or c == "not looked at"]
    outcome = (
        Outcome.FAILS if to_mend else Outcome.NOT_SHOWN if unseen else Outcome.HOLDS
    )
    told = graded(outcome, asked.limits_graded(), weak(asked, ()))
    parts = {"parts": listed(to_mend or unseen or list(PARTS))}
    fails = told.verdict is Verdict.FAILS
    return (
        asked.answer(
            told.verdict,
            Message(f"mechanics.{told.verdict.key}", parts),
            remedy=Remedy(Message("remedy.mechanics", parts)) if fails else None,
            lacking=(*lacking(f"mechanics.{part}" for part in unseen), *told.lacking),
            to_confirm=told.to_confirm,
        ),
    )


def _seen(looked_at: Mechanics) -> dict[str, Condition | None]:
    return {part: getattr(looked_at, part) for part in PARTS}


def listed(parts: list[str]) -> Message:
    """Parts by name, one after another; at least one."""
    first, *others = (Message(f"mechanics.part.{part}") for part in parts)
    return reduce(_and, others, first)


def _and(told: Message, more: Message) -> Message:
    return Message("mechanics.listed", {"first": told, "second": more})
