"""For how many people a day who only walk past does the door open?"""

from limen.findings import Finding, Message, Role, Stroke, Verdict
from limen.model.traffic import DAY
from limen.physics.plan import Plan, sign
from limen.quantity import Dimension, Quantity
from limen.questions.approach_taken import NOTHING, Taken
from limen.questions.asking import Asked, once
from limen.questions.flows import open_hours
from limen.questions.owners_limit import held_to
from limen.questions.passers import Needless, lacks_of, paths_of, total

SHOWN = 4.0  # m to either side of the middle: how far a path is drawn


def passers_by(asked: Asked) -> tuple[Finding, ...]:
    """For how many people a day who only walk past does the door open?

    Over each path along the façade: people by the hour while the door works, times
    the share of walks on which the radar speaks.  At the least that is the inner
    field's share of the fewest people, at the most the outer field's of the most.

    It is a figure, and asked only where the owner set a limit; then it *holds* if
    even the most are no more, *fails* if even the fewest are more.

    Args:
        asked: the doorway's ``traffic``.

    Returns:
        One finding.  Margin: openings a day to spare (1/s).

    Source:
        The method page "Air and passers-by".  Left out: people in company, who open
        it once together; those who stop, and those who change their mind.
    """
    doorway, plan = asked.doorway, asked.settled.plan
    limit, lacks = doorway.traffic.most_needless, lacks_of(doorway, plan)
    if not doorway.traffic.passing and limit is None:
        return (asked.answer(Verdict.NOT_ASKED, Message("flows.nobody")),)
    paths = None if lacks else paths_of(doorway, plan)
    if paths is None:
        because = Message("flows.passers_unknown")
        return (asked.answer(Verdict.NOT_SHOWN, because, lacking=once(lacks)),)
    return (_needless(asked, paths, limit),)


def _needless(
    asked: Asked, paths: tuple[Needless, ...], limit: Quantity | None
) -> Finding:
    when, found = open_hours(asked.doorway.traffic), total(paths)
    rests = rests_of(paths) + when.taken
    told = {
        "found": Message("flows.needless", _range(found)),
        "assumed": rests.assumed,
        "figures": tuple(_drawn(asked.settled.plan, path) for path in paths),
    }
    if limit is None:
        because = Message("flows.no_limit_passers", _range(found))
        return asked.answer(Verdict.NOT_ASKED, because, **told)
    rate = Quantity(found.value / DAY, found.u / DAY, found.grade)
    return held_to(
        asked,
        rate,
        limit,
        rests.weak or "traffic.passing",
        name="passers",
        dimension=Dimension.FREQUENCY,
        said={**_range(found), "limit": f"{limit.value * DAY:.0f}"},
        told=told,
    )


def rests_of(paths: tuple[Needless, ...]) -> Taken:
    """What needless openings rest on."""
    rests = NOTHING
    for path in paths:
        rests += path.taken + path.flow.taken
    return rests


def _range(count: Quantity) -> dict[str, str]:
    low, high = max(count.low, 0.0), count.high
    return {"low": f"{low:.0f}", "high": f"{high:.0f}"}


def _drawn(plan: Plan, path: Needless) -> Stroke:
    """The path along the façade, from where most come."""
    side = path.passing.side
    y = sign(side) * (plan.side(side).face + path.passing.distance.value)
    return Stroke(Role.WITNESS, ((-SHOWN, y), (SHOWN, y)))
