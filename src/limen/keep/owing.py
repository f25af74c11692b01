"""What a change re-opens at a door, and which tests are owed by it.

A test on site was made on the door of that day.  It is owed again where anything that
its question looks at is not as it was, whether or not the question is answered as
before; what rests on nothing that changed is not asked again.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from limen.findings import Finding, Message, Verdict
from limen.keep.touching import NO_TEST, TESTS, WORK, Way, questions_on, spoils
from limen.rules import Weight

Key = tuple[str, str, str]
"""A finding's question, fitting and case; empty where it has none."""
Reads = Mapping[str, Collection[Way]]
PLACES = ("outside", "inside", "left", "right")
"""Cases that name a side of the door, or an end of its opening."""
HAIR = 1e-6
"""As closely as a record keeps a margin (SI)."""


@dataclass(frozen=True, slots=True)
class Test:
    """One test that the card offers.

    Attributes:
        id: its name, the same for equal tests of every version of a doorway.
        group: what kind of test it is, as in `prove.minimum`.
        minutes: what it takes.
        minimum: whether it may never be left out.
        fitting: the unit it is about, if it is about one.
        about: the side of the door or the end of its opening it is about, if any.
        same: whether it is what it was; not, where its place has moved.
    """

    id: str
    group: str
    minutes: float
    minimum: bool = True
    fitting: str | None = None
    about: str = ""
    same: bool = True


@dataclass(frozen=True, slots=True)
class Answer:
    """What a study says of one question, fitting and case.

    Attributes:
        verdict: the verdict.
        must: whether it is among what must hold.
        margin, u: room to spare and how well that is known (SI); None if none.
        shown: all else that a reader is shown of it, if that is known: witness,
            figures, reason.
    """

    verdict: Verdict
    must: bool
    margin: float | None = None
    u: float = 0.0
    shown: object = None


@dataclass(frozen=True, slots=True)
class Changed:
    """One thing that is not as it was.

    Attributes:
        says: what, and how it changed.
        ways: what of the doorway is touched by it, patterns allowed.
        fitting: the unit it is about, if it is about one.
        about: the side of the door or the end of its opening it is about, if any.
        tests: ids of tests that are owed by it whatever their questions look at.
        known: whether it is known to have changed; else nobody can tell any more.
    """

    says: Message
    ways: tuple[Way, ...]
    fitting: str | None = None
    about: str = ""
    tests: tuple[str, ...] = ()
    known: bool = True


def of_key(way: Way, says: Message) -> Changed:
    """A key of the doorway that was changed.

    Args:
        way: the way to it.
        says: what, and how it changed.
    """
    table, name, *_ = (*way, "", "")
    name = name[1:-1] if name.startswith("[") else ""
    about = name if table in {"side_space", "approach"} else ""
    return Changed(says, (way,), name if table == "fitting" and name else None, about)


@dataclass(frozen=True, slots=True)
class Made:
    """How a test ended.

    Attributes:
        good: whether it showed what is wanted.
        after: numbers of the changes that it came after: they cannot have spoilt it.
        now: whether it was made on the door as it is now.
    """

    good: bool
    after: frozenset[int] = frozenset()
    now: bool = False


@dataclass(frozen=True, slots=True)
class Reopened:
    """A finding that held and is open again.

    Attributes:
        key: which.
        now: what the study says now.
        why: it holds no longer; or it rests on something that changed, and only a
            test tells.
        must: whether it is, or was, among what must hold.
        because: what changed of what it rests on; empty where nothing known did.
    """

    key: Key
    now: Verdict
    why: Literal["fell", "rests"]
    must: bool
    because: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class OwedTest:
    """A test that is owed, and why.

    Attributes:
        test: which.
        because: every reason, the nearest first.
    """

    test: Test
    because: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Owing:
    """What a change asks for.

    Attributes:
        reopened: findings that are open again, what fell first, musts before others.
        owed: tests that are owed, in the card's order.
        work: pieces of work in which something is to be measured anew.
        left: tests that are not asked again: what they rest on is as it was.
        elsewhere: questions that are answered otherwise and of which no test at a
            door tells, with what does.
    """

    reopened: tuple[Reopened, ...]
    owed: tuple[OwedTest, ...]
    work: tuple[str, ...]
    left: tuple[Test, ...]
    elsewhere: tuple[tuple[str, str], ...]

    @property
    def minutes(self) -> float:
        """What the tests take together."""
        return round(sum(one.test.minutes for one in self.owed), 2)


@dataclass(frozen=True, slots=True)
class Door:
    """A doorway at two times.

    Attributes:
        was, now: what was and is answered, by question, fitting and case.
        reads: by question what it reads of the doorway, then or now.
        sides: by unit the side on which it hangs or hung.
    """

    was: Mapping[Key, Answer]
    now: Mapping[Key, Answer]
    reads: Reads
    sides: Mapping[str, str]

    @property
    def moved(self) -> tuple[Key, ...]:
        """What is answered otherwise: another verdict, margin, witness or reason."""
        keys = dict.fromkeys((*self.was, *self.now))
        return tuple(
            one for one in keys if otherwise(self.was.get(one), self.now.get(one))
        )


def answers_of(findings: Iterable[Finding]) -> dict[Key, Answer]:
    """What a study says, as it is compared.

    Args:
        findings: of one doorway.
    """
    return {
        (one.question, one.fitting or "", one.case or ""): Answer(
            one.verdict,
            one.weight is Weight.MUST,
            one.margin.value if one.margin else None,
            one.margin.u if one.margin else 0.0,
            (one.witness, one.figures, one.because, one.found),
        )
        for one in findings
    }


def otherwise(was: Answer | None, now: Answer | None) -> bool:
    """Whether a question is answered otherwise than it was.

    Margins differ where they are further apart than both are known together.  What
    is shown beside them is compared where it is known of both.

    Args:
        was: the answer of then; None if it was not asked.
        now: the answer of now; None if it is not asked any more.
    """
    if was is None or now is None:
        asked = was or now
        return asked is not None and asked.verdict is not Verdict.NOT_ASKED
    if was.verdict is not now.verdict:
        return True
    if was.shown is not None and now.shown is not None and was.shown != now.shown:
        return True
    if was.margin is None or now.margin is None:
        return was.margin is not now.margin
    return abs(was.margin - now.margin) > was.u + now.u + HAIR


def owing(
    changes: Sequence[Changed],
    door: Door,
    tests: Sequence[Test],
    made: Mapping[str, Made],
) -> Owing:
    """What changes re-open, and which tests they owe.

    More changes never owe fewer tests, and no change owes none of what was made.

    Args:
        changes: what is not as it was: keys, readings, work, mended causes.
        door: what was and is answered, and on what it rests.
        tests: every test of the minimum set, and the further places that were tested.
        made: how each of them ended when the record was sealed, or since.
    """
    on = [questions_on(one.ways, door.reads) for one in changes]
    moved = door.moved
    seen = _Seen(changes, on, door, moved, tests)
    owed = [
        OwedTest(one, because)
        for one in tests
        if (because := _reasons(one, seen, made.get(one.id)))
    ]
    asked = {one.test.id for one in owed}
    open_ = frozenset[str]().union(*on, (key[0] for key in moved))
    return Owing(
        tuple(sorted(_reopened(seen, owed), key=_standing)),
        tuple(owed),
        tuple(dict.fromkeys(w for q in sorted(open_) for w in WORK.get(q, ()))),
        tuple(one for one in tests if one.id not in asked),
        _elsewhere(seen),
    )


def owed_by(change: Changed, door: Door, tests: Sequence[Test]) -> tuple[str, ...]:
    """Ids of the tests that one change can have spoilt, in the card's order.

    Args:
        change: what is not as it was.
        door: on what its answers rest.
        tests: every test.
    """
    questions = questions_on(change.ways, door.reads)
    return tuple(one.id for one in tests if _spoils(change, questions, one, door.sides))


@dataclass(frozen=True)
class _Seen:
    """The changes, the questions that each touches, and what is answered otherwise."""

    changes: Sequence[Changed]
    on: Sequence[frozenset[str]]
    door: Door
    moved: tuple[Key, ...]
    tests: Sequence[Test]

    def spoilt(self, test: Test) -> tuple[int, ...]:
        """Numbers of the changes that can have spoilt a test."""
        every = zip(self.changes, self.on, strict=True)
        return tuple(
            number
            for number, (change, questions) in enumerate(every)
            if _spoils(change, questions, test, self.door.sides)
        )

    @cached_property
    def unexplained(self) -> tuple[Key, ...]:
        """What is answered otherwise, and no change owes a test that tells of it."""
        spoilt = [one for one in self.tests if self.spoilt(one)]
        return tuple(
            key for key in self.moved if not _telling(key, spoilt, self.door.sides)
        )


# Tests ---------------------------------------------------------------------------


def _reasons(test: Test, seen: _Seen, ended: Made | None) -> tuple[Message, ...]:
    """Why a test is owed, each reason once; empty if it is not."""
    if ended is None:
        return (Message("change.because.not_made"),)
    found = [] if ended.good else [Message("change.because.not_good")]
    found += [
        _because(seen.changes[number])
        for number in seen.spoilt(test)
        if number not in ended.after
    ]
    if not ended.now:
        if not test.same:
            found.append(Message("change.because.place"))
        found += [
            Message("change.because.answered", {"question": _asked(key[0])})
            for key in seen.unexplained
            if _telling(key, (test,), seen.door.sides)
        ]
    return _once(found)


def _because(one: Changed) -> Message:
    key = "changed" if one.known else "unread"
    return Message(f"change.because.{key}", {"what": one.says} if one.known else {})


def _asked(question: str) -> Message:
    return Message(f"question.{question}")


def _spoils(
    change: Changed, questions: Collection[str], test: Test, sides: Mapping[str, str]
) -> bool:
    if test.id in change.tests:
        return True
    near = _near(test, change.fitting, change.about, sides)
    return near and _tells(test, questions) and spoils(test.group, change.ways)


def _tells(test: Test, questions: Collection[str]) -> bool:
    return any(test.group in TESTS.get(one, ()) for one in questions)


def _near(
    test: Test, fitting: str | None, about: str, sides: Mapping[str, str]
) -> bool:
    """Whether a test is about this unit, and this side or end, as far as either is."""
    if fitting is not None:
        if test.fitting not in (None, fitting):
            return False
        about = about or sides.get(fitting, "")
    other = {"outside", "inside"} if about in PLACES[:2] else {"left", "right"}
    return not about or test.about not in other - {about}


def _telling(
    key: Key, tests: Iterable[Test], sides: Mapping[str, str]
) -> tuple[Test, ...]:
    """The tests in which a finding shows."""
    return tuple(
        one for one in tests if _tells(one, (key[0],)) and _of_place(one, key, sides)
    )


def _of_place(test: Test, key: Key, sides: Mapping[str, str]) -> bool:
    """Whether a finding is about what a test is about."""
    _, fitting, case = key
    place = case.partition(", ")[0]
    about = place if place in PLACES else ""
    return _near(test, fitting or None, about, sides)


def _once(found: Iterable[Message]) -> tuple[Message, ...]:
    once: list[Message] = []
    for one in found:
        if one not in once:
            once.append(one)
    return tuple(once)


# Findings ------------------------------------------------------------------------


def _reopened(seen: _Seen, owed: Sequence[OwedTest]) -> Iterable[Reopened]:
    door, moved = seen.door, frozenset(seen.moved)
    asked = [one.test for one in owed]
    for key, was in door.was.items():
        now = door.now.get(key)
        if was.verdict is not Verdict.HOLDS or now is None:
            continue
        because = tuple(_touching(key, seen))
        must = was.must or now.must
        if now.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN):
            yield Reopened(key, now.verdict, "fell", must, because)
        elif (because or key in moved) and _telling(key, asked, door.sides):
            yield Reopened(key, now.verdict, "rests", must, because)


def _touching(key: Key, seen: _Seen) -> Iterable[Message]:
    """What changed of that on which a finding rests."""
    question, fitting, _ = key
    for change, questions in zip(seen.changes, seen.on, strict=True):
        near = not fitting or change.fitting in (None, fitting)
        if question in questions and (near or key in seen.moved):
            yield change.says


def _standing(one: Reopened) -> tuple[bool, bool, Key]:
    return one.why != "fell", not one.must, one.key


def _elsewhere(seen: _Seen) -> tuple[tuple[str, str], ...]:
    """Questions with another verdict of which no test tells, and what does."""
    was, now = seen.door.was, seen.door.now
    turned = {
        key[0]
        for key in seen.moved
        if key[0] in NO_TEST and _verdict(was.get(key)) is not _verdict(now.get(key))
    }
    return tuple((one, NO_TEST[one]) for one in sorted(turned))


def _verdict(answer: Answer | None) -> Verdict:
    return answer.verdict if answer else Verdict.NOT_ASKED
