"""The force of a closing leaf, as it was measured."""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.findings import Finding, Lack, Message, Remedy, Verdict, Witness
from limen.findings.message import length
from limen.model.movement import Impact
from limen.quantity import (
    Comparison,
    Dimension,
    Outcome,
    Quantity,
    at_most,
)
from limen.questions.asking import Asked, compared, lack, margin_of, standing
from limen.questions.leaf_lacks import Said, newtons, unset, weak
from limen.rules.rule import Weight

PEAKS = ("peak_narrow", "peak_middle", "peak_wide")
FORCE = {
    "narrow": Dimension.LENGTH,
    "middle": Dimension.LENGTH,
    **dict.fromkeys((*PEAKS, "after", "rest"), Dimension.FORCE),
}
NEEDS = {"peak": (*PEAKS, "narrow", "middle"), "after": ("after",), "rest": ("rest",)}
"""The limits that each part of a force curve needs."""


@dataclass(frozen=True, slots=True)
class Held:
    """One measured force against its limit.

    Attributes:
        number: of the measurement, from 1.
        gap: where it was made (m).
        force: what was measured (N).
        limit: the figure it is held against (N).
        comparison: how it stands.
        closer: the key of what would settle it.
    """

    number: int
    gap: Quantity
    force: Quantity
    limit: Quantity
    comparison: Comparison
    closer: str


def closing_force(asked: Asked) -> tuple[Finding, ...]:
    """Do the measured forces of a closing leaf stay within the rulebook's?

    The peak is held against the figure for the gap at which it was measured, the
    force 0.75 s and 5 s after the first touch against theirs.  Nothing is computed:
    only a measurement counts, made on a day to which the instrument's calibration
    still ran.  For closing, a force within its limits takes the place of neither
    presence protection nor low-energy movement.

    Args:
        asked: limits ``peak_narrow`` up to the gap ``narrow``, ``peak_middle`` up to
            ``middle``, ``peak_wide`` beyond; ``after``; ``rest`` (m, N), as far as
            the rulebook has them.

    Returns:
        Three findings: the peak, 0.75 s after, 5 s after.  What the rulebook has no
        figure for is advice.  Margin in N.

    Source:
        The rulebook's figures; a comparison, no model.
    """
    return tuple(_part(asked, part) for part in NEEDS)


def _part(asked: Asked, part: str) -> Finding:
    case = {"peak": "peak", "after": "0.75 s after", "rest": "5 s after"}[part]
    rule = unset(asked, *NEEDS[part])[:1]  # one after another, not five alike
    weight = Weight.ADVICE if rule else asked.rule.weight
    valid, lacks = _counted(asked)
    lacks = (*lacks, *(_not_measured(part, valid) if not lacks else ()))
    held = [] if rule else [h for n, one in valid for h in _held(asked, part, n, one)]
    worst = min(held, key=lambda one: standing(one.comparison), default=None)
    if worst is not None and worst.comparison.outcome is Outcome.FAILS:
        return _told(asked, case, worst)
    if rule or lacks or worst is None:
        because = Message(f"closing_force.{_why(rule, lacks)}")
        return asked.answer(
            Verdict.NOT_SHOWN,
            because,
            case=case,
            weight=weight,
            lacking=(*lacks, *rule),
        )
    return _told(asked, case, worst)


def _why(rule: tuple[Lack, ...], lacks: tuple[Lack, ...]) -> str:
    return "unknown" if lacks else "no_figure" if rule else "unknown"


def _counted(asked: Asked) -> tuple[list[tuple[int, Impact]], tuple[Lack, ...]]:
    """The measurements that count, with their numbers; what is missing if none does."""
    listed = list(enumerate(asked.doorway.impact, start=1))
    if not listed:
        return [], (lack("lack.impact", "impact"),)
    made = [
        (number, one)
        for number, one in listed
        if asked.on is None or one.measured <= asked.on
    ]
    if not made:
        return [], (lack("lack.impact", "impact"),)
    counted = [(n, one) for n, one in made if one.measured <= one.calibrated]
    if counted:
        return counted, ()
    return [], tuple(_calibration(number, one) for number, one in made)


def _calibration(number: int, one: Impact) -> Lack:
    values = {"instrument": one.instrument, "day": one.measured.isoformat()}
    return lack("lack.calibration", f"impact[{number}].calibrated", values)


def _not_measured(part: str, valid: list[tuple[int, Impact]]) -> tuple[Lack, ...]:
    if part == "peak":
        return ()
    return tuple(
        lack(f"lack.impact_part.{part}", f"impact[{number}].{part}")
        for number, one in valid
        if _force(one, part) is None
    )


def _force(one: Impact, part: str) -> Quantity | None:
    return {"peak": one.peak, "after": one.after, "rest": one.rest}[part]


def _held(asked: Asked, part: str, number: int, one: Impact) -> Iterator[Held]:
    """One measurement against its figure, under each figure its gap may come under."""
    force = _force(one, part)
    if force is None:
        return
    limits = [part] if part != "peak" else _by_gap(asked, one.gap)
    each = [asked.rule.limit(name) for name in limits]
    compared_ = [at_most(force, limit) for limit in each]
    outcomes = {one.outcome for one in compared_}
    closer = f"impact[{number}].{part}"
    if len(outcomes) > 1:  # the gap decides, and is not known closely enough
        closer = f"impact[{number}].gap"
        yield Held(number, one.gap, force, each[0], _doubted(compared_[0]), closer)
        return
    yield Held(number, one.gap, force, each[0], compared_[0], closer)


def _doubted(comparison: Comparison) -> Comparison:
    return Comparison(
        Outcome.NOT_SHOWN,
        comparison.margin,
        comparison.u,
        comparison.grade,
        comparison.to_confirm,
        capped=False,
    )


def _by_gap(asked: Asked, gap: Quantity) -> list[str]:
    """The peak figures under which a gap may come, strictest first."""
    narrow, middle = (asked.rule.limit(name) for name in ("narrow", "middle"))
    within = (at_most(gap, narrow).outcome, at_most(gap, middle).outcome)
    found: list[str] = []
    if within[0] is not Outcome.FAILS:
        found.append("peak_narrow")
    if within[0] is not Outcome.HOLDS and within[1] is not Outcome.FAILS:
        found.append("peak_middle")
    if within[1] is not Outcome.HOLDS:
        found.append("peak_wide")
    return found


def _told(asked: Asked, case: str, held: Held) -> Finding:
    """What the measurement says that stands worst."""
    figures = ((f"impact[{held.number}].gap", held.gap), (held.closer, held.force))
    feeble = weak(asked, figures, *FORCE)
    told = compared(held.comparison, feeble if held.comparison.capped else held.closer)
    said: Said = {
        "force": newtons(held.force.value),
        "gap": length(held.gap.value),
        "limit": newtons(held.limit.value),
        "part": Message(f"closing_force.part.{case.replace(' ', '_')}"),
    }
    fails = told.verdict is Verdict.FAILS
    return asked.answer(
        told.verdict,
        Message(f"closing_force.{told.verdict.key}", said),
        case=case,
        margin=margin_of(held.comparison, Dimension.FORCE),
        needed=Message("closing_force.needed", {"limit": said["limit"]}),
        remedy=Remedy(Message("remedy.closing_force", said)) if fails else None,
        witness=Witness("state", gap=held.gap.value) if fails else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )
