"""What a choice asks for at the door: rows brought to their lines, settings set."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from limen.findings import Message, Target
from limen.findings.message import length, turn
from limen.quantity import Show
from limen.web.doorway_lines import say
from limen.words.tuned import is_aimed, said_turned

if TYPE_CHECKING:
    from limen.findings.tuned import Aim, Choice, Turned

HAIR = 5e-4
"""m: less than a floor shows."""
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


def done(choice: "Choice", system: Show) -> Iterator[Done]:
    """What is done at the door: rows first, then what is set by a switch alone.

    Args:
        choice: the choice.
        system: in which lengths are written.
    """
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


def listed(settings: "Sequence[Turned]", system: Show) -> Iterator[str]:
    """Settings in words; what is only written down with them is left out."""
    for one in settings:
        if not one.setting.startswith(WALKED):
            yield say(said_turned(one), system=system)
