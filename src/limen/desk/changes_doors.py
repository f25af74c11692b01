"""A doorway at two times, as `limen.keep.owing` weighs them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from math import dist
from typing import TYPE_CHECKING, Any

from limen.findings import Study, Verdict
from limen.keep.differing import named
from limen.keep.owing import Answer, Door, Key, Test, answers_of, otherwise
from limen.prove.further import place_named
from limen.prove.minimum import Step, bodies, minimum

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.questions.asking import Asked

Row = Mapping[str, Any]
Reads = Mapping[str, Set[tuple[str | int, ...]]]
PLACE = "place."
STAYED = 0.005
"""A test whose body is put down this close to where it was is the same (m)."""


@dataclass(frozen=True, slots=True)
class At:
    """A doorway at one time, with all that was asked of it.

    Attributes:
        site, door: as described then.
        study: of the door.
        reads: by question what it looks at.
        asked: what is put to the door, by question.
    """

    site: "Site"
    door: "Doorway"
    study: Study
    reads: Reads
    asked: "Mapping[str, Asked]"

    def steps(self, also: Iterable[str]) -> dict[str, Step]:
        """The tests of the minimum set, and those places that were tested.

        Args:
            also: ids of tests that were made.
        """
        steps = {one.id: one for one in minimum(self.asked)}
        faces = bodies(self.asked)
        plan = next(iter(self.asked.values())).settled.plan
        for name in also:
            place = place_named(name, faces, plan) if name not in steps else None
            if place is not None:
                steps[name] = place
        return steps


def doors(record: Row, was: At | None, now: At) -> Door:
    """What was and is answered, and on what it rests.

    Args:
        record: a record of the doorway.
        was: the doorway of that day; None where its text is not at hand.
        now: as it is described now.
    """
    reads: dict[str, set[tuple[str, ...]]] = {}
    both = (now,) if was is None else (now, was)
    for one in both:
        for question, ways in one.reads.items():
            named_so = (named(one.door, way) for way in ways)
            reads.setdefault(question, set()).update(named_so)
    units = [*now.door.fitting, *(was.door.fitting if was else ())]
    return Door(
        dict(_recorded(record, was)),
        answers_of(now.study.findings),
        reads,
        {one.id: one.side for one in reversed(units)},
    )


def _recorded(record: Row, was: At | None) -> Iterator[tuple[Key, Answer]]:
    """What a record says of each question, with what the study shows if it agrees."""
    studied = answers_of(was.study.findings) if was else {}
    for row in record["study"]["findings"]:
        for case in row["cases"]:
            key = row["question"], case.get("fitting") or "", case.get("case") or ""
            said = _answer(row, case)
            known = studied.get(key)
            if known and not otherwise(said, replace(known, shown=None)):
                said = replace(said, shown=known.shown)
            yield key, said


def _answer(row: Row, case: Row) -> Answer:
    margin: Row = case.get("margin") or {}
    return Answer(
        Verdict(row["verdict"]),
        row["weight"] == "must",
        margin.get("value"),
        margin.get("u", 0.0),
    )


def tests_of(steps: Mapping[str, Step], before: Mapping[str, Step]) -> list[Test]:
    """The tests of a card, as they are weighed.

    Args:
        steps: in the card's order.
        before: the same of the doorway as it was; empty where it is not at hand.
    """
    return [
        Test(
            one.id,
            one.group,
            one.minutes,
            one.minimum,
            one.fitting,
            one.about,
            same=_same(one, before.get(one.id)) if before else True,
        )
        for one in steps.values()
    ]


def _same(now: Step, was: Step | None) -> bool:
    if was is None or was.pose is None or now.pose is None:
        return True
    moved = dist(was.pose[:2], now.pose[:2]) > STAYED
    return not moved and was.body == now.body


def answered(visit: Row | None) -> dict[str, bool]:
    """By test of a folded visit whether it showed what is wanted.

    Args:
        visit: as JSON; None if nobody was there.
    """
    tests: Sequence[Row] = (visit or {}).get("tests", ())
    return {
        str(one["said"]["step"]): one["said"]["answer"] == "stayed open"
        for one in tests
        if one.get("counts", True) and one["said"]["answer"] != "cannot"
    }
