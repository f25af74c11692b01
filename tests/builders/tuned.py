"""What tuning may come to: choices by hand at a doorway of the demo."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path

from limen import load_site, study
from limen.findings import Change, Lack, Margin, Message, Study, Target
from limen.findings.tuned import (
    Aim,
    Binding,
    Choice,
    Measures,
    Tuned,
    Turned,
    Work,
)
from limen.quantity import Dimension, Grade, Quantity
from limen.study.applying import apply

DAY = date(2026, 11, 25)
AS_FOUND = Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml")))
ROOM = {"A": 0.012, "B": 0.009, "C": 0.004}
LATE = {"A": 0.02, "B": 0.05, "C": 0.0}
NEEDLESS = {"A": 140.0, "B": 60.0, "C": 210.0}
TILTS = {"A": "-2.5 deg", "B": "-2.6 deg", "C": "-2.4 deg"}
REACH = {"A": "80 %", "B": "50 %", "C": "100 %"}


@cache
def doorway_of(door: str) -> Study:
    """A doorway of the demo as found."""
    (found,) = [one for one in load_site(AS_FOUND).doorway if one.id == door]
    return study(found, on=DAY)


def measures(
    margin: float | None, late: float | None, needless: float | None
) -> Measures:
    """What a choice comes to; None is not known."""
    room = None if margin is None else Margin(margin, 0.0, Dimension.LENGTH)
    a_day = None if needless is None else Quantity(needless, 0.0, Grade.ESTIMATE)
    return Measures(room, late, a_day)


def aim(side: str, was: float = 0.125, step: float | None = 0.004) -> Aim:
    """A target line of a unit's first row."""
    return Aim(Target(side, 1, 0.064, 0.058, 0.070, was, -0.021), step)


def choice(letter: str, **known: Mapping[str, float | None]) -> Choice:
    """Both units of the main entrance turned nearer, the radar's reach changed."""
    settings = tuple(
        Turned(side, setting, was, to)
        for side in ("outside", "inside")
        for setting, was, to in (
            ("settings.tilt", "-1.3 deg", TILTS[letter]),
            ("settings.reach", "70 %", REACH[letter]),
        )
    )
    before = doorway_of("main").doorway
    made = apply(before, [Change(s.fitting, s.setting, s.to) for s in settings])
    gauged = {
        "margin": ROOM[letter],
        "late": LATE[letter],
        "needless": NEEDLESS[letter],
        **known.get(letter, {}),
    }
    found = study(made, on=DAY)
    return Choice(settings, (aim("outside"), aim("inside")), measures(**gauged), found)


@cache
def three() -> Tuned:
    """Three choices at the main entrance, and what is set now."""
    before = doorway_of("main")
    wired = next(f for f in before.findings if f.question == "wiring.inputs")
    lift = Message("remedy.settings.fan", {"fitting": "outside", "value": "wide"})
    return Tuned(
        before=before,
        now=measures(-0.027, 0.08, 150.0),
        front=tuple(choice(letter) for letter in "ABC"),
        why_not_better=(Binding(wired, (lift,)), Binding(before.findings[0], ())),
        lacking={},
        work=Work(4, 310, 40_000, 0.0),
    )


def _with_channel(one: Choice) -> Choice:
    """A choice that changes a channel besides, and writes down what was walked."""
    more = (
        Turned("inside", "settings.channel", "1", "2"),
        Turned("inside", "read.lit_tilt", "", "30 deg"),
    )
    return replace(one, settings=(*one.settings, *more))


def unknown() -> Tuned:
    """The same where nobody said who walks past, and all change a channel."""
    found = three()
    blind = {letter: {"needless": None} for letter in "ABC"}
    lack = Lack(Message("lack.sheet", {"fitting": "outside"}), "traffic.passing")
    return Tuned(
        before=found.before,
        now=measures(-0.027, 0.08, None),
        front=tuple(_with_channel(choice(letter, **blind)) for letter in "ABC"),
        why_not_better=(),
        lacking={"needless": (lack,)},
        work=Work(4, 310, 40_000, 0.002),
    )


def single() -> Tuned:
    """One choice."""
    found = three()
    return Tuned(
        before=found.before,
        now=found.now,
        front=found.front[:1],
        why_not_better=found.why_not_better,
        lacking={},
        work=found.work,
    )


def nothing() -> Tuned:
    """No settings do better than those that are set."""
    before = doorway_of("vestibule")
    held = Choice((), (), measures(0.006, None, None), before)
    return Tuned(before, held.measures, (held,), (), {}, Work(1, 90, 6_000, 0.0))
