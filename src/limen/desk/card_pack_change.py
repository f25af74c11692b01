"""What a door's card is told of changes: tests owed, and what readings would owe.

The page proves nothing: by kind of reading and unit it is told which tests are owed
where a reading differs from how it was left by more than the ± of both.
"""

from collections.abc import Iterator, Sequence

from limen.desk.card_pack_said import Sayer
from limen.desk.card_pack_shape import Change, LeftAs, OwedTest, Target
from limen.desk.changes import Compared, changed_by
from limen.desk.changes_doors import doors, tests_of
from limen.desk.changes_readings import Thing, left_in, stated_in
from limen.desk.changes_said import thing_of
from limen.keep.differing import ReadAgain
from limen.keep.owing import Door, Test, owed_by
from limen.quantity import Dimension, Quantity

ROWS = ("row line", "row end", "spot centre", "box edge in", "box edge out")
"""Kinds of reading that the card takes."""


def change_of(
    found: Compared, targets: Sequence[Target], says: Sayer, *, only: bool = False
) -> Change:
    """What the card is told of what changed since the last record.

    Args:
        found: what changed, and what that owes.
        targets: where first rows must land: a row that nobody read is compared with
            where it lands as planned.
        says: in whose words.
        only: whether the card is to ask for the tests owed and no others.
    """
    door = doors(found.then.record, found.then.was, found.now)
    tests = tests_of(found.steps, {})
    return Change(
        number=found.then.number,
        only=only,
        owed=[
            OwedTest(id=one.test.id, because=[says(why) for why in one.because])
            for one in found.owing.owed
        ],
        left_out=len(found.owing.left),
        left=list(_left(found, targets, door, tests)),
    )


def _left(
    found: Compared, targets: Sequence[Target], door: Door, tests: Sequence[Test]
) -> Iterator[LeftAs]:
    """How each row was left, with the tests that are owed where it is found moved."""
    was = (found.then.was or found.now).door
    things = [
        *left_in(found.then.record.get("visit"), was),
        *stated_in(was),
    ]
    read = [one for one in things if one.kind in ROWS]
    read += [
        one for one in map(_planned, targets) if one and not any(map(one.same, read))
    ]
    for one in read:
        if one.figure is None:
            continue
        row, _, end = (*one.part.split("|"), "", "")[:3]
        again = _again(one)
        made = LeftAs(
            fitting=one.fitting,
            kind=one.kind,
            row=int(row) if row else None,
            end=end,
            left=round(one.figure.value, 6),
            within=round(one.figure.u, 6),
            place=None if one.place is None else round(one.place, 6),
            what=thing_of(again, was.id),
            owes=list(owed_by(changed_by(again, was.id), door, tests)),
        )
        yield made


def _again(one: Thing) -> ReadAgain:
    """A thing as if it were read again, to be named and weighed."""
    said = (one.said, one.said)
    return ReadAgain(
        one.fitting, one.kind, one.part, one.figure, one.figure, one.dimension, said
    )


def _planned(target: Target) -> Thing | None:
    """Where a first row lands as planned; None while it is to be brought elsewhere."""
    if target["open"]:
        return None
    figure = Quantity(target["best"], (target["most"] - target["least"]) / 2)
    part = f"{target['row']}||"
    return Thing(
        target["fitting"], "row line", part, figure, Dimension.LENGTH, "", None
    )
