"""What `limen trace` prints, and how it asks."""

from importlib.metadata import version
from pathlib import Path

import typer

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.handing_on import text_of, told_of, write_text
from limen.desk.tracing import (
    TracedCall,
    answered,
    asking_of,
    owed_after,
    write_answers,
)
from limen.exchange import dumps
from limen.exchange.traced import traced_contract
from limen.words import named
from limen.words.tracing import (
    SYMPTOM,
    said,
    said_answer,
    said_ask,
    said_cause,
    said_facts,
    said_likely,
    said_minutes,
    said_why,
)

SHOWN = 4
"""Causes that are listed."""
BACK, STOP = "b", "q"
UNKNOWN, STRUCK = "unknown", "struck"


def as_json(call: TracedCall) -> int:
    """Print it for programs; returns 0: the work is done."""
    values = traced_contract(call.traced, version=version("limen"), doorway=call.name)
    paper().put_text(dumps(values))
    return 0


def as_text(call: TracedCall) -> int:
    """Print it for people; returns 0: the work is done."""
    page = paper()
    page.put(_lines(call, page.width))
    return 0


def described(call: TracedCall, to: Path) -> int:
    """Write the description for whoever is asked next; returns 0: the work is done."""
    told = told_of(call)
    if to == Path("-"):
        paper().put_text(text_of(told).removesuffix("\n"))
    else:
        typer.echo(write_text(told, to))
    return 0


def asked(call: TracedCall, save: Path | None, describe: Path | None = None) -> int:
    """Ask until it is found or nothing is worth asking, then print it; returns 0."""
    page = paper()
    page.put([*wrapped(said("title"), page.width, ink=Ink.STRONG), EMPTY])
    page.put([*wrapped(said("first"), page.width), EMPTY])
    while call.traced.next is not None:
        question = call.traced.next.question
        page.put([*_asking(call, page.width)])
        given = _given(_choices(question))
        if given == STOP:
            break
        if given == BACK:
            call = answered(call, dict(list(call.answers.items())[:-1]))
            continue
        call = answered(call, {**call.answers, question: given})
        page.put([EMPTY])
    page.put(_lines(call, page.width))
    if save is not None:
        typer.echo(write_answers(call, save))
    return described(call, describe) if describe is not None else 0


def _choices(question: str) -> list[str]:
    struck = [STRUCK] if question == SYMPTOM else []
    return [*struck, *asking_of(question).usual]


def _given(choices: list[str]) -> str:
    """What a person picks: a number, Enter for "cannot say", back or stop."""
    while True:
        text = typer.prompt(f"  ({said('how')})", default="", show_default=False)
        match text.strip().lower():
            case "" | "?":
                return UNKNOWN
            case "b" | "q" as word:
                return word
            case number if number.isdigit() and 1 <= int(number) <= len(choices):
                return choices[int(number) - 1]
            case _:
                typer.echo(f"  {said('only', count=str(len(choices)))}", err=True)


def _asking(call: TracedCall, width: int | None) -> list[Line]:
    following = call.traced.next
    if following is None:
        return []
    question = following.question
    lines = wrapped(said_ask(question), width, ink=Ink.STRONG)
    lines += _warned(question, width)
    if not following.first:
        why = said_why(following.parts, first=False)
        lines += wrapped(f"{said_minutes(following.minutes)}. {why}", width, indent=2)
    for number, answer in enumerate(_choices(question), 1):
        text = f"{number}  {said_answer(question, answer)}"
        lines += wrapped(text, width, indent=2, hang=3)
    return lines


def _warned(question: str, width: int | None) -> list[Line]:
    asking = asking_of(question)
    lines = wrapped(said("barrier"), width, indent=2) if asking.barrier else []
    return lines + (wrapped(said("ladder"), width, indent=2) if asking.ladder else [])


# What it comes to ----------------------------------------------------------------


def _lines(call: TracedCall, width: int | None) -> list[Line]:
    lines = wrapped(call.name, width, ink=Ink.STRONG) if call.name else []
    if call.traced.struck:
        return [*lines, *wrapped(said("struck"), width, ink=Ink.FAILS)]
    lines += [*_answers(call, width), *_known(call, width), EMPTY]
    lines += _causes(call, width)
    lines += [EMPTY, *_end(call, width), EMPTY]
    return [*lines, *wrapped(said("caution"), width, ink=Ink.QUIET)]


def _answers(call: TracedCall, width: int | None) -> list[Line]:
    if not call.answers:
        return []
    lines = wrapped(said("asked"), width)
    for question, answer in call.answers.items():
        told = said_answer(question, answer)
        text = said("as_known", question=said_ask(question), answer=told)
        lines += wrapped(f"· {text}", width, indent=2, hang=2)
    return lines


def _known(call: TracedCall, width: int | None) -> list[Line]:
    facts = said_facts(call.door.facts)
    return wrapped(said("from_door", facts="; ".join(facts)), width) if facts else []


def _causes(call: TracedCall, width: int | None) -> list[Line]:
    listed = call.traced.ranked[:SHOWN]
    rows = [
        [Piece(f"  {said_likely(one.p)}"), Piece(said_cause(one.cause))]
        for one in listed
    ]
    head = wrapped(said("likeliest"), width, ink=Ink.STRONG)
    return [*head, *(ln for row in columns(rows, width, ((1, 30),)) for ln in row)]


def _end(call: TracedCall, width: int | None) -> list[Line]:
    found, following = call.traced.found, call.traced.next
    if following is not None:
        question = following.question
        lines = wrapped(said("next", ask=said_ask(question)), width, ink=Ink.STRONG)
        why = said_why(following.parts, first=following.first)
        lines += wrapped(f"{said_minutes(following.minutes)}. {why}", width, indent=2)
        return lines + _warned(question, width)
    if found is None:
        lines = wrapped(said("nothing_left"), width)
        return lines + wrapped(said("nobody_knows"), width)
    lines = wrapped(said("found", cause=said_cause(found)), width, ink=Ink.STRONG)
    lines += wrapped(f"→ {said(f'do.{found}')}", width, indent=2, hang=2)
    owed = said(f"owed.{owed_after(found)}")
    return lines + wrapped(named(said("then"), owed), width, indent=2)
