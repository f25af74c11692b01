"""Tests and work of a doorway in the reader's words and units."""

from collections.abc import Sequence
from dataclasses import dataclass

from limen.desk.card_pack_shape import Answer, Cause, Place, Test, Work
from limen.findings import Message, Study
from limen.physics.plan import Plan
from limen.prove.causes import likely
from limen.prove.minimum import Step
from limen.prove.setting_out import taped
from limen.prove.work import Work as Planned
from limen.quantity import Show
from limen.words import reading, say
from limen.words.catalogue import catalogue
from limen.words.visits import said_end

BASE = "card_tests."
WORDS = f"{BASE}why."
ANSWERS: tuple[Answer, ...] = ("stayed open", "touched", "lamp only")
LIKE = "box.middle"
"""The test whose causes those of a further place are."""
_OWN = ("plug", "walk", "trailing", "power")
"""Tests whose answers are not those about a box."""


@dataclass(frozen=True, slots=True)
class Sayer:
    """Says messages in a system of units."""

    system: Show

    def __call__(self, message: Message) -> str:
        """The sentence, its first letter a capital."""
        said = say(message, system=self.system)
        return said[:1].upper() + said[1:]


def test_of(
    step: Step, steps: Sequence[Step], study: Study, plan: Plan, say: Sayer
) -> Test:
    """A test as the card has it.

    Args:
        step: the test.
        steps: all tests of the doorway.
        study: of the doorway.
        plan: of the doorway.
        say: in whose words.
    """
    made = Test(
        id=step.id,
        minimum=step.minimum,
        minutes=step.minutes,
        title=say(step.title),
        says=say(step.says),
        why=say(step.why),
        place=place_of(step, plan),
        tools=list(step.tools),
        if_failed=[],
    )
    if step.minimum:
        made["if_failed"] = _causes(step, steps, study, say)
    else:
        made["like"] = LIKE
    if step.seconds is not None:
        made["seconds"] = step.seconds
    if step.group in _OWN:
        made["answers"] = _answers(step)
    return made


def _causes(step: Step, steps: Sequence[Step], study: Study, say: Sayer) -> list[Cause]:
    return [
        Cause(
            cause=say(one.named),
            turn=say(one.turn),
            again=list(one.again),
            after=list(one.cause.after),
        )
        for one in likely(step, steps, study)
    ]


def _answers(step: Step) -> dict[Answer, str]:
    said = {"step": step.id, "tool": next(iter(step.tools), None)}
    return {one: said_end({**said, "answer": one}) for one in ANSWERS}


def place_of(step: Step, plan: Plan) -> Place | None:
    """Where the box goes, or None where none is put down.

    Args:
        step: the test.
        plan: of the doorway.
    """
    if step.body is None or step.pose is None:
        return None
    body, (x, y, yaw) = step.body, step.pose
    found = taped(body, step.pose, plan)
    return Place(
        x=x,
        y=y,
        yaw=yaw,
        width=body.width,
        depth=body.depth,
        height=body.height,
        face=body.face,
        post=found.post,
        far=round(found.far, 6),
    )


def work_of(one: Planned, say: Sayer) -> Work:
    """A piece of work as the card has it.

    Args:
        one: the work.
        say: in whose words.
    """
    made = Work(
        id=one.id,
        title=say(one.title),
        says=say(one.says),
        found=list(one.found),
        after=one.after,
    )
    if one.seconds is not None:
        made["seconds"] = one.seconds
    return made


def words_of() -> dict[str, str]:
    """Sentences whose gaps the card fills, by key; English where one is lacking."""
    own = catalogue(reading()).sentences
    words = catalogue()
    keys = (*words.under(WORDS), f"{BASE}safety")
    return {key.removeprefix(BASE): own.get(key, words.sentence(key)) for key in keys}
