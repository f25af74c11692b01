"""The hours of a day as a picture: who walks through, for whom else it opens."""

from dataclasses import dataclass
from html import escape
from math import ceil, log10

from limen.desk.flow_words import percent
from limen.desk.flows import Flows
from limen.findings import Message
from limen.words import numbered, reading, say

HOURS = 24
WIDE, NARROW = 720.0, 340.0
HIGH, TOP, LEFT, BELOW = 260.0, 34.0, 46.0, 44.0
LINES = 4


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour of the day.

    Attributes:
        hour: when it begins.
        through: people who walk through.
        least, most: people for whom the door opens though they only pass.
        open_share: share of the hour for which it is open, at the least and at the
            most; None if not known.
    """

    hour: int
    through: float
    least: float
    most: float
    open_share: tuple[float, float] | None = None

    @property
    def top(self) -> float:
        """All of them at the most."""
        return self.through + self.most


def hours_of(found: Flows) -> tuple[Hour, ...]:
    """The hours of a doorway's day; empty where nobody said who walks."""
    if found.through is None and not found.paths:
        return ()
    through = found.through.hours if found.through else (0.0,) * HOURS
    least, most = [0.0] * HOURS, [0.0] * HOURS
    for path in found.paths or ():
        for hour, people in enumerate(path.flow.hours):
            least[hour] += people * path.least
            most[hour] += people * path.most
    shares: list[tuple[float, float] | None] = [None] * HOURS
    if found.reckoned is not None:
        low, high = found.reckoned.ledger.by_hour.tolist()
        shares = list(zip(low, high, strict=True))
    return tuple(
        Hour(hour, through[hour], least[hour], most[hour], shares[hour])
        for hour in range(HOURS)
    )


def drawn(hours: tuple[Hour, ...], width: float) -> str:
    """The picture as SVG; its meaning stands in the table beside it.

    Args:
        hours: of the day.
        width: of the picture.
    """
    scale = _Scale(width, _round_up(max((one.top for one in hours), default=0.0)))
    name = f"hours-{width:.0f}"
    bars = "".join(_bar(scale, one, name) for one in hours)
    ticks = "".join(_tick(scale, one.hour) for one in hours)
    return (
        f'<svg class="hours" viewBox="0 0 {width:g} {HIGH:g}" aria-hidden="true" '
        f'focusable="false"><defs>{_patterns(name)}</defs>'
        f"{_lines(scale)}{bars}{ticks}{_axes(scale)}{_labels(scale, hours)}</svg>"
    )


@dataclass(frozen=True, slots=True)
class _Scale:
    width: float
    most: float

    @property
    def step(self) -> float:
        return (self.width - LEFT) / HOURS

    def x(self, hour: float) -> float:
        return LEFT + hour * self.step

    def y(self, people: float) -> float:
        return HIGH - BELOW - people / self.most * (HIGH - BELOW - TOP)


def _round_up(most: float) -> float:
    """The top of the axis: a round number of which a few lines are drawn."""
    if most <= 0:
        return 1.0
    power = 10.0 ** max(ceil(log10(most)) - 1, 0)
    tops = [power * LINES * step / 4 for step in (1, 2, 3, 4, 5, 6, 8, 10)]
    return next((top for top in tops if top >= most), power * 10)


def _patterns(name: str) -> str:
    """Told apart without colour: full, hatched, and a broken rim."""
    return (
        f'<pattern id="{name}-idle" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path class="hours-hatch" d="M0 0V6"/></pattern>'
    )


def _bar(scale: _Scale, one: Hour, name: str) -> str:
    x, wide, floor = scale.x(one.hour) + 1.0, scale.step - 2.0, scale.y(0.0)
    parts: list[str] = []
    if one.through > 0:
        top = scale.y(one.through)
        parts.append(_box("hours-through", x, top, wide, floor - top))
    if one.least > 0:
        low, high = scale.y(one.through), scale.y(one.through + one.least)
        box = _box("hours-idle", x, high, wide, low - high, f"url(#{name}-idle)")
        parts.append(box)
    if one.most > one.least:
        low, high = scale.y(one.through + one.least), scale.y(one.top)
        parts.append(_box("hours-maybe", x, high, wide, low - high))
    return "".join(parts)


def _box(
    kind: str, x: float, y: float, wide: float, high: float, fill: str = ""
) -> str:
    filled = f' fill="{fill}"' if fill else ""
    return (
        f'<rect class="{kind}" x="{x:.1f}" y="{y:.1f}" width="{wide:.1f}" '
        f'height="{max(high, 0.0):.1f}"{filled}/>'
    )


def _tick(scale: _Scale, hour: int) -> str:
    every = 3 if scale.width > NARROW else 6
    if hour % every:
        return ""
    y = HIGH - BELOW + 16
    return f'<text class="hours-tick" x="{scale.x(hour):.1f}" y="{y:g}">{hour}</text>'


def _lines(scale: _Scale) -> str:
    made: list[str] = []
    for line in range(LINES + 1):
        people = scale.most * line / LINES
        y = scale.y(people)
        made.append(
            f'<path class="hours-line" d="M{LEFT:g} {y:.1f}H{scale.width:g}"/>'
            f'<text class="hours-count" x="{LEFT - 6:g}" y="{y + 4:.1f}">'
            f"{numbered(f'{people:g}', reading())}</text>"
        )
    return "".join(made)


def _axes(scale: _Scale) -> str:
    people = escape(say(Message("flows_shown.hours.axis")))
    hour = escape(say(Message("flows_shown.hours.hour")))
    middle = (LEFT + scale.width) / 2
    return (
        f'<text class="hours-axis" x="0" y="12">{people}</text>'
        f'<text class="hours-axis hours-middle" x="{middle:.1f}" y="{HIGH - 8:g}">'
        f"{hour}</text>"
    )


def _labels(scale: _Scale, hours: tuple[Hour, ...]) -> str:
    """The share of the busiest hour for which the door is open, over its bar."""
    busiest = max(hours, key=lambda one: one.top, default=None)
    if busiest is None or busiest.open_share is None or busiest.top <= 0:
        return ""
    share = escape(percent(*busiest.open_share))
    text = f"{share} {escape(say(Message('flows_shown.hours.open')))}"
    x, y = scale.x(busiest.hour + 0.5), scale.y(busiest.top) - 6
    return f'<text class="hours-open" x="{x:.1f}" y="{max(y, 28):.1f}">{text}</text>'
