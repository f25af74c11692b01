"""What the page of readings shows: what to tape, field by field."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from limen.desk.taping import Asked, ToTape
from limen.draw.taping import from_above, from_the_side
from limen.findings import Message
from limen.findings.message import length
from limen.model.doorway import Doorway
from limen.quantity import Quantity, Show
from limen.web.readings_form import KINDS, NOT_KNOWN, Filled
from limen.words import say, say_unit

NEW = "NEW"
"""Stands for the number of a reading that is added later."""
LENS_MARKS = (("height", "A"), ("from_leaf", "B"), ("along", "C"))


@dataclass(frozen=True, slots=True)
class Entry:
    """One reading of the form.

    Attributes:
        at: the beginning of its fields' names: ``u0.r1``.
        name: its number.
        kind: what is found.
        title: what is asked, in words.
        how: how it is found.
        end: which end, of a row's end.
        row: which row, as its field holds it.
        way: from where it is taped along the opening.
        near_out, near_along: about where by the plan, in words; may be empty.
        place: where along a line is taped, as one would type it; may be empty.
        own: whether it was added by hand, and may be removed.
    """

    at: str
    name: str
    kind: str
    title: str
    how: str
    end: str
    row: str
    way: str
    near_out: str = ""
    near_along: str = ""
    place: str = ""
    own: bool = False


def page_of(
    doorway: Doorway, units: tuple[ToTape, ...], form: Filled, system: Show
) -> dict[str, Any]:
    """What the form is filled with.

    Args:
        doorway: as described.
        units: those whose rows can be read.
        form: as it was filled in.
        system: the reader's units.
    """
    return {
        "door": doorway,
        "fields": form.fields,
        "units": form.units,
        "tapes": [_tape(one, n, form, system) for n, one in enumerate(units)],
        "kinds": KINDS,
    }


def _tape(one: ToTape, number: int, form: Filled, system: Show) -> dict[str, Any]:
    at = f"u{number}"
    lens = one.fitting.lens
    return {
        "at": at,
        "fitting": one.fitting.id,
        "title": say(
            Message("readings_page.unit.title", {"unit": say_unit(one.fitting.id)})
        ),
        "sheet": one.fitting.unit.name if one.fitting.unit else one.fitting.sheet,
        "above": from_above(one.drawn),
        "side": from_the_side(one.drawn),
        "rows": list(range(1, one.rows + 1)),
        "fan_stated": one.fan_stated,
        "lens": [
            (part, mark, _stands(getattr(lens, part, None), system))
            for part, mark in LENS_MARKS
        ],
        "entries": list(_entries(one, at, form, number, system)),
        "new": [own_entry(at, NEW, kind, Filled()) for kind in KINDS],
    }


def _stands(figure: Quantity | None, system: Show) -> str:
    """What the site says of a figure of the lens."""
    if figure is None:
        return say(Message("readings_page.unit.not_stated"))
    said = Message("readings_page.unit.stands", {"what": length(figure.value)})
    return say(said, system=system)


def _entries(
    one: ToTape, at: str, form: Filled, unit: int, system: Show
) -> Iterator[Entry]:
    names = [asked.name for asked in one.asked]
    for asked in one.asked:
        kind = form.get(f"{at}.r{asked.name}.kind")
        if kind in ("", asked.kind):
            yield _asked(asked, at, form, system)
        else:
            yield own_entry(at, asked.name, kind, form)
    for name in form.names(unit):
        kind = form.get(f"{at}.r{name}.kind")
        if name not in names and kind:
            yield own_entry(at, name, kind, form)


def _asked(asked: Asked, at: str, form: Filled, system: Show) -> Entry:
    start = f"{at}.r{asked.name}"
    far = Message(
        f"readings_page.field.{_near(asked)}", {"far": length(abs(asked.from_post))}
    )
    out = Message("readings_page.field.near", {"far": length(asked.out or 0.0)})
    way = form.get(f"{start}.from") or f"from_{asked.post}"
    asked_so = way == f"from_{asked.post}"
    place = say(
        Message("report.length", {"far": length(asked.from_post)}), system=system
    )
    return Entry(
        start,
        asked.name,
        asked.kind,
        say(Message(f"readings_page.ask.{asked.ask}")),
        say(Message(f"readings_page.how.{asked.kind}")),
        form.get(f"{start}.end") or asked.end or "",
        form.get(f"{start}.row") or f"{asked.row}",
        way,
        "" if asked.out is None else say(out, system=system),
        say(far, system=system) if asked_so else "",
        place if asked_so and asked.kind == "row line" else "",
    )


def _near(asked: Asked) -> str:
    if asked.from_post < 0:
        return "beyond"
    return "at" if asked.kind == "row line" else "near"


def own_entry(at: str, name: str, kind: str, form: Filled) -> Entry:
    """A reading that was added by hand."""
    start = f"{at}.r{name}"
    return Entry(
        start,
        name,
        kind,
        say(Message(f"readings_page.ask.{kind}")),
        say(Message(f"readings_page.how.{kind}")),
        form.get(f"{start}.end") or "left",
        form.get(f"{start}.row") or NOT_KNOWN,
        form.get(f"{start}.from") or "from_left",
        own=True,
    )
