"""Why a door misbehaves: what its own figures say of it, and what is asked next."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.refusal import Refusal, refusing
from limen.findings import Finding, Verdict

if TYPE_CHECKING:
    from limen.keep.causes import Asking
    from limen.keep.tracing import Door, Traced
    from limen.model.called_out import CalledOut, KnownOf
    from limen.model.doorway import Beside, Doorway, Facing
    from limen.model.site import Site

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
    """

    name: str
    door: "Door"
    answers: dict[str, str]
    called: "CalledOut"
    traced: "Traced"


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
            file = read_call(answers, known_causes())
        called, named = file.called, file.site
    place = Path(site) if site is not None else named
    found = None if place is None else _site(place)
    wanted = doorway or called.doorway
    named_so = {"site": None if place is None else str(place), "doorway": wanted}
    called = called.model_copy(update=named_so)
    if found is None and wanted is not None:
        raise Refusal([f"doorway {wanted}: name the site file it stands in as well"])
    door = None if found is None else _doorway(found, wanted)
    return traced(found, door, called)


def answered(call: TracedCall, answers: Mapping[str, str]) -> TracedCall:
    """The same doorway with other answers."""
    from limen.keep.tracing import trace
    from limen.store.causes import known_causes

    found = trace(known_causes(), call.door, answers)
    return replace(call, answers=dict(answers), traced=found)


def traced(
    site: "Site | None", doorway: "Doorway | None", called: "CalledOut"
) -> TracedCall:
    """Weigh what was answered about a doorway.

    Args:
        site: its site, where there is one.
        doorway: the doorway, where it is known.
        called: what is known beside it, and the answers.
    """
    from limen.keep.tracing import trace
    from limen.store.causes import known_causes

    door = _door(site, doorway, called)
    found = trace(known_causes(), door, called.answers)
    name = doorway.name if doorway else ""
    return TracedCall(name, door, dict(called.answers), called, found)


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


def owed_after(cause: str) -> str:
    """The group of tests that are owed once a cause is mended."""
    from limen.store.causes import known_causes

    return {one.id: one.owed for one in known_causes().causes}[cause]


# The doorway ---------------------------------------------------------------------


def _site(path: Path) -> "Site":
    from limen.desk.sites import read

    return read(path).site


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
    site: "Site | None", doorway: "Doorway | None", called: "CalledOut"
) -> "Door":
    from limen.keep.tracing import Door

    known = called.door
    if site is None or doorway is None:
        has = known.has or ("presence", "motion", "lock", "battery", "neighbour")
        return Door(frozenset(has), frozenset(_said(known)))
    has = frozenset(known.has or _has(site, doorway))
    studied = _studied(site, doorway, called.at)
    sun = _sun(site, doorway, called.at)
    facts = [*_facts(studied), *_stands(doorway), *sun, *_said(known)]
    return Door(has, frozenset(facts))


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


def _studied(
    site: "Site", doorway: "Doorway", at: datetime | None
) -> tuple[Finding, ...]:
    from limen.desk.shelves import DEFAULT, judging, shelf
    from limen.study import study

    (book,) = judging([doorway], shelf(), site.rulebook or DEFAULT, None)
    day = at.date() if at else today()
    found = study(doorway, book, on=day, site=site, version=version("limen"))
    return found.findings


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


def _sun(site: "Site", doorway: "Doorway", at: datetime | None) -> Iterator[str]:
    """Whether the sun stood low before the door, where hour and place are known."""
    faces, where = doorway.exposure.faces, (site.latitude, site.longitude)
    if at is None or at.tzinfo is None or faces is None or None in where:
        return
    from limen.physics.sun import is_low, sun_at

    latitude, longitude = (one.value for one in where if one is not None)
    low = is_low(sun_at(latitude, longitude, at), faces.value)
    yield f"low_sun={'true' if low else 'false'}"


def _said(known: "KnownOf") -> Iterator[str]:
    if known.place is not None:
        yield f"place={known.place}"
    yield from (f"changed={one}" for one in known.changed)
