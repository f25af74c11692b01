"""A library of very many doorways, made quickly: texts that can be read, visits too.

What studies come to is drawn, not studied: ten thousand studies take a quarter of an
hour, and a list asks only for what they came to.  All else is what limen writes.
"""

import json
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any

from sqlalchemy import insert, select

from builders.visit_events import STARTED, name
from limen.desk.doors_kept import ALL, refresh, write_checks
from limen.desk.library import Desk, open_desk
from limen.desk.library_known import DoorLine, Remembered, basis, lasting_basis
from limen.exchange import Tally
from limen.store.database.connecting import writing
from limen.store.database.doors import DoorStudied, put_studied, unread_sites
from limen.store.database.listing import Known, know
from limen.store.database.tables import DOOR, DOOR_SITE, SITE, VERSION, VISIT_EVENT
from limen.store.editing import digest

TOWNS = ("Alder Quay", "Birch Hill", "Cold Spring", "Dunmere", "Elm Cross", "Fenwick")
PEOPLE = ("R. Okafor", "M. Lind", "T. Arden")
KINDS = ("library", "clinic", "school", "market hall", "station", "office")
PLACES = ("Main entrance", "Inner door", "Staff door", "North door", "Yard door")
STATES = ("in use", "in use", "in use", "in use with defects", "out of use")
QUESTIONS = (
    "presence.threshold",
    "presence.leaf_path",
    "presence.side_screen",
    "presence.self_view",
    "approach.opens_in_time",
    "approach.minimum_zone",
    "leaf.closing_energy",
    "leaf.closing_force",
    "leaf.stops_in_time",
    "wiring.inputs",
    "wiring.supply",
    "mounting.height",
    "site.obstacles",
    "site.marking",
)
DOOR_TEXT = """
[[doorway]]
id = "door-{number}"
name = "{name}"
commissioned = {commissioned}
clear_width = "{width} mm"
clear_height = "2100 mm"
header = {{ outside = "100 mm", inside = "100 mm" }}
reveal = {{ outside = "0 mm", inside = "0 mm" }}
kept = {{ checked = {checked} }}

[doorway.leaves]
kind = "bi-parting"
thickness = "40 mm"
"""


def filled(path: Path, sites: int, doors: int, visits: int, day: date) -> Desk:
    """A library with so many sites, doorways and visits in all, opened.

    Args:
        path: the database file; it is not there yet.
        sites: how many.
        doors: how many in all.
        visits: how many in all.
        day: what day it is.
    """
    desk, draw = open_desk(path, today=lambda: day), Random(7)
    each = doors // sites
    _sites(desk, draw, sites, each, day)
    _visits(desk, draw, sites, each, visits, day)
    assert refresh(desk, 10**6, ALL)
    assert not unread_sites(desk.library)
    _studies(desk, draw, day)
    return desk


def _sites(desk: Desk, draw: Random, sites: int, each: int, day: date) -> None:
    rows: list[dict[str, Any]] = []
    for number in range(sites):
        town, kind = draw.choice(TOWNS), draw.choice(KINDS)
        called = f"{town} {kind} {number}"
        text = "".join(_text(called, town, each, draw, day))
        rows.append({"id": site_id(number), "name": called, "text": text})
    kept = [
        {"id": one["id"], "name": one["name"], "version": 1, "archived": False}
        for one in rows
    ]
    texts = [
        {
            "site": one["id"],
            "number": 1,
            "name": one["name"],
            "text": one["text"],
            "digest": digest(one["text"]),
            "why": "added",
            "changed": f"{day}T08:00:00+00:00",
            "origin": 1,
            "parent": None,
        }
        for one in rows
    ]
    with writing(desk.library.engine).begin() as connection:
        connection.execute(insert(SITE), kept)
        connection.execute(insert(VERSION), texts)


def site_id(number: int) -> str:
    """What a site is called in addresses."""
    return f"site-{number}"


def _text(called: str, town: str, each: int, draw: Random, day: date) -> Iterator[str]:
    book = draw.choice(("en", "us"))
    yield f'name = "{called}"\nplace = "{town}"\nrulebook = "{book}"\n'
    yield f'kept = {{ by = "{draw.choice(PEOPLE)}", route = "{town} loop" }}\n'
    for number in range(each):
        yield DOOR_TEXT.format(
            number=number,
            name=f"{draw.choice(PLACES)} {number + 1}",
            commissioned=day - timedelta(draw.randrange(400, 4000)),
            checked=day - timedelta(draw.randrange(1, 400)),
            width=draw.randrange(900, 2600, 50),
        )


def _visits(
    desk: Desk, draw: Random, sites: int, each: int, visits: int, day: date
) -> None:
    rows: list[dict[str, Any]] = []
    for number in range(visits):
        site, door = number % sites, number // sites % each
        begun = day - timedelta(draw.randrange(0, 2000))
        rows += _visit(number, site_id(site), f"door-{door}", begun, draw)
    with writing(desk.library.engine).begin() as connection:
        connection.execute(insert(VISIT_EVENT), rows)


def _visit(
    number: int, site: str, door: str, begun: date, draw: Random
) -> Iterator[dict[str, Any]]:
    """A visit of four events of a phone of its own."""
    state, phone = draw.choice(STATES), f"phone-{number}"
    told = {"state": state, "told": "A. Keeper"}
    said = [
        ("started", STARTED),
        ("step", {"step": "box.left", "answer": "stayed open"}),
        ("note", {"text": "Guide cleaned"}),
        ("handed_over", told),
    ]
    visit = name(f"visit-{number}", 0)
    for seq, (kind, what) in enumerate(said, 1):
        event = {
            "id": name(phone, seq),
            "device": phone,
            "seq": seq,
            "visit": visit,
            "site": site,
            "doorway": door,
            "at": f"{begun}T10:{seq:02}:00Z",
            "kind": kind,
            "said": what,
        }
        kept = {key: value for key, value in event.items() if key not in ("at", "said")}
        yield {**kept, "text": json.dumps(event), "came": f"{begun}T11:00:00+00:00"}


def _studies(desk: Desk, draw: Random, day: date) -> None:
    rows = (
        select(
            DOOR.c.site, DOOR.c.doorway, DOOR.c.name, DOOR.c.place, DOOR_SITE.c.digest
        )
        .join(DOOR_SITE, DOOR_SITE.c.site == DOOR.c.site)
        .order_by(DOOR.c.site, DOOR.c.number)
    )
    with desk.library.engine.connect() as connection:
        found = connection.execute(rows).all()
    key = lasting_basis(desk)
    drawn = {
        (row.site, row.doorway): _study(row.digest, key, draw, day) for row in found
    }
    put_studied(desk.library, drawn)
    lines: dict[str, list[DoorLine]] = {}
    sites = {row.site: (row.place, row.digest) for row in found}
    for row in found:
        one = drawn[row.site, row.doorway]
        counts = Tally(one.mend, one.measure, one.office, 0)
        lines.setdefault(row.site, []).append(DoorLine(row.doorway, row.name, counts))
    for site, (place, text) in sites.items():
        _known(
            desk, site, text, Remembered(place, tuple(lines[site]), _sum(lines[site]))
        )


def _study(text: str, key: str, draw: Random, day: date) -> DoorStudied:
    answers = {
        question: draw.choice(("fails", "not shown", "not shown", "advised"))
        for question in QUESTIONS
        if draw.random() < 0.4
    }
    fails = [one for one in answers.values() if one == "fails"]
    return DoorStudied(
        digest=text,
        key=key,
        studied=day.isoformat(),
        judged=True,
        mend=len(fails),
        measure=draw.choice((0, 0, 1, 3)),
        office=draw.randrange(6),
        due_must=True,
        answers=answers,
    )


def _sum(lines: Sequence[DoorLine]) -> Tally:
    every = [one.tally for one in lines if one.tally]
    return Tally(
        sum(one.mend for one in every),
        sum(one.measure for one in every),
        sum(one.office for one in every),
        0,
    )


def _known(desk: Desk, site: str, text: str, what: Remembered) -> None:
    from dataclasses import asdict

    know(desk.library, site, Known(text, basis(desk), json.dumps(asdict(what))))


def restudied(desk: Desk, day: date) -> None:
    """Draw again what studies come to, where what they rest on has changed since.

    So it is when a part of limen was written anew: the checks are worked out again too.
    """
    first = select(DOOR.c.key).limit(1)
    with desk.library.engine.connect() as connection:
        key = connection.scalar(first)
    if key != lasting_basis(desk):
        _studies(desk, Random(7), day)
        write_checks(desk, None)
