"""The fault finder as the card takes it along: tables, words, the tests owed."""

from collections.abc import Container, Iterable, Mapping

from limen.desk.callouts import CallOut
from limen.desk.card_pack_shape import Told, Trace, TraceCause, TraceQuestion
from limen.desk.tracing import owed_after
from limen.keep.carried import CarriedCause, CarriedQuestion, carried
from limen.keep.tracing import STRUCK, SYMPTOM, Door
from limen.prove.minimum import Step
from limen.store.causes import known_causes
from limen.words.tracing import said, said_answer, said_ask, said_call, said_cause

AGAIN: Mapping[str, tuple[str, ...]] = {
    "curtain": ("box", "still", "plug"),
    "approach": ("walk",),
    "wiring": ("plug",),
    "opening": ("walk",),
    "drive": ("closing", "trailing"),
    "power": ("power",),
    "all": ("box", "closing", "still", "plug", "walk", "trailing", "power"),
}
"""By what is owed after a cause the groups of tests that stand on the card."""


def trace_of(door: Door, steps: Iterable[Step], told: CallOut | None) -> Trace:
    """The fault finder for one doorway, in the reader's language.

    Args:
        door: what is known of the doorway.
        steps: the tests that may never be left out.
        told: what the desk was told of it that can be gone on with; None if nothing.
    """
    tables, every = carried(known_causes(), door), tuple(steps)
    made = Trace(
        ladder=tables["ladder"],
        known=tables["known"],
        enough=tables["enough"],
        glance=tables["glance"],
        upset=tables["upset"],
        slip=tables["slip"],
        struck=said_answer(SYMPTOM, STRUCK),
        struck_do=said("struck"),
        questions=[_question(one) for one in tables["questions"]],
        causes=[_cause(one, every) for one in tables["causes"]],
    )
    if told is not None:
        made["told"] = _told(told, {one["id"] for one in tables["questions"]})
    return made


def _told(out: CallOut, questions: Container[str]) -> Told:
    """Without what this doorway is not asked any more."""
    call = out.call
    return Told(
        call=out.id,
        says=said_call(out.began, call.person),
        answers={one: given for one, given in call.answers.items() if one in questions},
        cause=call.cause,
    )


def _question(one: CarriedQuestion) -> TraceQuestion:
    name = one["id"]
    warns = [said("barrier")] if one.get("barrier") else []
    warns += [said("ladder")] if one.get("ladder") else []
    words = {answer: said_answer(name, answer) for answer in one["usual"]}
    return TraceQuestion(**one, asks=said_ask(name), words=words, warns=warns)


def _cause(one: CarriedCause, steps: tuple[Step, ...]) -> TraceCause:
    name = one["id"]
    owed = owed_after(name)
    return TraceCause(
        **one,
        named=said_cause(name),
        do=said(f"do.{name}"),
        owed=said(f"owed.{owed}"),
        again=[step.id for step in steps if step.group in AGAIN[owed]],
    )
