"""Two variants side by side: both drawn at one scale, and what they have apart."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from limen.desk.turned_text import CHOSEN, DIMENSIONS, setting_of
from limen.desk.variants import NOW, Setting, Side, differing
from limen.draw import Scene, View, lay_out, scene, write_sheet
from limen.draw.scene import Frame
from limen.draw.turning import seen_from_inside
from limen.findings import Finding, Message, Study, Target
from limen.quantity import Show, parse
from limen.web.doorway_drawn import to_draw
from limen.web.doorway_lines import Line, found, id_of, line
from limen.web.look import Look
from limen.words import say, say_quantity
from limen.words.places import say_unit

WIDE, NARROW = 680.0, 340.0  # px of the drawing on a wide screen and on a phone
WORST = ("fails", "not shown", "holds", "not asked", "")


@dataclass(frozen=True, slots=True)
class Shown:
    """One of the two.

    Attributes:
        id: the variant, or ``now``.
        name: what it is called.
        wide, narrow: its drawing for a wide screen and for a phone.
        says: the drawing in words.
        gone: settings that lead nowhere any more.
        tally: how many musts fail and are not shown, in words.
    """

    id: str
    name: str
    wide: str
    narrow: str
    says: str
    gone: tuple[str, ...]
    tally: str


@dataclass(frozen=True, slots=True)
class Apart:
    """A setting that the two have apart, in words."""

    name: str
    left: str
    right: str


@dataclass(frozen=True, slots=True)
class Answers:
    """A question that the two answer differently, or with another margin."""

    name: str
    where: str
    left: Line | None
    right: Line | None

    @property
    def turned(self) -> bool:
        """Whether the verdict is another one."""
        return (self.left and self.left.verdict) != (self.right and self.right.verdict)


@dataclass(frozen=True, slots=True)
class Compared:
    """All of the compare page.

    Attributes:
        left, right: the two.
        drawn: name of the finding that is drawn in both; empty if none is.
        settings: what they have apart.
        answers: questions with another verdict, the worst first.
        rooms: questions with the same verdict and other room to spare.
    """

    left: Shown
    right: Shown
    drawn: str
    settings: tuple[Apart, ...]
    answers: tuple[Answers, ...]
    rooms: tuple[Answers, ...]


def compared(
    left: Side,
    right: Side,
    view: View,
    wanted: str,
    look: Look,
    targets: tuple[Target, ...] | None = None,
) -> Compared:
    """Two sides of one doorway, as a page shows them.

    Args:
        left: the one on the left.
        right: the other.
        view: which drawing.
        wanted: name of the finding that is drawn; the worst that has a place if empty.
        look: units and side that the reader wants.
        targets: target lines that are drawn in both; those of the finding if None.
    """
    answers = sorted(_answers(left, right, look.system), key=_standing)
    drawn = wanted or _apart_drawn(answers) or _worst_drawn(left.study)
    sides = (left, right)
    scenes = _alike([_scene(one.study, view, drawn, look, targets) for one in sides])
    return Compared(
        _shown(left, scenes[0]),
        _shown(right, scenes[1]),
        drawn,
        tuple(_apart(one, look.system) for one in differing(left, right)),
        tuple(one for one in answers if one.turned),
        tuple(one for one in answers if not one.turned),
    )


def name_of(side: Side) -> str:
    """What a side is called."""
    if side.id == NOW:
        return say(Message("desk_variants.now"))
    return side.name


# Drawn -------------------------------------------------------------------------


def _apart_drawn(answers: Sequence[Answers]) -> str:
    """The worst finding with another verdict that can be drawn; empty if none can."""
    sides = (side for one in answers if one.turned for side in (one.left, one.right))
    return next((one.id for one in sides if one and one.drawn), "")


def _worst_drawn(study: Study) -> str:
    finding = to_draw(study, None)
    return id_of(finding) if finding else ""


def _scene(
    study: Study,
    view: View,
    drawn: str,
    look: Look,
    targets: tuple[Target, ...] | None,
) -> Scene:
    finding, system = found(study, drawn), look.system
    made = scene(study, view, finding=finding, targets=targets, system=system)
    return seen_from_inside(made) if look.turned and view == "plan" else made


def _alike(scenes: Sequence[Scene]) -> list[Scene]:
    """The same piece of the doorway in both, so that they have the same scale."""
    one, other = scenes
    frame, close = _over(one.frame, other.frame), _over(one.close, other.close)
    return [replace(each, frame=frame, close=close, note="") for each in scenes]


def _over(one: Frame, other: Frame) -> Frame:
    return one.over([(other.left, other.bottom), (other.right, other.top)])


def _shown(side: Side, drawn: Scene) -> Shown:
    wide, narrow = (write_sheet(lay_out(drawn, width)) for width in (WIDE, NARROW))
    verdicts = [one.verdict.value for one in _musts(side.study)]
    fails, still = (verdicts.count(word) for word in WORST[:2])
    tally = say(Message("desk_variants.musts", {"fails": fails, "open": still}))
    says = f"{drawn.title}. {drawn.description}"
    gone = tuple(_named(key) for key in side.gone)
    return Shown(side.id, name_of(side), wide, narrow, says, gone, tally)


def _musts(study: Study) -> list[Finding]:
    return [one for one in study.findings if one.weight.value == "must"]


# Apart -------------------------------------------------------------------------


def _apart(one: Setting, system: Show) -> Apart:
    left, right = (_value(one.key, text, system) for text in (one.left, one.right))
    return Apart(_named(one.key), left, right)


def _named(key: str) -> str:
    fitting, setting = setting_of(key)
    key = setting.removeprefix("settings.")
    name = say(Message(f"doorway_page.setting.{key}"))
    said = {"name": name, "where": say_unit(fitting)}
    return say(Message("doorway_page.apart", said))


def _value(key: str, text: str, system: Show) -> str:
    setting = setting_of(key)[1]
    if not text:
        return say(Message("doorway_page.unset"))
    if setting in CHOSEN:
        return text
    dimension = DIMENSIONS[setting]
    return say_quantity(parse(text, dimension), dimension, system)


def _answers(left: Side, right: Side, system: Show) -> Iterator[Answers]:
    one, other = _lines(left.study, system), _lines(right.study, system)
    for name in dict.fromkeys((*one, *other)):
        a, b = one.get(name), other.get(name)
        known = a or b
        if known is not None and _told(a) != _told(b):
            yield Answers(known.name, known.where, a, b)


def _lines(study: Study, system: Show) -> dict[str, Line]:
    return {id_of(finding): line(finding, system) for finding in study.findings}


def _told(one: Line | None) -> tuple[str, str] | None:
    return (one.verdict, one.room) if one else None


def _standing(one: Answers) -> tuple[int, int, str]:
    """Other verdicts before other margins, the worst first."""
    verdicts = [each.verdict if each else "" for each in (one.left, one.right)]
    worst = min(WORST.index(verdict) for verdict in verdicts)
    return int(not one.turned), worst, one.name
