"""What is likely wrong where a test fails, what to turn, which tests are owed then.

By kind of test, the likeliest first: common practice, no source.  A cause that the
study of the doorway names comes before the others, and what it says to turn is said.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from limen.findings import Finding, Message, Study, Verdict
from limen.prove.minimum import Group, Step
from limen.quantity import Grade
from limen.rules import Weight

Bad = Literal["touched", "lamp only"]
EITHER: tuple[Bad, ...] = ("touched", "lamp only")
DARK: tuple[Bad, ...] = ("touched",)
LIT: tuple[Bad, ...] = ("lamp only",)
Ranked = tuple["Cause", Finding | None]
Owed = Literal["boxes", "closing", "plugs", "still", "walks", "trailing", "power"]


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong.

    Attributes:
        id: its name; the words for it stand in the catalogues.
        after: after which answers it is likely: the leaf touched, or nothing opened;
            only the lamp of the unit lit.
        owed: tests that are owed once it is mended, by kind, besides the failed one.
        asks: questions whose answer may name it, best first.
        cases: only their findings of a case in which one of these stands.
        remedies: only those whose remedy is one of these, by the end of its key.
        grade: of the figure that it is likely.
    """

    id: str
    after: tuple[Bad, ...]
    owed: tuple[Owed, ...]
    asks: tuple[str, ...] = ()
    cases: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()
    grade: Grade = Grade.PRACTICE


def _either(cause: Cause) -> Cause:
    """The same after either answer."""
    return replace(cause, after=EITHER)


_AIM: tuple[Owed, ...] = ("boxes", "closing", "still")
_COVERED = ("presence.threshold", "presence.leaf_path")
_INPUTS, _FAILS, _TIME = "wiring.inputs", "wiring.fail_safe", "approach.opens_in_time"
_CONNECT = ("wiring.move", "wiring.connect")
_KIND = ("wiring.kind", "wiring.rest", "wiring.closed")

_ROWS = Cause("rows_off", DARK, _AIM, _COVERED, ("upright", "on its"))
_FAN = Cause("fan_narrow", DARK, _AIM)
_DIRT = Cause("dirt", DARK, _AIM)
_LEARNT = Cause("box_learnt", DARK, ("boxes",), ("presence.contrast",))
_STEADY = Cause("steadiness", DARK, _AIM, ("presence.response",))
_INPUT = Cause(
    "wrong_input", LIT, ("plugs", "boxes"), (_INPUTS,), ("presence",), _CONNECT
)
_REST = Cause("wrong_rest", LIT, ("plugs", "boxes"), (_INPUTS, _FAILS), (), _KIND)
_MODE = Cause("operator_mode", EITHER, ("boxes", "walks"), ("leaf.modes",))
_LATE = Cause("stops_late", LIT, ("closing", "boxes"), ("leaf.stops_in_time",))
_NEAR = Cause(
    "ignored_gap", EITHER, ("closing",), ("presence.leaf_path",), ("near closed",)
)
_PAUSED = Cause(
    "rows_paused", DARK, _AIM, ("presence.leaf_path",), ("while the leaf moves",)
)
_TEST = Cause("test_off", EITHER, ("plugs",), (_INPUTS,), (), ("wiring.test",))
_UNHEARD = Cause(
    "input_ignores",
    EITHER,
    ("plugs",),
    (_INPUTS, _FAILS),
    (),
    ("wiring.fault", "wiring.monitored", "wiring.testable"),
)
_HOLD = Cause("hold_short", EITHER, ("still",), ("presence.hold_time",))
_CONTRAST = Cause("contrast", DARK, ("still", "boxes"), ("presence.contrast",))
_REACH = Cause("reach_short", DARK, ("walks",), (_TIME, "approach.minimum_zone"))
_RADAR = Cause("radar_aim", DARK, ("walks",), ("approach.minimum_zone",))
_CREEPS = Cause("slow_unseen", DARK, ("walks",), ("approach.slow_walker",))
_MOTION = Cause(
    "motion_wire", LIT, ("walks", "plugs"), (_INPUTS,), ("opening",), _CONNECT
)
_OPENS = Cause("opens_slowly", LIT, ("walks", "trailing"))
_GAP = Cause("gap_small", DARK, ("trailing",), ("presence.side_screen", "leaf.gaps"))
_BEHIND = Cause("thing_behind", DARK, ("trailing",), ("site.obstacles",))
_STOP = Cause(
    "stop_wire", EITHER, ("trailing", "plugs"), (_INPUTS,), (), ("connect_stop",)
)
_FORCE = Cause("opening_force", EITHER, ("trailing",))
_BATTERY = Cause("battery", EITHER, ("power",), ("leaf.power_loss",))
_LOCK = Cause("lock", EITHER, ("power",), ("leaf.escape_opening",))
_HARD = Cause("runs_hard", EITHER, ("power", "closing"), ("leaf.mechanics",))

CAUSES: Mapping[Group, tuple[Cause, ...]] = {
    "box": (_ROWS, _FAN, _DIRT, _STEADY, _LEARNT, _INPUT, _REST, _MODE, _LATE),
    "closing": (_NEAR, _PAUSED, _LATE, _ROWS, _INPUT),
    "plug": (_TEST, _either(_REST), _either(_INPUT), _UNHEARD),
    "still": (_HOLD, _CONTRAST, _ROWS, _DIRT),
    "walk": (_REACH, _RADAR, _CREEPS, _MODE, _MOTION, _OPENS),
    "trailing": (_GAP, _BEHIND, _STOP, _FORCE),
    "power": (_BATTERY, _LOCK, _HARD),
    "place": (),
}
"""Of every kind of test; a further place has those of the box in the middle."""

PLACES = ("outside", "inside", "left", "right")
"""Cases that name a side of the door, or an end of its opening."""
OWED: Mapping[Owed, Group] = {
    "boxes": "box",
    "closing": "closing",
    "plugs": "plug",
    "still": "still",
    "walks": "walk",
    "trailing": "trailing",
    "power": "power",
}


@dataclass(frozen=True, slots=True)
class Likely:
    """A cause as it is said after a failed test.

    Attributes:
        cause: which.
        named: what is wrong.
        turn: what to turn.
        again: the tests that are owed then.
    """

    cause: Cause
    named: Message
    turn: Message
    again: tuple[str, ...]


def likely(step: Step, steps: Sequence[Step], study: Study) -> tuple[Likely, ...]:
    """What is likely wrong where a test failed, the likeliest first.

    Args:
        step: the test.
        steps: all tests of the doorway: those owed are named from them.
        study: of the doorway.
    """
    return tuple(
        Likely(
            cause,
            _named(cause, step),
            finding.remedy.message
            if finding is not None and finding.remedy
            else Message(f"card_tests.cause.{cause.id}.turn"),
            owed(cause.owed, steps),
        )
        for cause, finding in _ranked(step, study)
    )


def owed(kinds: Iterable[Owed], steps: Sequence[Step]) -> tuple[str, ...]:
    """Ids of the tests that are never left out of some kinds, in their order.

    Args:
        kinds: which.
        steps: all tests of the doorway.
    """
    groups = {OWED[kind] for kind in kinds}
    return tuple(one.id for one in steps if one.minimum and one.group in groups)


def _named(cause: Cause, step: Step) -> Message:
    values = {"fitting": step.fitting} if step.fitting else {}
    return Message(f"card_tests.cause.{cause.id}.is", values)


def _ranked(step: Step, study: Study) -> list[Ranked]:
    """Those that the study names come first; what it names is said once."""
    taken, first, then = list[Message](), list[Ranked](), list[Ranked]()
    for cause in CAUSES[step.group]:
        found = next(_naming(cause, step, study), None)
        remedy = found.remedy.message if found and found.remedy else None
        if found is None or remedy is None or remedy in taken:
            then.append((cause, None))
        else:
            taken.append(remedy)
            first.append((cause, found))
    return [*first, *then]


def _naming(cause: Cause, step: Step, study: Study) -> Iterator[Finding]:
    """Findings that do not hold, with what to do, of what the cause is about."""
    for question in cause.asks:
        for one in study.of(Verdict.FAILS, Verdict.NOT_SHOWN):
            more = one.remedy is not None and one.weight is not Weight.ADVICE
            if one.question == question and more and _about(cause, step, one):
                yield one


def _about(cause: Cause, step: Step, one: Finding) -> bool:
    """Whether a finding is about the cause, and about what the test is about."""
    case, remedy = one.case or "", one.remedy.message.key if one.remedy else ""
    unit = one.fitting is None or step.fitting in (None, one.fitting)
    place = case.partition(", ")[0]
    there = place not in PLACES or step.about in ("", place)
    in_case = not cause.cases or any(part in case for part in cause.cases)
    by = not cause.remedies or any(part in remedy for part in cause.remedies)
    return unit and there and in_case and by
