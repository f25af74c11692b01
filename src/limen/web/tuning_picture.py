"""Which of three measures tell choices apart, and the picture that is drawn of them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from limen.draw.choices import Choice, Picture, draw_choices, shares
from limen.draw.choices_scale import Axis
from limen.findings import Message
from limen.quantity import Show
from limen.web.look import Look
from limen.words import numbered, reading, say, say_length

WIDE, NARROW = 680.0, 340.0
INCH, MM, PERCENT = 0.0254, 0.001, 0.01
TENTHS_BELOW = 10.0
BESIDE = 1.0
"""How far beyond the choices, in spans of theirs, what is set now is still drawn."""


class Name(StrEnum):
    """A measure; the first two that tell choices apart are axes, a third is size."""

    NEEDLESS = "needless"
    LATE = "late"
    MARGIN = "margin"


@dataclass(frozen=True, slots=True)
class Measured:
    """A choice by its measures.

    Attributes:
        letter: what it is called.
        says: all of it in a sentence.
        href: where it leads; empty for what is set now.
        needless: needless openings a day; None if not known.
        late: share of the people for whom the door opens late; None if not known.
        margin: room to spare, negative where it is lacking (m); None if not known.
        chosen: whether it is looked at.
        fails: whether a must fails with it.
        error: how far the needless openings may lie off (a day).
    """

    letter: str
    says: str
    href: str
    needless: float | None
    late: float | None
    margin: float | None
    chosen: bool = False
    fails: bool = False
    error: float = 0.0

    def value(self, name: Name) -> float | None:
        """One of its measures."""
        match name:
            case Name.NEEDLESS:
                return self.needless
            case Name.LATE:
                return self.late
            case Name.MARGIN:
                return self.margin


@dataclass(frozen=True, slots=True)
class Pictured:
    """The picture and what it leaves to words.

    Attributes:
        wide, narrow: the picture for a wide screen and for a phone; empty where
            there is nothing to choose.
        axes: measures that tell choices apart.
        alike: measures that are the same in all choices.
        unknown: measures that are not known of any.
        partly: measures that are known of some only.
    """

    wide: str = ""
    narrow: str = ""
    axes: tuple[Name, ...] = ()
    alike: tuple[Name, ...] = ()
    unknown: tuple[Name, ...] = ()
    partly: tuple[Name, ...] = ()


def pictured(choices: Sequence[Measured], now: Measured | None, look: Look) -> Pictured:
    """Draw choices by the measures that tell them apart.

    Args:
        choices: the first one first.
        now: what is set now.
        look: units that the reader wants.
    """
    unknown = tuple(name for name in Name if not _known(choices, name))
    known = tuple(name for name in Name if name not in unknown)
    apart = tuple(name for name in known if _differ(choices, name, look))
    alike = tuple(name for name in known if name not in apart)
    partly = tuple(n for n in apart if any(one.value(n) is None for one in choices))
    if not apart:
        return Pictured("", "", apart, alike, unknown, partly)
    shown = [*choices, *_now(choices, now, apart[:2])]
    drawn = _picture(shown, apart, look)
    wide, narrow = (draw_choices(drawn, width) for width in (WIDE, NARROW))
    return Pictured(wide, narrow, apart, alike, unknown, partly)


def said(one: Measured, name: Name, look: Look) -> str:
    """One measure of a choice in words, as it stands in a table."""
    value = one.value(name)
    if value is None:
        return say(Message("desk_tune.measure.unknown"))
    match name:
        case Name.NEEDLESS:
            count = _number(value)
            return f"{count} ± {_number(one.error)}" if one.error else count
        case Name.LATE:
            return _percent_sign(value)
        case Name.MARGIN:
            return say_length(value, look.system)


def _known(choices: Sequence[Measured], name: Name) -> bool:
    """Whether a measure is known of any choice."""
    return any(one.value(name) is not None for one in choices)


def _differ(choices: Sequence[Measured], name: Name, look: Look) -> bool:
    """Whether anybody could tell the choices apart by a measure."""
    return len({said(one, name, look) for one in choices}) > 1


def _now(
    choices: Sequence[Measured], now: Measured | None, axes: Sequence[Name]
) -> Iterator[Measured]:
    """What is set now, unless it lies so far off that the choices would crowd."""
    if now is None:
        return
    for name in axes:
        known = [v for one in choices if (v := one.value(name)) is not None]
        far = BESIDE * (max(known) - min(known))
        value = now.value(name)
        if value is None or not min(known) - far <= value <= max(known) + far:
            return
    yield now


def _picture(shown: Sequence[Measured], apart: Sequence[Name], look: Look) -> Picture:
    axes, sized = apart[:2], apart[2:]
    sizes = shares([one.value(sized[0]) for one in shown]) if sized else None
    drawn = tuple(
        Choice(
            one.letter,
            tuple(one.value(name) for name in axes),
            sizes[index] if sizes else None,
            said(one, sized[0], look) if sized else "",
            one.says,
            one.href,
            one.chosen,
            one.fails,
        )
        for index, one in enumerate(shown)
    )
    return Picture(
        say(Message("desk_tune.choose.heading")),
        _described(shown, apart),
        drawn,
        tuple(_axis(name, look.system) for name in axes),
        say(Message("desk_tune.measure.unknown")),
        reading(),
    )


def _described(shown: Sequence[Measured], apart: Sequence[Name]) -> str:
    axes = [say(Message(f"desk_tune.axis.{name}")) for name in apart[:2]]
    key = "one" if len(axes) == 1 else "two"
    ways = {"across": axes[0], "up": axes[-1]}
    words = [say(Message(f"desk_tune.choose.says.{key}", ways))]
    if len(apart) > len(axes):
        words.append(say(Message("desk_tune.choose.says.size")))
    return " ".join([*words, *(one.says for one in shown)])


def _axis(name: Name, system: Show) -> Axis:
    words = say(Message(f"desk_tune.axis.{name}"))
    match name:
        case Name.NEEDLESS:
            return Axis(words, "less", 1.0, _number)
        case Name.LATE:
            return Axis(words, "less", PERCENT, _percent_sign)
        case Name.MARGIN:
            feet = system is Show.FEET
            unit = INCH if feet else MM
            return Axis(words, "more", unit, lambda v: say_length(v, system), feet)


def _number(value: float) -> str:
    """A count a day: whole, but for few."""
    digits = 1 if 0 < abs(value) < TENTHS_BELOW else 0
    text = f"{value:.{digits}f}".removesuffix(".0")
    return numbered(text, reading())


def _percent(share: float) -> str:
    return _number(share / PERCENT)


def _percent_sign(share: float) -> str:
    return say(Message("desk_tune.measure.percent", {"share": _percent(share)}))
