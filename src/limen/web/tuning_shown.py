"""The best settings as their page shows them: lines, choices, and what binds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from limen.desk.library import Desk, Opened, study_of
from limen.desk.tuning_kept import choice_of, letter_of
from limen.desk.variants import NOW, Side
from limen.findings import Message, Target, Verdict
from limen.findings.message import length, turn
from limen.quantity import Dimension, Show, parse
from limen.web.doorway_knobs import CHOSEN, DIMENSIONS
from limen.web.doorway_lines import line, say
from limen.web.look import Look
from limen.web.tuning_picture import Measured, Name, Pictured, pictured, said
from limen.web.variants_shown import compared
from limen.words import has, say_quantity, say_unit

if TYPE_CHECKING:
    from limen.tune.result import Aim, Binding, Choice, Measures, Tuned, Turned

HAIR = 5e-4
"""m: less than a floor shows."""
MANY = 1_000_000
AIMED = ("settings.tilt", "read.first_row")
WALKED = "read.lit_"
KEPT_WITH = {"read.lit_tilt": Dimension.ANGLE, "read.lit_reach": Dimension.RATIO}


@dataclass(frozen=True, slots=True)
class Done:
    """One thing that is done at the door.

    Attributes:
        kind: ``row`` is brought, ``stays`` is a row that stays, ``setting`` is set.
        do: what to do.
        good: in which window it is good.
        more: what is good to know.
    """

    kind: str
    do: str
    good: str = ""
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """One choice in the table.

    Attributes:
        letter: what it is called.
        name: the same, with what it is.
        href: where it is looked at; empty for what is set now.
        chosen: whether it is looked at.
        values: its measures in words.
        changes: what it changes, in words.
    """

    letter: str
    name: str
    href: str
    chosen: bool
    values: tuple[str, ...]
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """One question that keeps the settings from being better.

    Attributes:
        verdict: its verdict.
        name: the question, with where.
        because: the reason, and its room.
        lifts: what beyond the settings lifts it.
        lacks: what would settle it.
        none: what is said where there is neither.
    """

    verdict: str
    name: str
    because: str
    lifts: tuple[str, ...]
    lacks: tuple[str, ...]
    none: str


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the page says of what was found.

    Attributes:
        letter: the choice that is looked at.
        heading, lead: what is shown first.
        says: the choice in a sentence, to be read out.
        aims: what is done at the door.
        changes: whether it changes anything.
        set: what the button says.
        choose: what the choices are about.
        wide, narrow: the picture.
        notes: what the picture leaves to words.
        columns: names of the measures.
        rows: the choices; what is set now comes last.
        whys: what binds.
        work: what the search took.
    """

    letter: str
    heading: str
    lead: str
    says: str
    aims: tuple[Done, ...]
    changes: bool
    set: str
    choose: str
    wide: str
    narrow: str
    notes: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    whys: tuple[Why, ...]
    work: str


def shown_of(
    desk: Desk, opened: Opened, found: "Tuned", letter: str, look: Look, address: str
) -> dict[str, Any]:
    """What the page shows of the best settings.

    Args:
        desk: the desk.
        opened: the site.
        found: what was found at a doorway.
        letter: the choice that is looked at; the best if empty.
        look: units and side that the reader wants.
        address: of the doorway.

    Raises:
        Refusal: there is no such choice.
    """
    letter, choice = choice_of(found, letter)
    return {
        "tuned": _shown(found, letter, choice, look, address),
        "two": _two(desk, opened, choice, letter, look) if choice.settings else None,
    }


def _shown(
    found: "Tuned", letter: str, choice: "Choice", look: Look, address: str
) -> Shown:
    every, now = _measured(found, letter, look, address)
    drawn = pictured(every, now, look)
    chosen, many = next(one for one in every if one.chosen), len(every) > 1
    return Shown(
        letter,
        _said("aim.heading", letter=letter) if many else _said("aim.alone"),
        _lead(found, choice),
        chosen.says,
        tuple(_done(choice, look.system)),
        bool(choice.settings),
        _said("set.do", letter=letter) if many else _said("set.alone"),
        _choose(found),
        drawn.wide,
        drawn.narrow,
        tuple(_notes(found, drawn, look)),
        tuple(_said(f"column.{name}") for name in Name),
        tuple(_rows(found, every, now, look)) if many or choice.settings else (),
        tuple(_why(one, look.system) for one in found.why_not_better),
        _work(found),
    )


def _two(
    desk: Desk, opened: Opened, choice: "Choice", letter: str, look: Look
) -> object:
    """The doorway as it is set now and with the choice, both with its target lines."""
    door = choice.study.doorway.id
    now = Side(NOW, "", study_of(desk, opened, door), {})
    name = _said("two.choice", letter=letter)
    targets = tuple(one.target for one in choice.aims)
    return compared(
        now, Side(letter, name, choice.study, {}), "plan", "", look, targets
    )


# What to do ---------------------------------------------------------------------


def _lead(found: "Tuned", choice: "Choice") -> str:
    """What stands above what is to be done."""
    if not choice.settings:
        return _said("aim.nothing")
    failing = len(choice.study.musts(Verdict.FAILS))
    before = len(found.before.musts(Verdict.FAILS))
    if failing:
        return _said("aim.mends_some", before=before, after=failing)
    return _said("aim.mends", before=before) if before else ""


def _done(choice: "Choice", system: Show) -> Iterator[Done]:
    """Rows first, then what is set by a scale or a switch alone."""
    aimed = {one.target.fitting for one in choice.aims}
    for aim in choice.aims:
        yield _brought(aim, system)
    for one in choice.settings:
        brought = one.setting in AIMED and one.fitting in aimed
        # What was walked stays what it is: that is written down, not done at the door.
        if not brought and not one.setting.startswith(WALKED):
            yield Done("setting", _changed(one, system))


def _brought(aim: "Aim", system: Show) -> Done:
    target = aim.target
    stays = abs(target.best - target.was) < HAIR
    said = {
        "row": target.row,
        "fitting": target.fitting,
        "best": length(target.best),
        "was": length(target.was),
    }
    do = say(
        Message(f"desk_tune.aim.{'stays' if stays else 'bring'}", said), system=system
    )
    window = {"least": length(target.least), "most": length(target.most)}
    good = say(Message("desk_tune.aim.good", window), system=system)
    more = tuple(_scale(aim, target, system, stays=stays))
    return Done("stays" if stays else "row", do, good, more)


def _scale(aim: "Aim", target: Target, system: Show, *, stays: bool) -> Iterator[str]:
    """What it is on the scale, and whether the scale is fine enough to say it."""
    if not stays:
        way = "away" if target.turn > 0 else "nearer"
        about = {"turn": turn(abs(target.turn)), "was": length(target.was)}
        yield say(Message(f"desk_tune.aim.turn.{way}", about), system=system)
    if aim.coarse and aim.step is not None:
        step = {"step": length(aim.step)}
        yield say(Message("desk_tune.aim.coarse", step), system=system)


def _changed(one: "Turned", system: Show) -> str:
    """A setting from what to what."""
    values = {
        "name": _named(one.setting),
        "where": say_unit(one.fitting),
        "was": _value(one.setting, one.was, system),
        "to": _value(one.setting, one.to, system),
    }
    return say(Message("desk_tune.change", values), system=system)


def _named(setting: str) -> Message:
    name = setting.removeprefix("settings.")
    page = f"doorway_page.setting.{name}"
    return Message(page if has(page) else f"desk_tune.setting.{name}")


def _value(setting: str, text: str, system: Show) -> str:
    if not text:
        return say(Message("doorway_page.unset"))
    dimension = {**DIMENSIONS, **KEPT_WITH}.get(setting)
    if setting in CHOSEN or dimension is None:
        return text
    return say_quantity(parse(text, dimension), dimension, system)


# Choices ------------------------------------------------------------------------


def _choose(found: "Tuned") -> str:
    if len(found.front) > 1:
        return _said("choose.tap")
    return _said("choose.one" if found.best.settings else "choose.none")


def _measured(
    found: "Tuned", letter: str, look: Look, address: str
) -> tuple[list[Measured], Measured]:
    # What fails with every choice is not of a choice's making.
    failing = [len(one.study.musts(Verdict.FAILS)) for one in found.front]
    every = [
        _gauged(
            name := letter_of(index),
            one.measures,
            look,
            f"{address}/tuning?choice={name}",
            chosen=name == letter,
            fails=failing[index] > min(failing),
        )
        for index, one in enumerate(found.front)
    ]
    fails = len(found.before.musts(Verdict.FAILS)) > min(failing)
    return every, _gauged(_said("now"), found.now, look, "", fails=fails)


def _gauged(
    letter: str,
    measures: "Measures",
    look: Look,
    href: str,
    *,
    chosen: bool = False,
    fails: bool = False,
) -> Measured:
    margin, needless = measures.margin, measures.needless
    room = margin if margin and margin.dimension is Dimension.LENGTH else None
    one = Measured(
        letter,
        "",
        href,
        needless.value if needless else None,
        measures.late,
        room.least if room else None,
        chosen,
        fails,
        needless.u if needless else 0.0,
    )
    words = {name.value: said(one, name, look) for name in Name}
    says = _said("choose.says.one_choice", letter=letter, **words)
    return replace(one, says=f"{says} {_said('choose.says.fails')}" if fails else says)


def _notes(found: "Tuned", drawn: Pictured, look: Look) -> Iterator[str]:
    """What the picture leaves to words: alike, known of some, not known and why."""
    best = found.best.measures
    first = _gauged("", best, look, "")
    many = len(found.front) > 1
    for name in drawn.alike:
        value = said(first, name, look)
        key = "choose.alike" if many else "choose.single"
        yield _said(key, what=_said(f"column.{name}"), value=value)
    for name in drawn.partly:
        yield _said("choose.partly", what=_said(f"column.{name}"))
    for name in drawn.unknown:
        yield _said("choose.unknown", what=_said(f"column.{name}"))
        for lack in found.lacking.get(name.value, ()):
            yield _said("choose.lacks", what=lack.message)


def _rows(
    found: "Tuned", every: Sequence[Measured], now: Measured, look: Look
) -> Iterator[Row]:
    for one, choice in zip(every, found.front, strict=True):
        changes = tuple(_changed(turned, look.system) for turned in choice.settings)
        best = one is every[0]
        name = _said("each.best", letter=one.letter) if best else one.letter
        yield Row(one.letter, name, one.href, one.chosen, _values(one, look), changes)
    yield Row("", _said("each.now"), "", False, _values(now, look), ())  # noqa: FBT003


def _values(one: Measured, look: Look) -> tuple[str, ...]:
    return tuple(said(one, name, look) for name in Name)


# What binds ---------------------------------------------------------------------


def _why(one: "Binding", system: Show) -> Why:
    shown, lacking = line(one.finding, system), one.finding.lacking
    where = {"name": shown.name, "where": shown.where}
    because = " ".join(part for part in (shown.because, shown.room) if part)
    return Why(
        shown.verdict,
        say(Message("doorway_page.apart", where)) if shown.where else shown.name,
        because,
        tuple(say(lift, system=system) for lift in one.lifts),
        tuple(_said("choose.lacks", what=lack.message) for lack in lacking),
        "" if one.lifts or lacking else _said("why.none"),
    )


def _work(found: "Tuned") -> str:
    work = found.work
    many = work.grid > MANY
    grid = Message("desk_tune.search.many") if many else f"{work.grid}"
    counts = {"studies": work.studies, "proofs": work.proofs, "grid": grid}
    key = "exact" if work.gap == 0 else "near"
    return say(Message(f"desk_tune.search.{key}", {**counts, "gap": length(work.gap)}))


def _said(key: str, **values: str | int | Message) -> str:
    return say(Message(f"desk_tune.{key}", values))
