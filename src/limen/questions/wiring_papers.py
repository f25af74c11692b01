"""Performance levels: what a paper says, and nothing else."""

from collections.abc import Iterator
from typing import Literal

from limen.findings import Finding, Lack, Message, Remedy, Verdict
from limen.model.wiring import Document
from limen.quantity import Grade, Outcome, Quantity, at_most
from limen.questions.asking import Asked, compared, lack, lack_fact
from limen.questions.wiring_ends import signals

Level = Literal["a", "b", "c", "d", "e"]
Function = Literal["presence", "escape opening"]

HOUR = 3600.0
FEWER_THAN: dict[Level, float] = {
    "a": 1e-4 / HOUR,
    "b": 1e-5 / HOUR,
    "c": 3e-6 / HOUR,
    "d": 1e-6 / HOUR,
    "e": 1e-7 / HOUR,
}
"""Dangerous failures a second below which a level stays.

Source:
    EN ISO 13849-1, table of performance levels, from memory.
"""
LIMITS: dict[Function, str] = {
    "presence": "presence_failures",
    "escape opening": "escape_failures",
}


def performance_level(asked: Asked) -> tuple[Finding, ...]:
    """Does a paper state the performance level that the rulebook asks?

    A level stands for a rate of dangerous failures; a paper's level is held against
    the rule's rate.  A paper on the very unit goes before one on all; where several
    papers differ, none is preferred.  A paper of a later day does not count.  Opening
    for escape is stated by a paper on the door, or by one on each unit that does it.
    No test at the door and no figure of the unit stands in for the paper.

    Args:
        asked: limits ``presence_failures`` and ``escape_failures`` (1/s), where the
            rulebook has them; ``document``.

    Returns:
        One finding for each presence unit and light barrier; on an escape route
        without break-out one for the doorway, case "escape opening".

    Source:
        The paper.  Left out: whether the paper is about this very unit, and whether
        it is genuine.
    """
    for_presence = (
        _level(asked, "presence", fitting.id)
        for fitting in asked.doorway.fitting
        if fitting.unit is None
        or fitting.unit.presence is not None
        or fitting.unit.barrier is not None
    )
    return (*for_presence, *_escape(asked))


def _escape(asked: Asked) -> Iterator[Finding]:
    use, function = asked.doorway.use, "escape opening"
    if use.escape_route is False or use.breaks_out:
        return
    if use.escape_route is None:
        because = Message("fail_safe.escape_unknown")
        missing = lack_fact("escape_route")
        yield asked.answer(
            Verdict.NOT_SHOWN, because, case=function, lacking=(missing,)
        )
        return
    if use.breaks_out is None:
        missing = lack("lack.wiring.breaks_out", "use.breaks_out")
        because = Message("fail_safe.breaks_out_unknown")
        yield asked.answer(
            Verdict.NOT_SHOWN, because, case=function, lacking=(missing,)
        )
        return
    yield _level(asked, function, None)


def _level(asked: Asked, function: Function, fitting: str | None) -> Finding:
    limit = LIMITS[function]
    if not asked.rule.has(limit):
        because = Message("papers.no_level")
        return asked.answer(Verdict.NOT_ASKED, because, fitting=fitting, case=function)
    papers = papers_on(asked, function, fitting)
    if not papers:
        return _without(asked, function, fitting)
    rate = _rate(papers)
    comparison = at_most(rate, asked.rule.limit(limit))
    told = compared(comparison, asked.weak(("document", rate), limit))
    paper = min(papers, key=lambda one: one.level or "")
    said = {
        "paper": paper.title,
        "level": paper.level or "",
        "function": _said(function),
    }
    why = "differ" if told.verdict is Verdict.NOT_SHOWN else told.verdict.key
    return asked.answer(
        told.verdict,
        Message(f"papers.{why}", said),
        fitting=fitting,
        case=function,
        needed=_needed(asked, function),
        remedy=_higher(asked, function) if told.verdict is Verdict.FAILS else None,
        lacking=told.lacking,
        to_confirm=told.to_confirm,
    )


def _without(asked: Asked, function: Function, fitting: str | None) -> Finding:
    values = {"function": _said(function), "level": _asked_level(asked, function)}
    missing = Lack(Message("lack.wiring.paper", values), "document")
    return asked.answer(
        Verdict.NOT_SHOWN,
        Message("papers.not_shown", values),
        fitting=fitting,
        case=function,
        needed=_needed(asked, function),
        lacking=(missing,),
    )


def _rate(papers: tuple[Document, ...]) -> Quantity:
    """The rate for which the papers' levels stand, with both its ends."""
    rates = [FEWER_THAN[one.level] for one in papers if one.level is not None]
    low, high = min(rates), max(rates)
    return Quantity((low + high) / 2, (high - low) / 2, Grade.MEMORY)


def papers_on(
    asked: Asked, function: Function, fitting: str | None
) -> tuple[Document, ...]:
    """The papers that state a level for a function of a unit, or of the doorway."""
    counted = [
        paper
        for paper in asked.doorway.document
        if paper.function == function
        and paper.level is not None
        and paper.about in ("performance level", "type examination")
        and (asked.on is None or paper.dated is None or paper.dated <= asked.on)
    ]
    general = tuple(paper for paper in counted if paper.fitting is None)
    if fitting is not None:
        own = tuple(paper for paper in counted if paper.fitting == fitting)
        return own or general
    opens = [one.id for one in asked.doorway.fitting if function in signals(one)]
    each = [tuple(p for p in counted if p.fitting == one) for one in opens]
    together = tuple(paper for papers in each for paper in papers)
    return general or (together if all(each) else ())


def _asked_level(asked: Asked, function: Function) -> str:
    """The lowest level that meets the rule's rate."""
    limit = asked.rule.limit(LIMITS[function])
    enough = (
        level
        for level, rate in FEWER_THAN.items()
        if at_most(Quantity(rate), limit).outcome is not Outcome.FAILS
    )
    return next(enough, "e")


def _needed(asked: Asked, function: Function) -> Message:
    values = {"level": _asked_level(asked, function)}
    return Message("papers.needed", values)


def _higher(asked: Asked, function: Function) -> Remedy:
    values = {"function": _said(function), "level": _asked_level(asked, function)}
    return Remedy(Message("remedy.wiring.paper", values))


def _said(function: Function) -> Message:
    return Message(f"function.{function}")
