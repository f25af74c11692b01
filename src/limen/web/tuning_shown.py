"""The best settings as their page shows them: lines, choices, and what binds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from limen.desk.library import Desk, Opened, study_of
from limen.desk.tuning_kept import choice_of, letter_of
from limen.desk.variants import NOW, Side
from limen.draw import View
from limen.findings import Message, Study, Target, Verdict
from limen.findings.message import length, turn
from limen.quantity import Dimension, Show
from limen.tune.told import is_aimed, said_turned
from limen.web.doorway_lines import Line, id_of, line, say
from limen.web.look import Look
from limen.web.tuning_picture import Measured, Name, Pictured, pictured, said
from limen.web.variants_shown import compared

if TYPE_CHECKING:
    from limen.tune.result import Aim, Choice, Measures, Tuned, Turned

HAIR = 5e-4
"""m: less than a floor shows."""
MANY = 1_000_000
ROWS = ("presence.threshold", "presence.leaf_path")
VIEWS: tuple[View, ...] = ("plan", "section")
WALKED = "read.lit_"


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
    """

    verdict: str
    name: str
    because: str
    lifts: tuple[str, ...]
    lacks: tuple[str, ...]

    @property
    def open(self) -> bool:
        """Whether it is not shown, and nothing was proved to help."""
        return self.verdict == Verdict.NOT_SHOWN.value and not self.lifts


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
        alike: what every choice changes, where there are several.
        whys: what binds.
        open: what is not shown, whatever is set.
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
    alike: tuple[str, ...]
    whys: tuple[Why, ...]
    open: tuple[Why, ...]
    work: str


def shown_of(
    desk: Desk,
    opened: Opened,
    found: "Tuned",
    letter: str,
    view: View,
    look: Look,
    address: str,
) -> dict[str, Any]:
    """What the page shows of the best settings.

    Args:
        desk: the desk.
        opened: the site.
        found: what was found at a doorway.
        letter: the choice that is looked at; the best if empty.
        view: in which drawing it stands beside what is set now.
        look: units and side that the reader wants.
        address: of the doorway.

    Raises:
        Refusal: there is no such choice.
    """
    letter, choice = choice_of(found, letter)
    return {
        "tuned": _shown(found, letter, choice, look, address),
        "two": _two(desk, opened, choice, letter, view, look)
        if choice.settings
        else None,
        "view": view,
        "views": [(v, say(Message(f"doorway_page.view.{v}"))) for v in VIEWS],
    }


def _shown(
    found: "Tuned", letter: str, choice: "Choice", look: Look, address: str
) -> Shown:
    every, now = _measured(found, letter, look, address)
    drawn = pictured(every, now, look)
    whys = _whys(found, look.system)
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
        tuple(_alike(found, look.system)),
        tuple(one for one in whys if not one.open),
        tuple(one for one in whys if one.open),
        _work(found),
    )


def _two(
    desk: Desk,
    opened: Opened,
    choice: "Choice",
    letter: str,
    view: View,
    look: Look,
) -> object:
    """The doorway as it is set now and with the choice, both with its target lines."""
    door = choice.study.doorway.id
    now = Side(NOW, "", study_of(desk, opened, door), {})
    after = Side(letter, _said("two.choice", letter=letter), choice.study, {})
    targets = tuple(one.target for one in choice.aims)
    wanted = _missed(now.study) if targets else ""
    return compared(now, after, view, wanted, look, targets)


def _missed(study: Study) -> str:
    """The first body that is missed by the rows, which the target lines are for."""
    missed = (
        id_of(one)
        for one in study.musts(Verdict.FAILS)
        if one.question in ROWS and one.witness and one.witness.pose
    )
    return next(missed, "")


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
        brought = is_aimed(one) and one.fitting in aimed
        # What was walked stays what it is: that is written down, not done at the door.
        if not brought and not one.setting.startswith(WALKED):
            yield Done("setting", say(said_turned(one), system=system))


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
    if Name.NEEDLESS in drawn.axes and best.needless and best.needless.u:
        yield _said("choose.off")
    for name in drawn.partly:
        yield _said("choose.partly", what=_said(f"column.{name}"))
    for name in drawn.unknown:
        yield _said("choose.unknown", what=_said(f"column.{name}"))
        for lack in found.lacking.get(name.value, ()):
            yield _said("choose.lacks", what=lack.message)


def _rows(
    found: "Tuned", every: Sequence[Measured], now: Measured, look: Look
) -> Iterator[Row]:
    """The choices with what each changes besides what all do, then what is set now."""
    common = _common(found)
    for one, choice in zip(every, found.front, strict=True):
        own = [turned for turned in choice.settings if turned not in common]
        changes = tuple(_listed(own, look.system))
        best = one is every[0]
        name = _said("each.best", letter=one.letter) if best else one.letter
        yield Row(one.letter, name, one.href, one.chosen, _values(one, look), changes)
    yield Row("", _said("each.now"), "", False, _values(now, look), ())  # noqa: FBT003


def _alike(found: "Tuned", system: Show) -> Iterator[str]:
    """What every choice changes."""
    yield from _listed(_common(found), system)


def _common(found: "Tuned") -> "list[Turned]":
    """Settings that all choices change alike; none where there is one choice."""
    if len(found.front) < 2:  # noqa: PLR2004 - one has nothing in common
        return []
    first, *others = (one.settings for one in found.front)
    return [one for one in first if all(one in other for other in others)]


def _listed(settings: "Sequence[Turned]", system: Show) -> Iterator[str]:
    """Settings in words; what is only written down with them is left out."""
    for one in settings:
        if not one.setting.startswith(WALKED):
            yield say(said_turned(one), system=system)


def _values(one: Measured, look: Look) -> tuple[str, ...]:
    return tuple(said(one, name, look) for name in Name)


# What binds ---------------------------------------------------------------------

_Key = tuple[str, str, str, tuple[str, ...], tuple[str, ...]]


def _whys(found: "Tuned", system: Show) -> tuple[Why, ...]:
    """What binds; questions with the same answer for several cases once."""
    told: dict[_Key, list[Line]] = {}
    for one in found.why_not_better:
        shown = line(one.finding, system)
        lifts = tuple(say(lift, system=system) for lift in one.lifts)
        lacks = tuple(
            dict.fromkeys(
                _said("choose.lacks", what=lack.message) for lack in one.finding.lacking
            )
        )
        because = " ".join(part for part in (shown.because, shown.room) if part)
        key = (shown.verdict, shown.name, because, lifts, lacks)
        told.setdefault(key, []).append(shown)
    return tuple(_why(key, lines) for key, lines in told.items())


def _why(key: _Key, lines: Sequence[Line]) -> Why:
    verdict, name, because, lifts, lacks = key
    where = "; ".join(one.where for one in lines if one.where)
    apart = Message("doorway_page.apart", {"name": name, "where": where})
    return Why(verdict, say(apart) if where else name, because, lifts, lacks)


def _work(found: "Tuned") -> str:
    work = found.work
    many = work.grid > MANY
    grid = Message("desk_tune.search.many") if many else f"{work.grid}"
    counts = {"studies": work.studies, "proofs": work.proofs, "grid": grid}
    key = "exact" if work.gap == 0 else "near"
    return say(Message(f"desk_tune.search.{key}", {**counts, "gap": length(work.gap)}))


def _said(key: str, **values: str | int | Message) -> str:
    return say(Message(f"desk_tune.{key}", values))
