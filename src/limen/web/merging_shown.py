"""Two versions side by side, key by key, and what is to be chosen."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fastapi import Request
from fastapi.responses import HTMLResponse

from limen.desk.fact_words import said_change, said_key, said_value
from limen.desk.library import Clash, Stored
from limen.desk.library_merging import NotMergedError, compared, name_of_mine
from limen.desk.merging import Change, Key, Merge, Side
from limen.quantity import Show
from limen.web.pages import desk_of, fill, look_at


@dataclass(frozen=True, slots=True)
class Asked:
    """A key that both changed, and not to the same.

    Attributes:
        field: its name in the form.
        name: the key in words.
        was, mine, theirs: what stands there in each text.
        chosen: whose value is ticked.
    """

    field: str
    name: str
    was: str
    mine: str
    theirs: str
    chosen: Side


@dataclass(frozen=True, slots=True)
class Line:
    """A key that only one side changed, or both to the same."""

    name: str
    change: str


@dataclass(frozen=True, slots=True)
class Panel:
    """All that the panel shows of two versions.

    Attributes:
        site: theirs, as it is kept.
        base: the version that mine was made from.
        mine: my text.
        back: where to go once it is settled; empty to stay.
        asked: what is to be chosen.
        only_mine, only_theirs, both: what else was changed.
        name: under which name mine could be kept as a site of its own.
        lines: why something was not done.
        result: the text that both make together, if it was asked for.
        again: whether somebody saved once more while this was looked at.
        comparable: whether mine can be compared key by key at all.
    """

    site: Stored
    base: int
    mine: str
    back: str
    asked: tuple[Asked, ...] = ()
    only_mine: tuple[Line, ...] = ()
    only_theirs: tuple[Line, ...] = ()
    both: tuple[Line, ...] = ()
    name: str = ""
    lines: tuple[str, ...] = ()
    result: str | None = None
    again: bool = False
    comparable: bool = True


def merging_panel(
    request: Request, clash: Clash, back: str, *, again: bool = False
) -> HTMLResponse:
    """Both versions, with what is to be chosen, as an answer to a save."""
    return HTMLResponse(panel_html(request, clash, back, again=again), 412)


def panel_html(
    request: Request, clash: Clash, back: str, *, again: bool = False
) -> str:
    """Both versions as a piece of a page."""
    one = panel_of(request, clash.theirs, clash.mine, clash.base_version, back)
    return fill(request, "merging_panel.html", {"panel": one, "again": again})


def panel_of(
    request: Request,
    site: Stored,
    mine: str,
    base: int,
    back: str,
    *,
    chosen: Mapping[Key, Side] | None = None,
    name: str = "",
    lines: Sequence[str] = (),
    result: str | None = None,
) -> Panel:
    """Everything that a panel shows.

    Args:
        request: who asks.
        site: theirs, as it is kept.
        mine: my text.
        base: the version that it was made from.
        back: where to go once it is settled.
        chosen: what was ticked; mine where nothing was.
        name: the name that was typed for mine.
        lines: why something was not done.
        result: the text that both make together, if it was asked for.
    """
    desk, system = desk_of(request), look_at(request).system
    name = name or name_of_mine(desk, site.name)
    try:
        found = compared(desk, site.id, mine, base)
    except NotMergedError as error:
        told = (*error.lines, *lines)
        return Panel(site, base, mine, back, name=name, lines=told, comparable=False)
    return Panel(
        site,
        base,
        mine,
        back,
        tuple(_asked(one, chosen or {}, system) for one in found.asked),
        _lines(found, "mine", system),
        _lines(found, "theirs", system),
        _lines(found, "both", system),
        name,
        tuple(lines),
        result,
    )


def field_of(key: Key) -> str:
    """The name of a key in the form."""
    return json.dumps(key, ensure_ascii=False)


def _asked(one: Change, chosen: Mapping[Key, Side], system: Show) -> Asked:
    return Asked(
        field_of(one.key),
        said_key(one.key),
        said_value(one.was, one.key, system),
        said_value(one.mine, one.key, system),
        said_value(one.theirs, one.key, system),
        chosen.get(one.key, "mine"),
    )


def _lines(found: Merge, by: str, system: Show) -> tuple[Line, ...]:
    return tuple(
        Line(said_key(one.key), said_change(_told(one), system))
        for one in found.changes
        if one.by == by
    )


def _told(one: Change) -> Change:
    """A change by whoever made it, as from what to what."""
    if one.by != "theirs":
        return one
    return Change(one.key, one.was, one.theirs, one.theirs, one.by)
