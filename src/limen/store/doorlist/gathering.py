"""Doorways that were judged become sites: one text each, whole or not at all."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import cast

import tomlkit

from limen.store.doorlist.judging import Door, Judged, Reason, Refused, SiteSaid
from limen.store.faults import FileFaults

MOST_DOORS = 500
"""Doorways of a site, at most."""

Check = Callable[[str], None]
"""Reads the text of a site; raises `FileFaults` where the reader refuses it."""


@dataclass(frozen=True, slots=True)
class SiteThere:
    """A site that is there already: nothing of it is changed, doors are added.

    Attributes:
        where: the file, or its id in a library.
        name, place, rulebook: as it says.
        ids: ids of its doorways.
        text: its text.
        version: what is given back when it is saved: a digest, or a number.
        readable: whether its text can be read; none is added to one that cannot.
    """

    where: str
    name: str
    place: str
    rulebook: str
    ids: frozenset[str]
    text: str
    version: str
    readable: bool = True


@dataclass(frozen=True, slots=True)
class SitePlan:
    """A site as it will be.

    Attributes:
        said: what the list says of it.
        doors: the doorways that are taken into it.
        there: the site that is there already, if there is one.
        text: the whole new text.
    """

    said: SiteSaid
    doors: tuple[Door, ...]
    there: SiteThere | None
    text: str


@dataclass(frozen=True, slots=True)
class Plan:
    """What is taken, and what is not.

    Attributes:
        sites: in the order of the list.
        refused: every row that is refused, by line.
    """

    sites: tuple[SitePlan, ...]
    refused: tuple[Refused, ...]

    @property
    def taken(self) -> int:
        """How many rows are taken."""
        return sum(len(site.doors) for site in self.sites)


@dataclass(slots=True)
class _Gathered:
    """A site while its rows come in."""

    said: SiteSaid
    there: SiteThere | None
    doors: list[Door] = field(default_factory=list[Door])
    lines: dict[str, int] = field(default_factory=dict[str, int])


def gather(
    judged: Judged, there: Sequence[SiteThere], check: Check, source: str
) -> Plan:
    """Put doorways into their sites; nothing that is there is overwritten.

    Args:
        judged: the rows.
        there: sites that are there already.
        check: reads the text of a site, with its sheets.
        source: name of the list, for the first line of a new text.
    """
    known: dict[tuple[str, str], SiteThere] = {}
    for one in there:
        known.setdefault(SiteSaid(one.name, one.place).key, one)
    sites: dict[tuple[str, str], _Gathered] = {}
    refused = list(judged.refused)
    for door in judged.doors:
        key = door.site.key
        site = sites.setdefault(key, _Gathered(door.site, known.get(key)))
        why = _against(door, site)
        if why:
            refused.append(Refused(door.record, (why,)))
            continue
        site.doors.append(door)
        site.lines[door.id] = door.record.line
        if door.site.rulebook and not site.said.rulebook:
            site.said = replace(site.said, rulebook=door.site.rulebook)
    plans: list[SitePlan] = []
    for site in sites.values():
        plans += _plan(site, check, source, refused)
    refused.sort(key=lambda one: one.record.line)
    return Plan(tuple(plans), tuple(refused))


def _against(door: Door, site: _Gathered) -> Reason | None:
    there = site.there
    if there is not None and not there.readable:
        return Reason("site_text", "", there.name, there.where)
    if there is not None and door.id in there.ids:
        return Reason("there_already", "", door.id, there.name)
    if door.id in site.lines:
        return Reason("twice", "", door.id, str(site.lines[door.id]))
    book = there.rulebook if there is not None else site.said.rulebook
    if (
        door.site.rulebook
        and (there is not None or book)
        and door.site.rulebook != book
    ):
        return Reason("site_differs", "", door.site.rulebook, book or "–")
    count = len(site.doors) + (len(there.ids) if there is not None else 0)
    if count >= MOST_DOORS:
        return Reason("too_many", "", site.said.name, str(MOST_DOORS))
    return None


def _plan(
    site: _Gathered, check: Check, source: str, refused: list[Refused]
) -> Iterator[SitePlan]:
    """The site, its text read by the reader of site files before it counts."""
    if not site.doors:
        return
    plan = _written(site, site.doors, source)
    if _fault(plan.text, check) is not None:
        fine: list[Door] = []
        for door in site.doors:
            why = _fault(_written(site, [door], source).text, check)
            if why is None:
                fine.append(door)
            else:
                refused.append(Refused(door.record, (why,)))
        if not fine:
            return
        plan = _written(site, fine, source)
        check(plan.text)
    yield plan


def _fault(text: str, check: Check) -> Reason | None:
    try:
        check(text)
    except FileFaults as faults:
        first = faults.faults[0]
        return Reason("reader", "", f"{first.key}: {first.why}", first.accepted)
    return None


# Texts -----------------------------------------------------------------------------


def _written(site: _Gathered, doors: Sequence[Door], source: str) -> SitePlan:
    head = _head(site.said, source) if site.there is None else site.there.text
    blocks = ["\n".join(_short(door.short)) for door in doors]
    text = "\n\n".join([head.rstrip("\n"), *blocks]) + "\n"
    return SitePlan(site.said, tuple(doors), site.there, text)


def _head(said: SiteSaid, source: str) -> str:
    told = "".join(sign if sign.isprintable() else "�" for sign in source[:120])
    lines = [f"# From a list of doors: {told}", f"name = {_toml(said.name)}"]
    if said.place:
        lines.append(f"place = {_toml(said.place)}")
    if said.rulebook:
        lines.append(f"rulebook = {_toml(said.rulebook)}")
    return "\n".join(lines)


def _short(short: Mapping[str, object]) -> Iterator[str]:
    yield "[[short]]"
    for key, value in short.items():
        yield f"{key} = {_toml(value)}"


def _toml(value: object) -> str:
    if isinstance(value, Mapping):
        pairs = cast("Mapping[str, object]", value).items()
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in pairs) + " }"
    return tomlkit.item(value).as_string()
