"""The best settings as their page shows them: lines, choices, and what binds."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from limen.desk.library import Desk, Opened, study_of
from limen.desk.tuning_kept import choice_of, letter_of
from limen.desk.variants import NOW, Side
from limen.draw import View
from limen.findings import Measure, Message, Study, Verdict
from limen.findings.message import length
from limen.quantity import Dimension, Show
from limen.web.doorway_lines import id_of, say
from limen.web.look import Look
from limen.web.tuning_done import Done, done, listed
from limen.web.tuning_picture import Measured, Name, Pictured, pictured, said
from limen.web.tuning_why import Why, settling, whys
from limen.web.variants_shown import compared

if TYPE_CHECKING:
    from limen.findings.tuned import Choice, Measures, Tuned, Turned

MANY = 1_000_000
ROWS = ("presence.threshold", "presence.leaf_path")
VIEWS: tuple[View, ...] = ("plan", "section")


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
    binding = whys(found, look.system)
    chosen, many = next(one for one in every if one.chosen), len(every) > 1
    return Shown(
        letter,
        _said("aim.heading", letter=letter) if many else _said("aim.alone"),
        _lead(found, choice),
        chosen.says,
        tuple(done(choice, look.system)),
        bool(choice.settings),
        _said("set.do", letter=letter) if many else _said("set.alone"),
        _choose(found),
        drawn.wide,
        drawn.narrow,
        tuple(_notes(found, drawn, look)),
        tuple(_said(f"column.{name}") for name in Name),
        tuple(_rows(found, every, now, look)) if many or choice.settings else (),
        tuple(_alike(found, look.system)),
        tuple(one for one in binding if not one.open),
        tuple(one for one in binding if one.open),
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
        yield from settling(found.lacking.get(name.value, ()), look.system)


def _rows(
    found: "Tuned", every: Sequence[Measured], now: Measured, look: Look
) -> Iterator[Row]:
    """The choices with what each changes besides what all do, then what is set now."""
    common = _common(found)
    for one, choice in zip(every, found.front, strict=True):
        own = [turned for turned in choice.settings if turned not in common]
        changes = tuple(listed(own, look.system))
        best = one is every[0]
        name = _said("each.best", letter=one.letter) if best else one.letter
        yield Row(one.letter, name, one.href, one.chosen, _values(one, look), changes)
    yield Row("", _said("each.now"), "", False, _values(now, look), ())  # noqa: FBT003


def _alike(found: "Tuned", system: Show) -> Iterator[str]:
    """What every choice changes."""
    yield from listed(_common(found), system)


def _common(found: "Tuned") -> "list[Turned]":
    """Settings that all choices change alike; none where there is one choice."""
    if len(found.front) < 2:  # noqa: PLR2004 - one has nothing in common
        return []
    first, *others = (one.settings for one in found.front)
    return [one for one in first if all(one in other for other in others)]


def _values(one: Measured, look: Look) -> tuple[str, ...]:
    return tuple(said(one, name, look) for name in Name)


def _lead(found: "Tuned", choice: "Choice") -> str:
    """What stands above what is to be done."""
    if not choice.settings:
        return _said("aim.nothing")
    failing = len(choice.study.musts(Verdict.FAILS))
    before = len(found.before.musts(Verdict.FAILS))
    if failing:
        return _said("aim.mends_some", before=before, after=failing)
    return _said("aim.mends", before=before) if before else ""


def _work(found: "Tuned") -> str:
    work = found.work
    many = work.grid > MANY
    grid = Message("desk_tune.search.many") if many else f"{work.grid}"
    counts = {"studies": work.studies, "proofs": work.proofs, "grid": grid}
    told = [say(Message("desk_tune.search.made", counts))]
    if work.gap:
        told.append(_said("search.near", gap=length(work.gap)))
    if work.every > 1:
        told.append(_said("search.every", every=work.every))
    if len(told) == 1:
        told.append(_said("search.exact"))
    return " ".join(told)


def _said(key: str, **values: str | int | Measure | Message) -> str:
    return say(Message(f"desk_tune.{key}", values))
