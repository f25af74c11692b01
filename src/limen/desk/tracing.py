"""Why a door misbehaves: what its own figures say of it, and what is asked next."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from limen.desk.clock import today
from limen.desk.refusal import Refusal, refusing
from limen.findings import Finding, Study, Verdict

if TYPE_CHECKING:
    from limen.keep.causes import Asking
    from limen.keep.tracing import Door, Traced
    from limen.model.called_out import CalledOut, KnownOf
    from limen.model.doorway import Beside, Doorway, Facing
    from limen.model.site import Site
    from limen.store.sitefile import SiteFile

WORST = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS)
OUTDOORS = {"open": "outdoors", "sheltered": "outdoors", "indoors": "indoors"}


@dataclass(frozen=True, slots=True)
class TracedCall:
    """A call-out and what it comes to.

    Attributes:
        name: the doorway's name, or nothing where none is named.
        door: what counted of the doorway.
        answers: what was answered.
        called: the call-out as it came, its site as it is found from here.
        traced: the causes and what is next.
        study: of the doorway; None where none is named.
        sun: where it stood when it happened; None where that is not known.
        site: the site's name, where one is named.
        table: the doorway as its file has it.
    """

    name: str
    door: "Door"
    answers: dict[str, str]
    called: "CalledOut"
    traced: "Traced"
    study: Study | None = None
    sun: "SunStood | None" = None
    site: str = ""
    table: Mapping[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class SunStood:
    """Where the sun stood before a door.

    Attributes:
        at: when.
        height: above the horizon (rad).
        aside: off straight before the door (rad).
        low: whether it may dazzle the units outside.
    """

    at: datetime
    height: float
    aside: float
    low: bool


def trace_file(
    answers: str | Path | None,
    site: str | Path | None = None,
    doorway: str | None = None,
) -> TracedCall:
    """Study the doorway of a call-out, and weigh what was answered about it.

    Args:
        answers: the call-out file; nothing is answered yet if None.
        site: the site file, before the one that the call-out file names.
        doorway: id of the doorway, likewise.

    Raises:
        Refusal: whatever cannot be used, all of it together.
    """
    from limen.model.called_out import CalledOut
    from limen.store.callfile import read_call
    from limen.store.causes import known_causes

    called, named = CalledOut(), None
    if answers is not None:
        with refusing():
            call = read_call(answers, known_causes())
        called, named = call.called, call.site
    place = Path(site) if site is not None else named
    file = None if place is None else _file(place)
    wanted = doorway or called.doorway
    named_so = {"site": None if place is None else str(place), "doorway": wanted}
    called = called.model_copy(update=named_so)
    if file is None and wanted is not None:
        raise Refusal([f"doorway {wanted}: name the site file it stands in as well"])
    if file is None:
        return traced(None, None, called)
    door = _doorway(file.site, wanted)
    (table,) = (
        one for one in tomllib.loads(file.text)["doorway"] if one["id"] == door.id
    )
    return replace(traced(file.site, door, called), site=file.site.name, table=table)


def answered(call: TracedCall, answers: Mapping[str, str]) -> TracedCall:
    """The same doorway with other answers."""
    from limen.keep.tracing import trace
    from limen.store.causes import known_causes

    found = trace(known_causes(), call.door, answers)
    return replace(call, answers=dict(answers), traced=found)


def traced(
    site: "Site | None",
    doorway: "Doorway | None",
    called: "CalledOut",
    study: Study | None = None,
) -> TracedCall:
    """Weigh what was answered about a doorway.

    Args:
        site: its site, where there is one.
        doorway: the doorway, where it is known.
        called: what is known beside it, and the answers.
        study: of the doorway, where it is studied already.
    """
    from limen.keep.tracing import trace
    from limen.store.causes import known_causes

    sun = None
    if site is not None and doorway is not None:
        study = study or _studied(site, doorway, called.at)
        sun = _sun(site, doorway, called.at)
    door = _door(site, doorway, called.door, study, sun)
    found = trace(known_causes(), door, called.answers)
    name = doorway.name if doorway else ""
    return TracedCall(name, door, dict(called.answers), called, found, study, sun)


def write_answers(call: TracedCall, path: Path) -> Path:
    """Write a call-out file with these answers; one that is there stays as it is.

    Raises:
        Refusal: there is such a file, or it cannot be written.
    """
    import tomlkit

    kept = call.called.model_copy(update={"answers": call.answers})
    values = kept.model_dump(mode="json", exclude_none=True, exclude_defaults=True)
    with refusing(), path.open("x", encoding="utf-8") as file:
        file.write(tomlkit.dumps(values))
    return path


def asking_of(question: str) -> "Asking":
    """One question, with its answers."""
    from limen.store.causes import known_causes

    return known_causes().by_id[question]


def ruled_out(call: TracedCall) -> tuple[tuple[str, str], ...]:
    """Causes that answers have ruled out, each with the question that did most."""
    from limen.keep.tracing import ruled_out as out
    from limen.store.causes import known_causes

    return out(known_causes(), call.door, call.answers)


def left_of(call: TracedCall) -> tuple[str, ...]:
    """The causes of which it is one as surely as is enough to act on."""
    from limen.keep.tracing import leading
    from limen.store.causes import known_causes

    return leading(known_causes(), call.traced)


def others_of(call: TracedCall) -> "tuple[Asking, ...]":
    """Questions that fit the doorway and are neither answered nor the next one."""
    from limen.store.causes import known_causes

    following = call.traced.next.question if call.traced.next else None
    return tuple(
        one
        for one in known_causes().asked
        if one.id not in call.answers
        and one.id != following
        and (one.needs is None or one.needs in call.door.has)
    )


def weighs(call: TracedCall) -> tuple[Finding, ...]:
    """Findings of the doorway that make a cause likelier: what fails, then doubts."""
    from limen.keep.tracing import SAID_BY

    every = call.study.findings if call.study else ()
    asked = {question for some in SAID_BY.values() for question in some}
    bad = [one for one in every if one.question in asked]
    fails = (one for one in bad if one.verdict is Verdict.FAILS)
    doubts = (one for one in bad if one.verdict is Verdict.NOT_SHOWN)
    return (*fails, *doubts)


def owed_after(cause: str) -> str:
    """The group of tests that are owed once a cause is mended."""
    from limen.store.causes import known_causes

    return {one.id: one.owed for one in known_causes().causes}[cause]


# The doorway ---------------------------------------------------------------------


def _file(path: Path) -> "SiteFile":
    from limen.desk.sites import read

    return read(path)


def _doorway(site: "Site", wanted: str | None) -> "Doorway":
    doors = {one.id: one for one in site.doorway}
    if wanted is None and len(doors) == 1:
        return site.doorway[0]
    if wanted in doors:
        return doors[wanted]
    names = ", ".join(doors)
    if wanted is None:
        raise Refusal([f"say which doorway misbehaves: doorway = … one of {names}"])
    raise Refusal([f"the site has no doorway {wanted}; it has {names}"])


def _door(
    site: "Site | None",
    doorway: "Doorway | None",
    known: "KnownOf",
    study: Study | None,
    sun: SunStood | None,
) -> "Door":
    from limen.keep.tracing import Door

    if site is None or doorway is None:
        has = known.has or ("presence", "motion", "lock", "battery", "neighbour")
        return Door(frozenset(has), frozenset(_said(known)))
    has = frozenset(known.has or _has(site, doorway))
    facts = [*_facts(study.findings if study else ()), *_stands(doorway)]
    if sun is not None:
        facts.append(f"low_sun={'true' if sun.low else 'false'}")
    return Door(has, frozenset((*facts, *_said(known))))


def _has(site: "Site", doorway: "Doorway") -> Iterator[str]:
    sheets = [one.unit for one in doorway.fitting if one.unit is not None]
    if any(one.presence is not None for one in sheets):
        yield "presence"
    if any(one.motion is not None for one in sheets):
        yield "motion"
    yield "lock"
    loss = doorway.power_loss
    if doorway.use.escape_route is not False or (loss and loss.by == "battery"):
        yield "battery"
    named = {one.doorway for other in site.doorway for one in _by(other)}
    if _by(doorway) or doorway.id in named:
        yield "neighbour"


def _by(doorway: "Doorway") -> "tuple[Facing | Beside, ...]":
    return (*doorway.facing, *doorway.beside)


def _studied(site: "Site", doorway: "Doorway", at: datetime | None) -> Study:
    from limen.desk.shelves import DEFAULT, judging, shelf
    from limen.study import study

    (book,) = judging([doorway], shelf(), site.rulebook or DEFAULT, None)
    day = at.date() if at else today()
    return study(doorway, book, on=day, site=site, version=version("limen"))


def _facts(findings: Iterable[Finding]) -> Iterator[str]:
    """The worst answer to each question that bears on a cause."""
    from limen.keep.tracing import SAID_BY

    every = tuple(findings)
    for fact, questions in SAID_BY.items():
        verdicts = {one.verdict for one in every if one.question in questions}
        worst = next((one for one in WORST if one in verdicts), None)
        if worst is not None:
            yield f"{fact}={worst.value}"


def _stands(doorway: "Doorway") -> Iterator[str]:
    outside = doorway.exposure.outside
    if outside is not None:
        yield f"place={OUTDOORS[outside]}"
    if doorway.use.escape_route:
        yield "escape=true"


def _sun(site: "Site", doorway: "Doorway", at: datetime | None) -> SunStood | None:
    """Where the sun stood before the door, where hour and place are known."""
    faces, where = doorway.exposure.faces, (site.latitude, site.longitude)
    if at is None or at.tzinfo is None or faces is None or None in where:
        return None
    from limen.physics.sun import aside, is_low, sun_at

    latitude, longitude = (one.value for one in where if one is not None)
    sun = sun_at(latitude, longitude, at)
    low = is_low(sun, faces.value)
    return SunStood(at, sun.height, aside(sun, faces.value), low)


def _said(known: "KnownOf") -> Iterator[str]:
    if known.place is not None:
        yield f"place={known.place}"
    yield from (f"changed={one}" for one in known.changed)
