"""What a fit shows, as findings that outputs may see."""

from collections.abc import Iterable, Sequence
from math import isnan

from limen.findings import Lack, Message
from limen.findings.fitted import (
    Doubtful,
    Outcome,
    Pose6,
    ReadBack,
    RowFound,
    UnitFitted,
    Way,
)
from limen.findings.message import length, turn
from limen.geometry.turns import Array
from limen.model.readings import UnitRead
from limen.model.sheet import FanUnknown
from limen.physics.readings.expecting import (
    ACROSS,
    ALONG,
    HEIGHT,
    ROLL,
    SHARE,
    TILT,
    YAW,
    Taken,
    expected,
    row_slopes,
)
from limen.physics.readings.missing import Missing
from limen.physics.readings.resolving import Explained, nearest
from limen.tune.fitting_given import KINDS, Given
from limen.tune.fitting_unit import Pinned, Result
from limen.tune.fitting_written import ends_of, first_row

NAMES = {kind: name for name, kind in KINDS.items()}
MOST_WAYS = 6
UNUSUAL = 3.0
"""Times as far off level or square as units are mounted: worth a word."""


def told(given: Given, read: UnitRead, result: Result) -> UnitFitted:
    """What the readings of one unit show.

    Args:
        given: everything that the fit rests on.
        read: the readings, as written.
        result: what the fit found.
    """
    pinned, outcome = result.pinned, _outcome(result)
    hanging = pinned.explained.hanging if pinned else None
    return UnitFitted(
        fitting=read.fitting,
        side=given.fitting.side,
        outcome=outcome,
        because=_because(given, result, outcome),
        pose=_pose(given, pinned) if pinned else None,
        rows=tuple(_rows(given, pinned)) if pinned else (),
        readings=tuple(_read_back(given, result)),
        lacking=tuple(_lacking(given, result, outcome)),
        ways=tuple(_way(given, one) for one in result.ways[:MOST_WAYS]),
        assumed=given.assumed,
        agreement=hanging.agreement if hanging else None,
    )


def _outcome(result: Result) -> Outcome:
    if result.missing:
        return "not determined"
    if result.ways:
        return "tied"
    if not result.at_odds:
        return "fitted"
    return "misread" if result.pinned else "contradicted"


def _because(given: Given, result: Result, outcome: Outcome) -> Message:
    said: dict[str, object] = {"fitting": given.fitting.id, "count": len(given.taken)}
    pinned = result.pinned
    key = f"readings.{outcome.replace(' ', '_')}"
    match outcome:
        case "fitted" | "misread" if pinned is not None:
            said["distance"] = length(first_row(given, pinned))
            bare = outcome == "fitted" and pinned.explained.hanging.spare <= 0
            key += "_bare" if bare else ""
            if outcome == "misread":
                (number,) = result.wrong
                said |= {"number": number, "kind": _kind(given, number)}
        case "tied":
            key += "_by_fan" if result.by_fan else ""
        case "contradicted" if result.share is not None:
            key = "readings.fan_differs"
            said["percent"] = round(100 * result.share)
        case "contradicted":
            key += "_some" if result.wrong else "_few" if _few(given) else ""
            said["numbers"] = _list(result.wrong)
        case _:
            pass
    told = Message(key, said)  # pyright: ignore[reportArgumentType]
    return _unusual(given, pinned, told) if pinned else told


def _unusual(given: Given, pinned: Pinned, told: Message) -> Message:
    """The same, with a word where a unit would hang far off level or square."""
    pose = pinned.explained.hanging.pose
    off = float(max(abs(pose[ROLL]), abs(pose[YAW])))
    if off <= UNUSUAL * given.usual.level:
        return told
    return Message("readings.unusual", {"told": told, "turn": turn(off)})


def _few(given: Given) -> bool:
    from limen.physics.readings.suspecting import LEAST_TO_NAME

    return len(given.taken) < LEAST_TO_NAME


def _kind(given: Given, number: int) -> Message:
    kind = next(one.kind for one in given.taken if one.number == number)
    return Message(f"readings.kind.{kind}")


def _list(numbers: Iterable[int]) -> str:
    return ", ".join(str(one) for one in sorted(numbers))


# The pose ------------------------------------------------------------------------


def _pose(given: Given, pinned: Pinned) -> Pose6:
    pose, left = pinned.explained.hanging.pose, pinned.left
    stated = pinned.known.share and not isinstance(given.presence.fan, FanUnknown)
    return Pose6(
        Doubtful(float(pose[TILT]), left.angles[0]),
        Doubtful(float(pose[ROLL]), left.angles[1]),
        Doubtful(float(pose[YAW]), left.angles[2]),
        Doubtful(float(pose[ALONG]), left.lens[0]),
        Doubtful(given.way * float(pose[ACROSS]) - given.face, left.lens[1]),
        Doubtful(float(pose[HEIGHT]), left.lens[2]),
        Doubtful(float(pose[SHARE]), left.share) if stated else None,
    )


def _rows(given: Given, pinned: Pinned) -> Iterable[RowFound]:
    curtain, pose = pinned.known.curtain, pinned.explained.hanging.pose
    first = _lean(given, pinned, 0)
    for row in curtain.rows_on:
        floor = pose[[ALONG, ACROSS]] + pose[HEIGHT] * row_slopes(curtain, pose, row)
        left, right = ends_of(given, pinned, row)
        lean = _lean(given, pinned, row)
        doubt = pinned.left.across * (1 + lean**2) / (1 + first**2)
        yield RowFound(
            row + 1,
            Doubtful(_straight_out(given, pinned, row), doubt),
            left,
            right,
            tuple(sorted((float(x), float(y)) for x, y in floor)),
        )


def _straight_out(given: Given, pinned: Pinned, row: int) -> float:
    """Where a row passes straight out from under the lens, from the leaf face (m)."""
    pose = pinned.explained.hanging.pose
    line = Taken(0, "line", float(pose[ALONG]), 0.0, 0.0, 0.0, row)
    (y,) = expected(pinned.known.curtain, pose, [line])
    return given.way * y - given.face


def _lean(given: Given, pinned: Pinned, row: int) -> float:
    pose = pinned.explained.hanging.pose
    out = _straight_out(given, pinned, row) + given.face
    return (out - given.way * float(pose[ACROSS])) / float(pose[HEIGHT])


# The readings --------------------------------------------------------------------


def _read_back(given: Given, result: Result) -> Iterable[ReadBack]:
    """Each reading, in the order of the file, beside what the pose expects of it."""
    struck = {one.number for one in given.struck}
    every = sorted((*given.taken, *given.struck), key=lambda one: one.number)
    if result.pinned is None:
        numbered = {one.number: one for one in every}
        pose = None
    else:
        pose = result.pinned.explained.hanging.pose
        curtain = result.pinned.known.curtain
        numbered = {one.number: one for one in nearest(curtain, every, pose)[0]}
        numbered |= {one.number: one for one in result.pinned.explained.taken}
    for one in every:
        resolved = numbered[one.number]
        yield ReadBack(
            one.number,
            NAMES[one.kind],
            None if resolved.row is None else resolved.row + 1,
            _spot(given, resolved),
            one.x,
            None if isnan(one.y) else given.way * one.y - given.face,
            (one.ux, one.uy),
            _off(given, result, resolved, pose),
            one.number in struck,
            one.number in result.wrong,
        )


def _spot(given: Given, one: Taken) -> int | None:
    if one.spot is None:
        return None
    return one.spot % given.presence.rows[one.row or 0].spots + 1


def _off(
    given: Given, result: Result, one: Taken, pose: Array | None
) -> tuple[float, float]:
    """How far what was read lies from what is expected, along and out (m)."""
    if pose is None or result.pinned is None:
        return 0.0, 0.0
    found = expected(result.pinned.known.curtain, pose, [one])
    along = one.x - found[0] if one.kind in ("spot", "end") else 0.0
    out = 0.0 if one.kind == "end" else given.way * (one.y - found[-1])
    return along, out


# What is wanted ------------------------------------------------------------------


def _lacking(given: Given, result: Result, outcome: Outcome) -> Iterable[Lack]:
    name = given.fitting.id
    where = f"unit[{name}]"
    match outcome:
        case "not determined":
            for thing in result.missing:
                yield _to_tape(where, name, thing)
        case "tied" if result.by_fan:
            for end in ("left", "right"):
                yield _to_tape(where, name, Missing("end", end))
        case "tied":
            yield from _to_number(given, result.ways, where)
        case "contradicted" if not result.wrong:
            every = tuple(one.number for one in given.taken)
            yield from (_again(where, name, number) for number in every)
        case "fitted":
            return
        case _:
            yield from (_again(where, name, number) for number in result.wrong)


def _to_tape(where: str, name: str, thing: Missing) -> Lack:
    said = {"fitting": name}
    if not thing.where:
        return Lack(
            Message(f"readings.lack.{thing.what}", said), f"{where}.lens.{thing.what}"
        )
    key = f"readings.lack.{thing.what}_{thing.where}"
    place = f"{where}.reading.{thing.what}.{thing.where}"
    return Lack(Message(key, said), place)


def _again(where: str, name: str, number: int) -> Lack:
    said = {"fitting": name, "number": number}
    return Lack(Message("readings.lack.again", said), f"{where}.reading[{number}]")


def _to_number(given: Given, ways: Sequence[Explained], where: str) -> Iterable[Lack]:
    """The rows and spots by which the explanations differ."""
    for numbers in zip(*(way.numbers for way in ways), strict=True):
        number = numbers[0][0]
        said = {"fitting": given.fitting.id, "number": number}
        for part, place in (("row", 1), ("spot", 2)):
            if len({one[place] for one in numbers}) > 1:
                key = f"{where}.reading[{number}].{part}"
                yield Lack(Message(f"readings.lack.{part}", said), key)


def _way(given: Given, one: Explained) -> Way:
    pose = one.hanging.pose
    numbers = tuple(
        (
            taken.number,
            None if taken.row is None else taken.row + 1,
            _spot(given, taken),
        )
        for taken in one.taken
    )
    tilt, roll, yaw = (float(pose[which]) for which in (TILT, ROLL, YAW))
    said = Message(
        "readings.way",
        {
            "numbers": _numbered(one.taken, given),
            "tilt": turn(tilt),
            "roll": turn(roll),
            "yaw": turn(yaw),
        },
    )
    return Way(said, tilt, roll, yaw, numbers)


def _numbered(taken: Sequence[Taken], given: Given) -> Message:
    each = [
        Message(
            "readings.numbered" + ("_spot" if one.kind == "spot" else ""),
            {
                "number": one.number,
                "row": (one.row or 0) + 1,
                "spot": _spot(given, one) or 0,
            },
        )
        for one in taken
        if not one.is_box
    ]
    said = each[0]
    for one in each[1:]:
        said = Message("readings.and", {"first": said, "second": one})
    return said
