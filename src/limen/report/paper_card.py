"""The job card on paper: one page a doorway, two at most."""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from importlib.resources import files
from pathlib import Path
from typing import TypeVar

from limen.draw.box_places import BoxPlace, Floor, box_places
from limen.draw.themes import PLAIN
from limen.findings import Message
from limen.findings.message import length
from limen.report.contents import PaperName
from limen.report.pdf import PAPERS, ReportError, said_error
from limen.report.tongue import Plain, Tongue
from limen.words import catalogue, say_unit, unbroken

_HERE = files("limen.report")
_FONTS = Path(str(_HERE.joinpath("fonts")))
_PARTS = ("look", "card")
_FOUND = {"new": "new", "existing": "existing", "called out": "called"}
MOST_PAGES = 2
LEAST = 6
"""Steps by which something is left out until a doorway has its two pages: causes; large
letters; how a box is put where all are put alike; places beyond the fourth; what is
said of work; readings, which have a sheet of their own."""
LEAST_HIGH = 58.0
"""Of the drawing of places, so that it can be read (mm)."""
Made = TypeVar("Made")
When = TypeVar("When")
BASE = "paper_card."
NEAREST = 0.0005
"""What is nearer to a post than anybody can tape stands at it (m)."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading that is asked for.

    Attributes:
        name: its number.
        ask: which it is: ``row line.left``.
        post: the post from which it is taped, seen from outside: left or right.
        line: whether it is taped out from the leaf face too.
    """

    name: str
    ask: str
    post: str
    line: bool


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit and what is read at it."""

    fitting: str
    sheet: str
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """One piece of work in its order.

    Attributes:
        title: what is done.
        says: how; may be long.
        found: how the door was met where it is done; always if empty.
    """

    title: str
    says: str
    found: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """Where a test's box goes, in the doorway's frame.

    Attributes:
        x, y, yaw: its middle (m) and turn (rad).
        width, depth: of its footprint (m).
        far: from the nearer post to its nearest point (m), negative past the post.
        lying: whether the body lies.
    """

    x: float
    y: float
    yaw: float
    width: float
    depth: float
    far: float
    lying: bool


@dataclass(frozen=True, slots=True)
class Test:
    """One test, in the words of the card.

    Attributes:
        title: what is done.
        says: where and how; may be long.
        minimum: whether it may never be skipped.
        place: where the box goes; None where none is put.
        alike: whether it is done as every box, which stands on the page once.
        causes: what to look for if it fails, each with what to turn.
    """

    title: str
    says: str
    minimum: bool
    place: Place | None
    alike: bool = False
    causes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """One doorway's card.

    Attributes:
        door: as people say it.
        half: half of the clear width (m).
        leaf: half of the leaves' thickness (m).
        version, digest: which text of the site it was made of.
        safety: what comes before all else.
        units: what is read at each.
        targets: where each row must land, and what is to be turned.
        work: in its order.
        after: work that follows the tests.
        tests: those never skipped first, then the best further places.
        steps, minutes: of a yearly visit.
    """

    door: str
    half: float
    leaf: float
    version: int
    digest: str
    safety: str
    units: tuple[Unit, ...]
    targets: tuple[str, ...]
    work: tuple[Work, ...]
    after: tuple[Work, ...] = ()
    tests: tuple[Test, ...]
    steps: int
    minutes: int


def paper_card(
    cards: Sequence[Card], *, site: str, on: date, paper: PaperName, tongue: Tongue
) -> bytes:
    """Set the cards of doorways as one PDF.

    Args:
        cards: the doorways.
        site: the building.
        on: the day as of which they are planned so.
        paper: the size of the pages.
        tongue: the reader's language and units.

    Raises:
        ReportError: a character of the site file is in none of the fonts.
    """
    drawn: dict[str, bytes] = {}
    doors = [_door(one, f"{n}", tongue, drawn) for n, one in enumerate(cards)]
    fixed: Plain = {
        "words": _fixed(tongue),
        "inks": dict(PLAIN),
        "language": tongue.language,
        "paper": PAPERS[paper][0],
        "day": [on.year, on.month, on.day],
        "site": _said(tongue, "site", site=site, day=tongue.day(on)),
    }
    only = cards[0].door if len(cards) == 1 else None
    head = {"door": only} if only else {"site": site}
    title = _said(tongue, "title" if only else "file", **head)
    fitted = [_fitted(one, {**fixed, "title": title}, drawn, tongue) for one in doors]
    values = {**fixed, "title": title, "doors": fitted}
    return _asked(_set, _inputs(values, drawn), on, tongue)


def _fitted(
    door: Plain, fixed: Plain, drawn: dict[str, bytes], tongue: Tongue
) -> Plain:
    """A doorway with as much as two pages take: causes go first, then explanations."""
    for level in range(LEAST + 1):
        door = {**door, "level": level}
        inputs = _inputs({**fixed, "doors": [door]}, drawn)
        if _asked(_fits, inputs, None, tongue):
            break
    return door


def _door(card: Card, file: str, tongue: Tongue, drawn: dict[str, bytes]) -> Plain:
    numbered = [(f"{n}", one) for n, one in enumerate(card.tests, 1)]
    floor = _floor(card, tongue)
    if floor.places:
        drawn[f"{file}.svg"] = box_places(floor).encode()
    minimum = [_test(n, one) for n, one in numbered if one.minimum]
    extra = [_test(n, one) for n, one in numbered if not one.minimum]
    short = {"version": card.version, "digest": card.digest[:8]}
    budget = {"steps": card.steps, "minutes": card.minutes}
    return {
        "title": _said(tongue, "title", door=card.door),
        "version": _said(tongue, "version", **short),
        "safety": card.safety,
        "units": [_unit(one, tongue) for one in card.units],
        "targets": list(card.targets),
        "work": [_work(one, tongue) for one in card.work],
        "after": [_work(one, tongue) for one in card.after],
        "places": f"{file}.svg" if floor.places else "",
        "says": floor.says,
        "minimum": minimum,
        "extra": extra,
        "budget": _said(tongue, "budget", **budget),
        "causes": [
            {"name": number, "causes": list(one.causes)}
            for number, one in numbered
            if one.causes
        ],
    }


def _work(one: Work, tongue: Tongue) -> Plain:
    names = [_said(tongue, _FOUND[each]) for each in one.found]
    return {"title": one.title, "says": one.says, "found": " · ".join(names)}


def _test(number: str, one: Test) -> Plain:
    return {
        "name": number,
        "title": one.title,
        "says": one.says,
        "alike": one.alike,
    }


def _unit(one: Unit, tongue: Tongue) -> Plain:
    named = say_unit(one.fitting, language=tongue.language)
    return {
        "title": _said(tongue, "unit", unit=named, sheet=one.sheet),
        "readings": [_reading(each, tongue) for each in one.readings],
    }


def _reading(one: Reading, tongue: Tongue) -> Plain:
    post = Message(f"readings_page.drawn.post.{one.post}")
    return {
        "name": one.name,
        "what": tongue.say(Message(f"readings_page.ask.{one.ask}")),
        "line": one.line,
        "post": tongue.say(Message("readings_page.paper.from_post", {"post": post})),
    }


def _floor(card: Card, tongue: Tongue) -> Floor:
    places = tuple(_box(name, one, tongue) for name, one in _placed(card.tests))
    drawn = "readings_page.drawn."
    words = {
        name: tongue.say(Message(f"{drawn}{name}"))
        for name in ("outside", "inside", "left_post", "right_post")
    }
    return Floor(
        half=card.half,
        leaf=card.leaf,
        places=places,
        says=_said(tongue, "places_says", count=len(places)),
        outside=words["outside"],
        inside=words["inside"],
        left=words["left_post"],
        right=words["right_post"],
    )


def _placed(tests: Sequence[Test]) -> list[tuple[str, Place]]:
    """Each place with the numbers of the tests that are done there."""
    names: dict[Place, list[str]] = {}
    for number, one in enumerate(tests, 1):
        if one.place is not None:
            names.setdefault(one.place, []).append(f"{number}")
    return [(", ".join(numbers), place) for place, numbers in names.items()]


def _box(name: str, one: Place, tongue: Tongue) -> BoxPlace:
    far = 0.0 if abs(one.far) < NEAREST else abs(one.far)
    said = tongue.say(Message("report.length", {"far": length(far)}))
    return BoxPlace(name, one.x, one.y, one.yaw, one.width, one.depth, said, one.lying)


def _fixed(tongue: Tongue) -> dict[str, str]:
    """Every sentence of the card that has no gaps, by its last name."""
    words = catalogue(tongue.language)
    return {key.removeprefix(BASE): words.sentence(key) for key in words.under(BASE)}


def _said(tongue: Tongue, key: str, **values: str | int) -> str:
    return tongue.say(Message(f"{BASE}{key}", values))


def _inputs(values: Plain, drawn: dict[str, bytes]) -> dict[str, bytes]:
    pages = _HERE.joinpath("pages")
    inputs = {f"{one}.typ": pages.joinpath(f"{one}.typ").read_bytes() for one in _PARTS}
    inputs["main"] = inputs.pop("card.typ")
    text = unbroken(json.dumps(values, ensure_ascii=False))
    return {**inputs, **drawn, "data.json": text.encode()}


def _fits(inputs: dict[str, bytes], _on: None) -> bool:
    """Whether a doorway has its two pages, and its drawing room enough."""
    pages = _told(inputs, "<pages>")
    high = _told(inputs, "<high>")
    return pages[0] <= MOST_PAGES and all(one >= LEAST_HIGH for one in high)


def _told(inputs: dict[str, bytes], label: str) -> list[float]:
    import typst

    found = typst.query(
        inputs,  # pyright: ignore[reportArgumentType]  # its stub knows no files
        label,
        field="value",
        ignore_system_fonts=True,
        font_paths=[_FONTS],
    )
    return [float(one) for one in json.loads(found)]


def _set(inputs: dict[str, bytes], on: date) -> bytes:
    import typst

    return typst.compile(
        inputs,  # pyright: ignore[reportArgumentType]  # its stub knows no files
        format="pdf",
        pdf_standards=["a-3a", "ua-1"],
        ignore_system_fonts=True,
        font_paths=[_FONTS],
        timestamp=datetime.combine(on, time(), UTC),
    )


def _asked(
    work: Callable[[dict[str, bytes], When], Made],
    inputs: dict[str, bytes],
    on: When,
    tongue: Tongue,
) -> Made:
    import typst

    try:
        return work(inputs, on)
    except typst.TypstError as error:
        raise ReportError(said_error(str(error), tongue)) from error
