"""What `limen tune` prints."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager
from typing import TYPE_CHECKING

from limen.cli.checking import doorway_lines, headline, patience
from limen.cli.lines import EMPTY, Ink, Line, Piece, columns, wrapped
from limen.cli.paper import paper
from limen.cli.table import MARKS, Style
from limen.exchange import dumps, tally
from limen.exchange.tuning import tuning_contract
from limen.findings import Message, Verdict
from limen.findings.message import length
from limen.findings.tuned import Binding, Choice, Measures, Tuned, Work
from limen.quantity import Quantity, Show
from limen.words import said_margin, said_where, say, say_length, say_question
from limen.words.tuned import is_aimed, said_aim, said_turned

if TYPE_CHECKING:
    from limen.desk.tuning import TunedSite

FIRST = ord("A")
MILLION = 1_000_000
INDENT = 4


def waiting() -> AbstractContextManager[None]:
    """Say what is being done if it takes longer than a moment."""
    return patience(say(Message("tune.cli.working")))


def as_json(tuned: "TunedSite", units: str) -> int:
    """Print the best settings for programs; returns 0: the work is done."""
    values = tuning_contract(tuned.doorways, site=tuned.site.name, system=Show(units))
    paper().put_text(dumps(values))
    return 0


def as_text(tuned: "TunedSite", units: str) -> int:
    """Print the best settings for people; returns 0: the work is done."""
    page = paper()
    page.put(told(tuned, Style(page.width, Show(units))))
    return 0


def told(tuned: "TunedSite", style: Style) -> list[Line]:
    """Doorway by doorway: what to turn, what is traded, why it cannot be better."""
    lines: list[Line] = []
    for one in tuned.doorways:
        lines += [*_doorway(one, style), EMPTY]
    lines += _quiet("tune.cli.caution", style)
    return [*lines, *_quiet("study.caution", style)]


def _doorway(tuned: Tuned, style: Style) -> Iterator[Line]:
    yield from doorway_lines(tuned.before, style)
    was, now = (headline(tally(s.findings)) for s in (tuned.before, tuned.best.study))
    yield from wrapped(was if was == now else f"{was}  →  {now}", style.width)
    yield EMPTY
    yield from _turn(tuned.best, style)
    yield from _traded(tuned, style)
    yield from _why(tuned, style)
    yield from _work(tuned.work, style)


def _turn(best: Choice, style: Style) -> Iterator[Line]:
    """What to do, the floor first."""
    if not best.settings:
        yield from _said("tune.cli.as_set", style, Ink.STRONG)
        return
    for aim in best.aims:
        text = style.say(said_aim(aim))
        yield from wrapped(text, style.width, hang=2, ink=Ink.STRONG)
    aimed = {aim.target.fitting for aim in best.aims}
    for one in best.settings:
        if is_aimed(one) and one.fitting in aimed:
            continue
        ink = Ink.QUIET if one.setting.startswith("read.lit") else Ink.PLAIN
        yield from wrapped(style.say(said_turned(one)), style.width, hang=2, ink=ink)


# What is traded --------------------------------------------------------------------


def _traded(tuned: Tuned, style: Style) -> Iterator[Line]:
    yield EMPTY
    yield from _said("tune.cli.traded", style, Ink.STRONG)
    heads = [Piece(say(Message(f"tune.measure.{m}")), Ink.QUIET) for m in _MEASURES]
    rows = [(Piece(""), *heads), _row("tune.cli.now", "", tuned.now, style)]
    for number, choice in enumerate(tuned.front):
        key = "tune.cli.choice" if number else "tune.cli.best"
        rows.append(_row(key, _letter(number), choice.measures, style))
    for row in columns(rows, style.width, ((0, 12), (1, 10), (3, 10))):
        yield from row
    for number, choice in enumerate(tuned.front[1:], 1):
        yield from _instead(number, choice, tuned.best, style)
    for name, lacks in tuned.lacking.items():
        what = "; ".join(dict.fromkeys(style.say(one.message) for one in lacks))
        said = {"measure": Message(f"tune.measure.{name}"), "what": what}
        text = style.say(Message("tune.cli.unknown", said))
        yield from wrapped(text, style.width, hang=2, ink=Ink.QUIET)


_MEASURES = ("margin", "late", "needless")


def _row(key: str, letter: str, measures: Measures, style: Style) -> tuple[Piece, ...]:
    margin = measures.margin
    room = style.say(said_margin(margin)) if margin else _unknown()
    late = _unknown() if measures.late is None else _share(measures.late)
    name = say(Message(key, {"letter": letter}))
    day = _a_day(measures.needless)
    return Piece(name, Ink.STRONG), Piece(room), Piece(late), Piece(day)


def _unknown() -> str:
    return say(Message("tune.measure.unknown"))


def _share(share: float) -> str:
    return say(Message("tune.measure.share", {"percent": f"{100 * share:.0f}"}))


def _a_day(needless: Quantity | None) -> str:
    """Openings a day; where they may differ much, between what and what."""
    if needless is None:
        return _unknown()
    low, high = round(max(needless.low, 0.0)), round(needless.high)
    if low == high:
        return say(Message("tune.measure.count", {"count": low}))
    return say(Message("tune.measure.between", {"least": low, "most": high}))


def _letter(number: int) -> str:
    return chr(FIRST + number)


def _instead(number: int, choice: Choice, best: Choice, style: Style) -> Iterator[Line]:
    """What a choice sets otherwise than the best."""
    kept = set(best.settings)
    new = [one for one in choice.settings if one not in kept]
    set_here = {(one.fitting, one.setting) for one in choice.settings}
    back = [
        one
        for one in best.settings
        if (one.fitting, one.setting) not in set_here and not _noted(one.setting)
    ]
    said = [style.say(said_turned(one)) for one in new if not _noted(one.setting)]
    said += [
        style.say(said_turned(type(one)(one.fitting, one.setting, one.to, one.was)))
        for one in back
    ]
    values = {
        "letter": _letter(number),
        "best": _letter(0),
        "changes": " ".join(said),
    }
    text = style.say(Message("tune.cli.other_than", values))
    more = len(choice.study.of(Verdict.FAILS)) - len(best.study.of(Verdict.FAILS))
    if more > 0:
        text += f" ({say(Message('tune.cli.fails', {'count': more}))})"
    yield from wrapped(text, style.width, hang=2)


def _noted(setting: str) -> bool:
    return setting.startswith("read.lit")


# Why -----------------------------------------------------------------------------


def _why(tuned: Tuned, style: Style) -> Iterator[Line]:
    if not tuned.why_not_better:
        return
    yield EMPTY
    yield from _said("tune.cli.why", style, Ink.STRONG)
    for several in _alike(tuned.why_not_better):
        yield from _binding(several, style)


def _alike(bindings: Sequence[Binding]) -> Iterable[list[Binding]]:
    """Findings of one question that stand alike, together."""
    kinds: dict[tuple[object, ...], list[Binding]] = {}
    for one in bindings:
        finding = one.finding
        lifts = tuple(lift.key for lift in one.lifts)
        key = finding.question, finding.verdict, finding.because.key, lifts
        kinds.setdefault(key, []).append(one)
    return kinds.values()


def _binding(several: Sequence[Binding], style: Style) -> Iterator[Line]:
    one = several[0]
    finding = one.finding
    where = "; ".join(filter(None, (said_where(b.finding) for b in several)))
    title = say_question(finding.question)
    mark = MARKS[finding.verdict]
    name = f"{title} · {where}" if where else title
    first, *rest = wrapped(name, style.width, indent=INDENT)
    yield Piece(f"{mark.text:<{INDENT}}", mark.ink), Piece(first[0].text[INDENT:])
    yield from rest
    for text, ink in _below(one, style):
        yield from wrapped(text, style.width, indent=INDENT, hang=2, ink=ink)


def _below(one: Binding, style: Style) -> Iterator[tuple[str, Ink]]:
    finding = one.finding
    if finding.verdict is Verdict.HOLDS:
        room = style.say(said_margin(finding.margin)) if finding.margin else ""
        yield f"{room}. {say(Message('tune.cli.holds_back'))}", Ink.PLAIN
    for lift in one.lifts:
        what = style.say(lift)
        yield style.say(Message("tune.cli.lift", {"what": what})), Ink.STRONG
    if one.lifts or finding.verdict is not Verdict.NOT_SHOWN:
        return
    for lack in finding.lacking[:1]:
        what = style.say(lack.message)
        yield style.say(Message("tune.cli.find_out", {"what": what})), Ink.PLAIN


# What it took ----------------------------------------------------------------------


def _work(work: Work, style: Style) -> Iterator[Line]:
    yield EMPTY
    key = "tune.cli.work_many" if work.grid > MILLION else "tune.cli.work"
    said = {"grid": work.grid, "studies": work.studies, "proofs": work.proofs}
    yield from wrapped(style.say(Message(key, said)), style.width, ink=Ink.QUIET)
    yield from _every(work, style)
    if work.gap:
        gap = Message("tune.cli.gap", {"gap": length(work.gap)})
        yield from wrapped(style.say(gap), style.width, ink=Ink.QUIET)
    else:
        exact = Message("tune.cli.exact", {"step": say_length(work.step, style.system)})
        yield from wrapped(style.say(exact), style.width, ink=Ink.QUIET)


def _every(work: Work, style: Style) -> list[Line]:
    if work.every == 1:
        return []
    coarse = Message("tune.cli.every", {"count": work.every})
    return wrapped(style.say(coarse), style.width, ink=Ink.QUIET)


def _said(key: str, style: Style, ink: Ink) -> list[Line]:
    return wrapped(style.say(Message(key)), style.width, ink=ink)


def _quiet(key: str, style: Style) -> list[Line]:
    return wrapped(style.say(Message(key)), style.width, hang=2, ink=Ink.QUIET)
