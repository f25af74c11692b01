"""What is worth taping at a doorway's units, for the page and for paper."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from limen.desk.fitting import to_read
from limen.desk.library import Opened
from limen.desk.refusal import Refusal
from limen.draw.taping import Mark, Taping
from limen.findings import Message
from limen.findings.fitted import ToRead
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.words import say

Kind = Literal["row line", "row end", "spot centre"]
Post = Literal["left", "right"]
KINDS: dict[str, Kind] = {
    "row line": "row line",
    "row end": "row end",
    "spot centre": "spot centre",
}
IN_REACH = 0.1
"""How far from its post a line is taped at least (m): beyond it stands wall."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One reading that is worth taking.

    Attributes:
        name: its number, from 1, as the drawing bears it.
        ask: the key of its words: ``row line.left``.
        kind: what is found.
        post: the post from which it is taped, seen from outside.
        row: from 1.
        from_post: how far from that post it is by the plan (m).
        out: how far from the leaf face it is by the plan (m); None of an end.
    """

    name: str
    ask: str
    kind: Kind
    post: Post
    row: int
    from_post: float
    out: float | None

    @property
    def end(self) -> Post | None:
        """Which end is read, of a row's end."""
        return self.post if self.kind == "row end" else None


@dataclass(frozen=True, slots=True)
class ToTape:
    """What is worth taping at one unit.

    Attributes:
        fitting: the unit.
        rows: how many it has.
        fan_stated: whether its sheet says how wide its rows are.
        asked: the useful minimum first.
        drawn: what its drawings show.
    """

    fitting: Fitting
    rows: int
    fan_stated: bool
    asked: tuple[Asked, ...]
    drawn: Taping


def to_tape(doorway: Doorway) -> tuple[ToTape, ...]:
    """What is worth taping at each unit that throws rows.

    Args:
        doorway: as described, sheets hung on its fittings.
    """
    return tuple(_each(doorway))


def some_to_tape(opened: Opened, doorway_id: str) -> tuple[ToTape, ...]:
    """The same of a doorway of a site, where there is anything to tape.

    Raises:
        Refusal: there is no such doorway, or none of its units throws rows.
    """
    doorway = opened.doorway(doorway_id)
    found = to_tape(doorway)
    if not found:
        said = Message("readings_page.paper.nothing", {"door": doorway.name})
        raise Refusal([say(said)])
    return found


def _each(doorway: Doorway) -> Iterator[ToTape]:
    from limen.model.sheet import FanUnknown

    for fitting in doorway.fitting:
        presence = fitting.unit.presence if fitting.unit else None
        if presence is None:
            continue
        wanted = [one for one in to_read(doorway, fitting.id) if one.row is not None]
        asked = tuple(
            _asked(doorway, f"{number}", one) for number, one in enumerate(wanted, 1)
        )
        ends = sorted(one.along for one in wanted if one.what == "row end")
        on = len(fitting.settings.rows_on or presence.rows)
        yield ToTape(
            fitting,
            len(presence.rows),
            not isinstance(presence.fan, FanUnknown),
            asked,
            _drawn(doorway, fitting, ((ends[0], ends[-1]),) * on, asked),
        )


def _asked(doorway: Doorway, name: str, one: ToRead) -> Asked:
    kind = KINDS[one.what]
    post: Post = "right" if one.end == "right" else "left"
    half = doorway.clear_width.value / 2
    far = half - one.along if post == "right" else half + one.along
    if kind == "row line":
        far = max(far, IN_REACH)
    out = None if kind == "row end" else one.out
    return Asked(name, f"{kind}.{one.end}", kind, post, one.row or 1, far, out)


def _drawn(
    doorway: Doorway,
    fitting: Fitting,
    rows: tuple[tuple[float, float], ...],
    asked: tuple[Asked, ...],
) -> Taping:
    half = doorway.clear_width.value / 2
    marks = tuple(
        Mark(one.name, one.kind, _along(one, half), 1, one.post) for one in asked
    )
    lens = fitting.lens.along if fitting.lens else None
    return Taping(
        inside=fitting.side == "inside",
        half=half,
        meet=doorway.leaves.kind == "bi-parting",
        lens=lens.value if lens else 0.0,
        rows=rows,
        marks=marks,
        says=_says(fitting, asked),
    )


def _along(one: Asked, half: float) -> float:
    return half - one.from_post if one.post == "right" else one.from_post - half


def _says(fitting: Fitting, asked: tuple[Asked, ...]) -> str:
    """The drawing in words."""
    marks = [say(Message("readings_page.drawn.mark_c"))]
    for one in asked:
        said = {
            "name": one.name,
            "row": one.row,
            "post": Message(f"readings_page.drawn.post.{one.post}"),
        }
        marks.append(say(Message(f"readings_page.drawn.mark.{one.kind}", said)))
    side = Message(f"readings_page.drawn.{fitting.side}")
    values = {"side": side, "marks": " ".join(marks)}
    return say(Message("readings_page.drawn.says", values))
