"""Where the units of a doorway really hang, as far as the tape shows it."""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from limen.findings.finding import Assumed, Change, Lack
from limen.findings.message import Message
from limen.findings.study import Study

Outcome = Literal["fitted", "not determined", "tied", "misread", "contradicted"]
"""What the readings of one unit show.

*fitted*: one pose.  *Not determined*: too little was taped.  *Tied*: several poses fit
as well.  *Misread*: without one reading the others agree.  *Contradicted*: they do not
agree, and nobody can say which is wrong.
"""


class Doubtful(NamedTuple):
    """A figure and the half-width in which it lies with the others, 19 times in 20.

    SI: m or rad.
    """

    value: float
    doubt: float


@dataclass(frozen=True, slots=True)
class Pose6:
    """How a unit hangs, in the words of a site file (m, rad).

    Attributes:
        tilt: of the rows, positive away from the door.
        roll: about the axis that leads away from the door.
        yaw: about the upright axis.
        along: of the lens, from the middle of the opening, positive to the right
            seen from outside.
        from_leaf: of the lens, from the leaf face on its side.
        height: of the lens above the floor.
        fan_share: how wide the rows are against the sheet; None if that was not
            asked.
    """

    tilt: Doubtful
    roll: Doubtful
    yaw: Doubtful
    along: Doubtful
    from_leaf: Doubtful
    height: Doubtful
    fan_share: Doubtful | None = None


@dataclass(frozen=True, slots=True)
class RowFound:
    """One row as it lands on the floor by the fit.

    Attributes:
        row: its number, from 1.
        distance: from the leaf face, straight out from under the lens (m).
        left, right: its ends, (along, out) with out from the leaf face (m), seen
            from outside.
        spots: middles (x, y) in the doorway's frame, from the left (m).
    """

    row: int
    distance: Doubtful
    left: tuple[float, float]
    right: tuple[float, float]
    spots: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class ReadBack:
    """One reading beside what the fit expects of it.

    Attributes:
        number: its place in the file, from 1.
        kind: as in the file.
        row, spot: as resolved, from 1; None where that is left open.
        along, out: as read, from the middle and from the leaf face (m).
        within: how closely it was read, along and out (m); 0 where not read.
        off: how far what was read lies from what is expected, along and out (m).
        struck: whether it was left out.
        named: whether it is the reading, or one of those, that does not agree.
    """

    number: int
    kind: str
    row: int | None
    spot: int | None
    along: float
    out: float | None
    within: tuple[float, float]
    off: tuple[float, float]
    struck: bool = False
    named: bool = False


@dataclass(frozen=True, slots=True)
class Way:
    """One way to understand readings that fit several.

    Attributes:
        said: in words: which rows and spots.
        tilt, roll, yaw: the pose that follows (rad).
        numbers: row and spot of each reading, from 1, by its place in the file.
    """

    said: Message
    tilt: float
    roll: float
    yaw: float
    numbers: tuple[tuple[int, int | None, int | None], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFitted:
    """What the readings of one unit show.

    Attributes:
        fitting: id of the fitting.
        side: outside or inside.
        outcome: what they show.
        because: the same in words.
        pose: how it hangs; after *misread* as the others have it, without a claim.
        rows: where its rows land by that pose.
        readings: each reading beside what is expected.
        lacking: what to tape, or to read again.
        ways: the poses that fit as well, where several do.
        assumed: what was taken though nobody stated it.
        agreement: how often readings as closely taped agree no better (share).
    """

    fitting: str
    side: str
    outcome: Outcome
    because: Message
    pose: Pose6 | None = None
    rows: tuple[RowFound, ...] = ()
    readings: tuple[ReadBack, ...] = ()
    lacking: tuple[Lack, ...] = ()
    ways: tuple[Way, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    agreement: float | None = None


@dataclass(frozen=True, slots=True)
class Turning:
    """What to turn on one unit, on the floor first (m from the leaf face).

    Attributes:
        fitting: id of the fitting.
        row: number of the row that is brought to its line, from 1.
        was: where it lands.
        best: the target line.
        least, most: the window in which the findings hold.
        turn: by how much the unit is turned (rad), away from the door positive.
        step: one step of its scale (rad); None if the sheet does not say.
        steps: whole steps to turn, away positive; None without steps.
        lands: where the row lands after whole steps; None without steps.
        coarse: whether one step moves the row further than the window is wide.
        said: all this in words.
    """

    fitting: str
    row: int
    was: float
    best: float
    least: float
    most: float
    turn: float
    step: float | None
    steps: int | None
    lands: float | None
    coarse: bool
    said: Message


@dataclass(frozen=True, slots=True)
class UnitsFitted:
    """The units of a doorway as their readings show them, no study asked.

    Attributes:
        units: what the readings of each unit show, in the order of the file.
        changes: what of it is written into the site file.
    """

    units: tuple[UnitFitted, ...] = ()
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorwayFitted:
    """A doorway as its readings show it.

    Attributes:
        doorway: its id.
        units: what the readings of each unit show, in the order of the file.
        before: the study of the doorway as its file says.
        after: the study with every fitted unit where it really hangs; None where
            no unit could be fitted.
        changes: what of it is written into the site file.
        turnings: what to turn.
        also: what else mends what fails there, in words.
    """

    doorway: str
    units: tuple[UnitFitted, ...]
    before: Study
    after: Study | None = None
    changes: tuple[Change, ...] = ()
    turnings: tuple[Turning, ...] = ()
    also: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True)
class ToRead:
    """One thing to tape, in the order in which it is best done.

    Attributes:
        fitting: id of the fitting.
        what: the kind of reading, or the figure of the lens.
        row: number of the row, from 1; None for the lens.
        end: at which end of the row, seen from outside; empty for the lens.
        along, out: about where it is found, from the middle of the opening and from
            the leaf face (m); NaN where nothing is known of it, or where it has none.
        needed: whether it belongs to the useful minimum.
        said: what to tape, in words.
    """

    fitting: str
    what: Literal["height", "from_leaf", "along", "row line", "row end", "spot centre"]
    row: int | None
    end: Literal["left", "right", "middle", ""]
    along: float
    out: float
    needed: bool
    said: Message
