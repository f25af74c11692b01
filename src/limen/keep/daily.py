"""The owner's daily check: which steps a doorway asks for, and where they come from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from limen.model.doorway import Doorway
from limen.quantity import Grade

Part = Literal["look", "run", "switch"]
PARTS: tuple[Part, ...] = ("look", "run", "switch")
PRACTICE = "practice"
"""The document of a step that has none."""


@dataclass(frozen=True, slots=True)
class From:
    """Where a step comes from.

    Attributes:
        document: key of its name in the catalogues.
        grade: of what is known of it.
    """

    document: str
    grade: Grade


NO_SOURCE = From(PRACTICE, Grade.PRACTICE)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that the owner does.

    Attributes:
        id: its key; the words for it stand in the catalogues.
        part: whether nothing moves, the door runs, or how it is set is looked at.
        needs: what the doorway must have, one of these; always asked if empty.
        also: facts that add a sentence.
        source: by rulebook where it comes from.
    """

    id: str
    part: Part
    needs: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    source: Mapping[str, From] = field(default_factory=dict[str, From])


@dataclass(frozen=True, slots=True)
class Asked:
    """A step of one doorway.

    Attributes:
        id: its key.
        part: see `Step`.
        also: keys of sentences that this doorway adds.
        source: where it comes from under its rulebook.
    """

    id: str
    part: Part
    also: tuple[str, ...]
    source: From


def asked_of(
    steps: Sequence[Step], doorway: Doorway, rulebooks: Sequence[str]
) -> tuple[Asked, ...]:
    """The steps of a doorway's daily check, in their order.

    Args:
        steps: all that there are.
        doorway: as it is kept.
        rulebooks: the rulebook, then those that it is laid on.
    """
    known = facts_of(doorway)
    return tuple(
        Asked(
            one.id,
            one.part,
            tuple(fact for fact in one.also if fact in known),
            _source(one, rulebooks),
        )
        for one in steps
        if not one.needs or known & set(one.needs)
    )


def facts_of(doorway: Doorway) -> frozenset[str]:
    """What a doorway has that a step may need, by key.

    What is not known of an escape route counts as one: nobody is told to lock it.
    """
    return frozenset(_facts(doorway))


def _facts(doorway: Doorway) -> Iterator[str]:
    units = [one.unit for one in doorway.fitting if one.unit]
    has = {
        "units": bool(doorway.fitting),
        "presence": any(one.presence for one in units),
        "barrier": any(one.barrier for one in units),
        "screens": bool(doorway.side_space),
        "behind": any(one.behind for one in doorway.side_space),
        "facing": bool(doorway.facing),
        **_uses(doorway),
        **_set(doorway),
    }
    return (fact for fact, there in has.items() if there)


def _uses(doorway: Doorway) -> dict[str, bool]:
    use = doorway.use
    return {
        "escape": use.escape_route is True and not use.breaks_out,
        "lockable": use.escape_route is False,
        "breaks_out": bool(use.breaks_out),
        "frail": bool(use.many_frail_or_small),
        "one_way": use.one_way is not None,
    }


def _set(doorway: Doorway) -> dict[str, bool]:
    lost = doorway.power_loss
    return {
        "modes": len(doorway.modes) > 1 or doorway.mode_switch is not None,
        "key": doorway.mode_switch == "key or code",
        "battery": lost is not None and lost.by == "battery",
    }


def _source(step: Step, rulebooks: Sequence[str]) -> From:
    found = (step.source[one] for one in rulebooks if one in step.source)
    return next(found, NO_SOURCE)
