"""A walk on the doorway page: the player's words, its table, what it moves."""

from dataclasses import asdict, dataclass

from limen.desk.walking import Instant, Walking, has_walk
from limen.desk.walking_drawn import course, still_plan, still_space
from limen.draw import lay_out, write_sheet
from limen.draw.turning import seen_from_inside
from limen.findings import Finding, Message, Study
from limen.quantity import Show
from limen.web.doorway_drawn import (
    LEAST_WIDTH,
    MOST_WIDTH,
    Pane,
    grips_of,
    percent_a_metre,
)
from limen.web.doorway_lines import id_of
from limen.words import numbered, reading, say, say_length, unbroken


@dataclass(frozen=True, slots=True)
class Row:
    """An instant as it stands in the table: when (s, and in words), what happens."""

    at: float
    time: str
    says: str


def walk_shown(finding: Finding | None) -> str:
    """The name of a finding that shows a walk; empty if it shows none."""
    return id_of(finding) if finding is not None and has_walk(finding) else ""


def seconds(time: float) -> str:
    """A time in seconds and tenths, as a watch is read."""
    tenths = numbered(f"{time:.1f}", reading())
    return say(Message("walk.seconds", {"time": tenths}))


def rows(walk: Walking, system: Show) -> tuple[Row, ...]:
    """What happens when, in words."""
    return tuple(
        Row(round(one.at, 3), seconds(one.at), say(one.says, system=system))
        for one in walk.instants
    )


def as_played(
    study: Study,
    finding: Finding,
    walk: Walking,
    pane: Pane,
    width: int,
    system: Show,
    *,
    turned: bool = False,
) -> dict[str, object]:
    """What the page needs to play a walk in one of its drawings.

    Args:
        study: the doorway and its units.
        finding: that shows the walk.
        walk: the walk.
        pane: the drawing; in front and section nothing is played.
        width: of the drawing (px).
        system: in which lengths are written.
        turned: whether the inside is at the lower edge of the plan.

    Returns:
        ``finding``, ``view``, ``course``; and ``svg`` with ``zero`` and ``scale`` (px)
        that place the doorway's frame in it and the ``grips`` on it, or ``space``.
    """

    def brief(instant: Instant) -> str | None:
        if instant.brief is None:
            return None
        said = {**instant.brief.values, "at": seconds(instant.at)}
        return unbroken(say(Message(instant.brief.key, said), system=system))

    def opens(free: float) -> str:
        said = {"free": say_length(free, system)}
        return unbroken(say(Message("walk.open", said)))

    moving = course(study, walk, opens)
    played: dict[str, object] = {
        "finding": id_of(finding),
        "view": pane,
        "course": moving,
    }
    if pane == "space":
        return {**played, "space": still_space(study, finding, walk, brief, system)}
    if pane != "plan":
        return played
    drawn, way = still_plan(study, finding, walk, brief, system), 1.0
    if turned:
        drawn, way = seen_from_inside(drawn), -1.0
    sheet = lay_out(drawn, float(min(max(width, LEAST_WIDTH), MOST_WIDTH)))
    fit = sheet.panels[0].fit
    return {
        **played,
        "svg": write_sheet(sheet),
        "zero": fit.at((0.0, 0.0)),
        "scale": way * fit.scale,
        "per_metre": percent_a_metre(sheet, way),
        "grips": [asdict(one) for one in grips_of(study, "plan", sheet, system, way)],
    }
