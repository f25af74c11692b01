"""How far a fleet is, on one line; and what a run comes to, in the end."""

import signal
import sys
from collections import deque
from collections.abc import Callable, Generator, Mapping, Sequence
from contextlib import contextmanager
from types import FrameType
from typing import Any, cast

from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.desk.fleet import FleetChecked
from limen.desk.fleet_told import Progress, Told, seldom
from limen.findings import Message
from limen.words import named, numbered, reading, say, say_count, say_question

MOST_SHOWN = 8
WIDE = 76
"""Columns from which names of questions stand beside their titles."""
MINUTE, HOUR = 60, 3600


def on_a_line() -> Told | None:
    """A line on the terminal that follows the work; None where nobody looks at one."""
    if not sys.stderr.isatty():
        return None
    last = deque[int]([0], 1)

    def told(how: Progress) -> None:
        said = "" if how.ended else said_of(how)
        wiped = "\r" if how.ended else ""
        sys.stderr.write("\r" + said.ljust(last[0]) + wiped)
        sys.stderr.flush()
        last.append(len(said))

    return seldom(told)


def said_of(how: Progress) -> str:
    """How far it is, in words."""
    if how.looked:
        return say_count("fleet.looking", how.looked)
    values: dict[str, str | int] = {"done": how.done, "all": how.every}
    seconds = how.seconds_left
    if seconds is None:
        return say(Message("fleet.working", values))
    values |= {"rate": _rate(how.rate), "left": _left(seconds)}
    return say(Message("fleet.working_rate", values))


def _rate(rate: float) -> str:
    return numbered(f"{rate:.1f}" if rate < 10 else f"{rate:.0f}", reading())  # noqa: PLR2004 - two digits tell enough


def _left(seconds: float) -> str:
    if seconds < 2 * HOUR:
        return say_count("fleet.left_minutes", round(seconds / MINUTE))
    return say_count("fleet.left_hours", round(seconds / HOUR))


@contextmanager
def stopping_in_order() -> Generator[Callable[[], bool]]:
    """Take the first Ctrl-C as a wish to stop, and the second as an order."""
    wished: list[int] = []

    def heard(number: int, _frame: FrameType | None) -> None:
        if wished:
            raise KeyboardInterrupt
        wished.append(number)
        paper(error=True).put_text("\n" + say(Message("fleet.stopping")))

    kinds = (signal.SIGINT, signal.SIGTERM)
    before = {kind: signal.signal(kind, heard) for kind in kinds}
    try:
        yield lambda: bool(wished)
    finally:
        for kind, handler in before.items():
            signal.signal(kind, handler)


# At the end ----------------------------------------------------------------------


def stopped(checked: FleetChecked, folder: str) -> None:
    """Say what is kept, and how to go on."""
    said = {"done": checked.done, "all": checked.every, "folder": folder}
    page = paper(error=True)
    page.put(wrapped(say(Message("fleet.stopped", said)), page.width))
    page.put(_kept_day(checked, folder))


def summary(checked: FleetChecked, folder: str) -> None:
    """Print what it comes to."""
    page, written = paper(), checked.written
    if written is None:
        return
    values = cast("Mapping[str, Any]", written.summary)
    lines = [*_head(checked, values, page.width), *_kept_day(checked, folder), EMPTY]
    for key in ("fails", "not_shown"):
        lines += [*_most(values[key], key, page.width), EMPTY]
    lines += [*settles(values["settles"], page.width), EMPTY]
    lines += [*_due(values, page.width), EMPTY]
    names = ", ".join(one.name for one in written.files)
    files = Message("fleet.written", {"folder": folder, "files": names})
    lines += wrapped(say(files), page.width)
    if not written.parquet:
        lines += wrapped(say(Message("fleet.no_parquet")), page.width)
    lines += wrapped(say(Message("fleet.caution")), page.width, ink=Ink.QUIET)
    page.put(lines)


def _kept_day(checked: FleetChecked, folder: str) -> list[Line]:
    if not checked.kept_day:
        return []
    said = {"folder": folder, "day": checked.on.isoformat()}
    return wrapped(say(Message("fleet.day_resumed", said)), paper().width)


def _head(
    checked: FleetChecked, values: Mapping[str, Any], width: int | None
) -> list[Line]:
    counted = [say_count("fleet.doorways", values["doorways"])]
    counted += [
        say_count(f"fleet.musts.{key}", values["musts"][name])
        for key, name in (("fails",) * 2, ("not_shown", "not shown"), ("neither",) * 2)
        if name in values["musts"]
    ]
    lines = wrapped(" · ".join(counted), width, ink=Ink.STRONG)
    lines += wrapped(
        say(Message("fleet.title", {"day": checked.on.isoformat()})), width
    )
    if checked.before:
        said = {"done": checked.before, "all": checked.every}
        lines += wrapped(say(Message("fleet.resumed", said)), width)
    for state in ("not read", "not judged", "broken", "lost"):
        if many := values["states"].get(state):
            told = say_count(f"fleet.state.{state.replace(' ', '_')}", many)
            lines += wrapped(told, width, ink=Ink.FAILS)
    lines += [one for lost in checked.lost for one in wrapped(" ".join(lost), width)]
    if checked.left:
        told = say_count("fleet.left_files", len(checked.left))
        lines += wrapped(told, width, ink=Ink.QUIET)
    return lines


def _most(rows: list[Mapping[str, Any]], key: str, width: int | None) -> list[Line]:
    if not rows:
        return wrapped(say(Message(f"fleet.nothing_{key}")), width)
    title = wrapped(say(Message(f"fleet.most_{key}")), width, ink=Ink.STRONG)
    told = [
        (
            Piece(f"{one['doorways']:>7}"),
            Piece(say_question(one["question"])),
            *((Piece(one["question"], Ink.QUIET),) if _wide(width) else ()),
        )
        for one in rows[:MOST_SHOWN]
    ]
    return [*title, *(ln for row in columns(told, width, ((1, 24),)) for ln in row)]


def _wide(width: int | None) -> bool:
    """Whether there is room for the names that files and tables use."""
    return width is None or width >= WIDE


def settles(every: Sequence[Mapping[str, Any]], width: int | None) -> list[Line]:
    """What would settle most, and where what a rulebook lacks is written.

    Args:
        every: what would, most first, as the summary has it.
        width: columns of the terminal; None leaves lines whole.
    """
    if not every:
        return []
    most = every[:MOST_SHOWN]
    title = wrapped(say(Message("fleet.most_settles")), width, ink=Ink.STRONG)
    told = [(Piece(f"{one['doorways']:>7}"), Piece(_settling(one))) for one in most]
    rows = (ln for row in columns(told, width, ((1, 24),)) for ln in row)
    return [*title, *rows, *_own_copies(most, width)]


def _settling(one: Mapping[str, Any]) -> str:
    """What would settle it, and where it is written."""
    said = {"what": one["what"], "key": one["key"]}
    if one["figure"] and "rulebook" in one["figure"]:
        said["book"] = one["figure"]["rulebook"]
        return say(Message("fleet.settles_figure", said))
    return say(Message("fleet.settles", said))


def _own_copies(most: Sequence[Mapping[str, Any]], width: int | None) -> list[Line]:
    """Which rulebooks the figures are of, and where they are to be written."""
    figures = [one["figure"] for one in most if one["figure"]]
    if not figures:
        return []
    titles = {one["rulebook"]: one["title"] for one in figures if "rulebook" in one}
    said = wrapped(say(Message("fleet.own_copy")), width, indent=2, ink=Ink.QUIET)
    for mark, title in titles.items():
        said += wrapped(named(mark, title), width, indent=2, hang=2, ink=Ink.QUIET)
    return said


def _due(values: Mapping[str, Any], width: int | None) -> list[Line]:
    counts: Mapping[str, int] = values["due"]
    order = ("at once", "overdue", "not known", "in time", "not asked")
    said = " · ".join(
        say_count(f"fleet.due_state.{name.replace(' ', '_')}", counts[name])
        for name in order
        if name in counts
    )
    lines = wrapped(say(Message("fleet.due")), width, ink=Ink.STRONG)
    lines += wrapped(said, width, indent=2)
    late: list[Mapping[str, Any]] = values["late"]
    told = [
        (Piece(f"  {one['due']}"), Piece(str(one["name"])), Piece(str(one["file"])))
        for one in late[:MOST_SHOWN]
    ]
    lines += [ln for row in columns(told, width, ((1, 20), (2, 20))) for ln in row]
    if counts.get("overdue", 0) + counts.get("at once", 0) > MOST_SHOWN:
        lines += wrapped(say(Message("fleet.late_more")), width, indent=2)
    return lines
