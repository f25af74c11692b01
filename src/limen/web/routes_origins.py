"""Where a figure of the doorway page comes from, in a small panel."""

from dataclasses import dataclass, replace
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response

from limen.desk.due_known import known_study_of
from limen.desk.fact_words import said_choice, said_fact
from limen.desk.facts import Fact
from limen.desk.library import open_site
from limen.desk.origins import (
    FactOrigin,
    FindingOrigin,
    LimitOrigin,
    origin_of_fact,
    origin_of_finding,
)
from limen.desk.refusal import Refusal
from limen.findings import Assumed, Finding, Measure, Message
from limen.quantity import Show
from limen.web.doorway_lines import found, id_of, line
from limen.web.facts_shown import id_of as field_id
from limen.web.pages import by_htmx, desk_of, for_people, look_at, page
from limen.words import (
    apart,
    said_clause,
    say,
    say_measure,
    say_quantity,
    say_question,
    say_unit,
    say_word,
    unbroken,
)

SiteId = Annotated[str, Path(max_length=60)]
DoorId = Annotated[str, Path(max_length=60)]
Wanted = Annotated[str, Query(max_length=200)]


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure with its origin, in words.

    Attributes:
        name: what it is.
        value: value and uncertainty.
        origin: where it comes from.
        grade: how well it is known.
        marks: what else is to be said of it.
        note: what a reader should know about it.
        where: where it is typed; empty where it is no fact.
    """

    name: str
    value: str
    origin: str = ""
    grade: str = ""
    marks: tuple[str, ...] = ()
    note: str = ""
    where: str = ""


def origin_routes() -> APIRouter:
    """The routes of origins."""
    routes = APIRouter(prefix="/sites/{site_id}/doorways/{door}/origins")
    routes.get("", response_class=HTMLResponse)(shown)
    return routes


def shown(
    request: Request,
    site_id: SiteId,
    door: DoorId,
    finding: Wanted = "",
    key: Wanted = "",
) -> Response:
    """Where a finding's figures come from, or one fact, and what rests on it."""
    desk = desk_of(request)
    opened = open_site(desk, site_id)
    address = f"/sites/{site_id}/doorways/{door}"
    if key:
        fact = origin_of_fact(desk, opened, door, key)
        body = _of_fact(fact, look_at(request).system, address)
    else:
        one = found(known_study_of(desk, opened, door).study, finding)
        if one is None:
            said = Message("facts.refused.finding", {"finding": finding[:80]})
            raise Refusal([say(said)])
        rests = origin_of_finding(desk, opened, door, one)
        body = _of_finding(rests, look_at(request).system, address)
    if not for_people(request):
        return JSONResponse(_plain(body))
    template = "origins_panel.html" if by_htmx(request) else "origins.html"
    context = {**body, "address": address, "door": opened.doorway(door)}
    return page(request, template, context)


def _of_fact(one: FactOrigin, system: Show, address: str) -> dict[str, Any]:
    fact, unknown = one.fact, one.unknown
    taken = [_taken(each, system) for each in unknown.assumed] if unknown else []
    lacks = unknown.lacks if unknown else []
    return {
        "title": said_fact(fact.told),
        "verdict": "",
        "figures": [replace(_stated(fact, system), name=_word("value"))],
        "limits": [],
        "assumed": taken,
        "lacking": [(say(each, system=system), "") for each in lacks],
        "rests": [_rests(each, address) for each in one.findings],
        "looks": True,
        "facts": [],
        "sheets": [],
        "remedy": "",
        "owed": [],
        "change": _where(fact, address),
    }


def _of_finding(one: FindingOrigin, system: Show, address: str) -> dict[str, Any]:
    finding = one.finding
    shown = line(finding, system)
    return {
        "title": shown.name if not shown.where else f"{shown.name}, {shown.where}",
        "verdict": finding.verdict.value,
        "word": shown.word,
        "figures": list(_computed(finding, system)),
        "limits": _noted_once([_limit(each, system) for each in one.limits]),
        "assumed": [_taken(each, system) for each in finding.assumed],
        "lacking": [(say(e.message, system=system), e.key) for e in finding.lacking],
        "rests": [],
        "looks": False,
        "facts": [
            replace(_stated(each, system), where=_where(each, address))
            for each in one.facts
        ],
        "sheets": [
            (say_unit(each.fitting), each.sheet, each.key) for each in one.sheets
        ],
        "remedy": say(finding.remedy.message, system=system) if finding.remedy else "",
        "owed": [say(each, system=system) for each in finding.owed],
        "change": f"{address}/facts",
    }


def _where(fact: Fact, address: str) -> str:
    """Where a fact is typed, among all of the doorway."""
    return f"{address}/facts#{field_id('f', '.'.join(map(str, fact.way)))}"


def _computed(finding: Finding, system: Show) -> list[Figure]:
    figures: list[Figure] = []
    for name, message in (("needed", finding.needed), ("found", finding.found)):
        if message:
            figures.append(Figure(_word(name), unbroken(say(message, system=system))))
    if finding.margin:
        room = finding.margin
        value = say_measure(Measure(room.value, room.dimension), system)
        doubt = say_measure(Measure(room.u, room.dimension), system)
        said = f"{value} ± {doubt}" if room.u else value
        figures.append(Figure(_word("margin"), unbroken(said), _word("margin_how")))
    return figures


def _stated(fact: Fact, system: Show) -> Figure:
    """A fact as it is typed, in the reader's units too, with its grade."""
    name = said_fact(fact.told)
    if not fact.stated:
        return Figure(name, _word("not_stated"))
    found = fact.quantity
    if found is None:
        words = fact.values
        if fact.told.kind in ("choice", "choices"):
            words = tuple(said_choice(one, fact.told.model) for one in words)
        elif fact.told.kind == "flag":
            words = (say(Message(f"facts.{'yes' if words == ('true',) else 'no'}")),)
        return Figure(name, apart(words), _origin(fact))
    said = say_quantity(*found, system)
    typed = fact.values[0]
    value = typed if said == typed else f"{typed} = {said}"
    grade = say_word("grade", str(found[0].grade))
    return Figure(name, unbroken(value), _origin(fact), grade)


def _origin(fact: Fact) -> str:
    key = {"read": "read_on_site", "settings": "set"}
    within = next((key[one] for one in map(str, fact.way) if one in key), "file")
    return _word(within)


def _limit(one: LimitOrigin, system: Show) -> Figure:
    value = _word("no_figure")
    if one.value is not None and one.dimension is not None:
        value = say_quantity(one.value, one.dimension, system)
    marks = [_word("own")] if one.own else []
    marks += [_word("confirm")] if one.to_confirm else []
    origin = f"{say(said_clause(one.document, one.clause))} · {one.edition}"
    grade = say_word("grade", str(one.grade)) if one.value is not None else ""
    return Figure(one.name, unbroken(value), origin, grade, tuple(marks), one.note)


def _noted_once(figures: list[Figure]) -> list[Figure]:
    """Figures with a note that several of them have said once."""
    seen: set[str] = set()
    once: list[Figure] = []
    for one in figures:
        once.append(replace(one, note="") if one.note in seen else one)
        seen.add(one.note)
    return once


def _taken(one: Assumed, system: Show) -> Figure:
    value = one.value
    said = say_measure(value, system) if isinstance(value, Measure) else value
    grade = say_word("grade", str(one.grade))
    return Figure(say(one.why, system=system), unbroken(said), "", grade)


def _rests(finding: Finding, address: str) -> tuple[str, str, str, str]:
    word = say(Message(f"verdict.{finding.verdict.value}"))
    where = f"{address}?{urlencode({'finding': id_of(finding)})}"
    return finding.verdict.value, say_question(finding.question), word, where


def _word(key: str) -> str:
    return say(Message(f"facts.origin.{key}"))


def _plain(body: dict[str, Any]) -> dict[str, Any]:
    """The same for programs."""

    def told(one: object) -> object:
        if not isinstance(one, Figure):
            return one
        return {
            "name": one.name,
            "value": one.value,
            "origin": one.origin,
            "grade": one.grade,
            "marks": list(one.marks),
            "note": one.note,
        }

    lists = ("figures", "limits", "assumed", "facts")
    return {
        key: [told(one) for one in value] if key in lists else value
        for key, value in body.items()
    }
