"""The range on each slider in which all that depends on the setting holds, in words."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations
from typing import Protocol

from limen.desk.ranging import Steps, Value
from limen.desk.turned_text import DIMENSIONS, setting_of
from limen.findings import Message
from limen.quantity import Quantity, Show, parse
from limen.web.doorway_knobs import (
    Choice,
    Knob,
    UnitSettings,
    Window,
)
from limen.web.spans import shown
from limen.words import say, say_length, say_question

AIMED = ("settings.tilt", "read.first_row")
LENGTHS = ("mm", "in")


class Found(Protocol):
    """What was found on one scale."""

    @property
    def ends(self) -> tuple[int, int] | None:
        """Numbers of its first and last value."""
        ...

    @property
    def open(self) -> tuple[str, ...]:
        """What is not shown where nothing holds."""
        ...

    @property
    def besides(self) -> tuple[str, ...]:
        """What stands the same at every value and does not hold."""
        ...

    @property
    def weight(self) -> str:
        """Of the questions asked."""
        ...

    @property
    def good(self) -> tuple[int, ...]:
        """Of a choice, all numbers with which all holds."""
        ...

    @property
    def stride(self) -> int:
        """Steps between two values that were tried, at the most."""
        ...

    @property
    def floor(self) -> tuple[float, float] | None:
        """Where the first row lands at the ends (m)."""
        ...


class Held(Protocol):
    """Ranges that were computed, by scale."""

    def get(self, name: str) -> Found | None:
        """The range of a scale, if it was computed."""
        ...


class NothingKnown:
    """No range was computed yet."""

    def get(self, name: str) -> Found | None:
        """None, whatever is asked."""
        del name


NOTHING_KNOWN = NothingKnown()


def ranged(settings: UnitSettings, held: Held, system: Show) -> UnitSettings:
    """Settings with the ranges that are known.

    Args:
        settings: of one unit.
        held: the ranges that were computed.
        system: in which lengths are written.
    """
    knobs = tuple(_with_window(knob, held, system) for knob in settings.knobs)
    choices = tuple(_with_remark(choice, held) for choice in settings.choices)
    return replace(settings, knobs=knobs, choices=choices)


def steps_of(settings: UnitSettings) -> Iterator[Steps]:
    """The scales of a unit's settings, cheap ones first as they are listed."""
    for knob in settings.knobs:
        fitting, setting = setting_of(knob.key)
        values = tuple(_quantity(one, knob, setting) for one in _grid(knob))
        yield Steps(_name(knob), fitting, setting, values, _nearest(knob))
    for choice in settings.choices:
        fitting, setting = setting_of(choice.key)
        values = _chosen(choice)
        if choice.many:
            now = values.index(_numbers(choice.value))
            yield Steps(choice.key, fitting, setting, values, now)
        elif setting in CHOICES and len(values) > 1 and choice.value:
            now = [value for value, _ in choice.options].index(choice.value)
            yield Steps(choice.key, fitting, setting, values, now)


ALL_WAYS = 5
MOST_SAID = 6
"""Ways to choose some among a few that one sentence names."""
CHOICES: Mapping[str, type] = {"settings.fan": str, "settings.channel": int}
"""Choices that are tried one by one."""


def _name(knob: Knob) -> str:
    return f"{knob.key} {knob.unit}"


def _grid(knob: Knob) -> tuple[float, ...]:
    """The values that the slider can stand at, in its unit."""
    count = int((knob.most - knob.least) / knob.step + 1e-6) + 1
    return tuple(round(knob.least + n * knob.step, 9) for n in range(count))


def _nearest(knob: Knob) -> int:
    last = len(_grid(knob)) - 1
    return min(max(round((knob.value - knob.least) / knob.step), 0), last)


def _quantity(value: float, knob: Knob, setting: str) -> Quantity:
    """The value as a site file would say it."""
    return parse(f"{value:.9f} {knob.unit}", DIMENSIONS[setting])


def _chosen(choice: Choice) -> tuple[Value, ...]:
    if choice.many:
        return _together(choice)
    kind = CHOICES.get(setting_of(choice.key)[1], str)
    return tuple(kind(value) for value, _ in choice.options if value)


def _together(choice: Choice) -> tuple[tuple[int, ...], ...]:
    """Every choice of some among a few, fewest first.

    Of more than `ALL_WAYS` only neighbours are taken together: the ways would be too
    many to be asked one by one.
    """
    every = [int(value) for value, _ in choice.options if value]
    sizes = range(1, len(every) + 1)
    if len(every) <= ALL_WAYS:
        return tuple(one for size in sizes for one in combinations(every, size))
    runs = {tuple(every[i : i + n]) for n in sizes for i in range(len(every) - n + 1)}
    return tuple(sorted({*runs, _numbers(choice.value)}, key=lambda r: (len(r), r)))


def _numbers(written: str) -> tuple[int, ...]:
    return tuple(int(number) for number in written.split())


# Knobs -------------------------------------------------------------------------


def _with_window(knob: Knob, held: Held, system: Show) -> Knob:
    found = held.get(_name(knob))
    if found is None:
        return knob
    remark = _remark(found, aimed=setting_of(knob.key)[1] in AIMED)
    if found.ends is None:
        return replace(knob, remark=remark)
    return replace(knob, window=_window(knob, found, system), remark=remark)


def _window(knob: Knob, found: Found, system: Show) -> Window | None:
    if found.ends is None:
        return None
    grid = _grid(knob)
    least, most = grid[found.ends[0]], grid[found.ends[1]]
    if found.floor is not None:
        near, far = (say_length(end, system) for end in found.floor)
        key = "doorway_page.window"
    else:
        near, far = (_written(end, knob, system) for end in (least, most))
        key = "desk_ranges.window"
    said = say(Message(key, {"least": near, "most": far}))
    return Window(least, most, near, far, said)


def _written(value: float, knob: Knob, system: Show) -> str:
    """A value of the slider as people read it."""
    if knob.unit in LENGTHS:
        setting = setting_of(knob.key)[1]
        return say_length(_quantity(value, knob, setting).value, system)
    apart = "" if knob.shown == "°" else " "
    return f"{shown(value, knob.step)}{apart}{knob.shown}"


def _remark(found: Found, *, aimed: bool) -> str:
    """What is hatched, or why nothing is; what is not of this setting's making."""
    if not found.weight:
        return say(Message("desk_ranges.nothing"))
    said = [say(_standing(found, aimed=aimed)), say(_tried(found, aimed=aimed))]
    apart = tuple(one for one in found.besides if one not in found.open)
    if apart:
        named = _named(apart)
        said.append(say(Message("desk_ranges.besides", {"questions": named})))
    return " ".join(said)


def _tried(found: Found, *, aimed: bool) -> Message:
    """Between what was tried nothing was asked: how much that is."""
    if found.stride == 1 and not (aimed and found.ends is None):
        key = "every" if found.ends is None else "between"
        return Message(f"desk_ranges.tried.{key}")
    if aimed and found.ends is None:
        if found.stride == 1:
            return Message("desk_ranges.tried.every_aimed")
        return Message("desk_ranges.tried.aimed", {"stride": found.stride})
    key = "some" if found.ends is not None else "scale"
    return Message(f"desk_ranges.tried.{key}", {"stride": found.stride})


def _standing(found: Found, *, aimed: bool) -> Message:
    if found.ends is not None:
        key = "hatched_aimed" if aimed else f"hatched_{found.weight}"
        return Message(f"desk_ranges.{key}")
    if found.open:
        said = {"questions": _named(found.open)}
        return Message("desk_ranges.open", said)
    return Message(f"desk_ranges.none_{found.weight}")


def _named(questions: tuple[str, ...]) -> str:
    return ", ".join(say_question(one) for one in questions)


# Choices -----------------------------------------------------------------------


def _with_remark(choice: Choice, held: Held) -> Choice:
    found = held.get(choice.key)
    if found is None:
        return choice
    if found.weight and found.good:
        said = {"options": _options(choice, found)}
        key = f"desk_ranges.choice_{found.weight}"
        besides = _named(found.besides)
        tail = Message("desk_ranges.besides", {"questions": besides})
        more = f" {say(tail)}" if besides else ""
        return replace(choice, remark=say(Message(key, said)) + more)
    return replace(choice, remark=_remark(found, aimed=False))


def _options(choice: Choice, found: Found) -> str:
    """What all holds with; of many the ones with the fewest, and how many more."""
    if not choice.many:
        words = [word for value, word in choice.options if value]
        return ", ".join(words[number] for number in found.good)
    ways = _together(choice)
    said = ["+".join(map(str, ways[number])) for number in found.good]
    told = ", ".join(said[:MOST_SAID])
    more = len(said) - MOST_SAID
    if more <= 0:
        return told
    return say(Message("desk_ranges.ways_more", {"ways": told, "more": more}))
