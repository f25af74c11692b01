"""Choices of which none is better in everything: what is traded for what."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from limen.findings import Finding, Lack, Study
from limen.findings.tuned import Choice, Measures, Turned
from limen.model.doorway import Doorway
from limen.questions import QUESTIONS
from limen.questions.coverage import Case
from limen.questions.passers import lacks_of, needless_a_day
from limen.questions.ranges import FIELD
from limen.questions.settled import settle
from limen.tune.aims import aims_of
from limen.tune.field import IN_TIME, FieldAsked, Set, choices_of
from limen.tune.measuring import late_lacks, late_of, least_room, together
from limen.tune.scales import turned_all
from limen.tune.searched import Searched

FLOWING = ("approach.passers_by", "approach.energy")
"""Figures that follow the radars and are in every study."""
FRONT = 6
"""Choices that are shown."""


def front_of(
    searched: Searched,
    best: tuple[tuple[Turned, ...], Study],
    sides: Sequence[FieldAsked],
    sets: Sequence[Set],
    cases: Sequence[Case],
) -> tuple[Choice, ...]:
    """The choices, the best in the order of the search first.

    Args:
        searched: the search.
        best: what the best changes, and its study.
        sides: the sides of the doorway as they were asked.
        sets: the best of each side.
        cases: what must hold of presence.
    """
    turned, found = best
    first = _choice(searched, turned, found, cases)
    kept = [t for t in turned if t not in turned_of(sets)]
    if len(kept) + len(turned_of(sets)) != len(turned):
        return (first,)
    each = [choices_of(side, one) for side, one in zip(sides, sets, strict=True)]
    others = _thinned([pick for pick in product(*each) if pick != tuple(sets)], sets)
    made = [first]
    for pick in others:
        choice = (*kept, *turned_of(pick))
        after = restudied(searched, found, turned_all(searched.doorway, choice))
        made.append(replace(_choice(searched, choice, after, ()), aims=first.aims))
    return tuple(made)


def _thinned(
    picks: Sequence[tuple[Set, ...]], best: Sequence[Set]
) -> list[tuple[Set, ...]]:
    """Those that no other is as good as in everything, few, evenly along the front."""
    chosen = _late_needless(tuple(best))
    ordered = sorted(picks, key=_late_needless)
    kept: list[tuple[Set, ...]] = []
    fewest = float("inf")
    for pick in ordered:
        late, needless = _late_needless(pick)
        beaten = chosen[0] <= late and chosen[1] <= needless
        if needless < fewest and not beaten:
            kept.append(pick)
        fewest = min(fewest, needless)
    most = FRONT - 1
    if len(kept) <= most:
        return kept
    return [kept[round(n * (len(kept) - 1) / (most - 1))] for n in range(most)]


def _late_needless(pick: tuple[Set, ...]) -> tuple[float, float]:
    keys = [one.key for one in pick]
    return round(sum(key[2] for key in keys), 6), round(sum(key[3] for key in keys), 6)


def restudied(searched: Searched, found: Study, doorway: Doorway) -> Study:
    """A study of which only the radars are set otherwise.

    Args:
        searched: the search.
        found: the study with other radar settings.
        doorway: as it is to be set.
    """
    settled, answers = settle(doorway), dict[str, tuple[Finding, ...]]()
    for name in (*FIELD, *FLOWING):
        asked = searched.asked(name, doorway, settled)
        if asked is not None:
            searched.beat()
            answers[name] = QUESTIONS[name].ask(asked)
    order = list(dict.fromkeys(one.question for one in found.findings))
    findings = tuple(
        one
        for name in order
        for one in answers.get(name)
        or tuple(f for f in found.findings if f.question == name)
    )
    return replace(found, doorway=doorway, findings=findings)


def _choice(
    searched: Searched, turned: tuple[Turned, ...], found: Study, cases: Sequence[Case]
) -> Choice:
    aims = aims_of(searched.doorway, found.doorway, turned, cases) if cases else ()
    return Choice(turned, aims, measures_of(searched, found), found)


def measures_of(searched: Searched, found: Study) -> Measures:
    """What settings come to, by their study."""
    settled = settle(found.doorway)
    asked = searched.asked(IN_TIME, found.doorway, settled)
    late = together(late_of(asked)) if asked else None
    needless = needless_a_day(found.doorway, settled)
    return Measures(least_room(found.findings), late, needless)


def lacking_of(searched: Searched) -> dict[str, tuple[Lack, ...]]:
    """What would settle measures that are not known, by name."""
    settled = settle(searched.doorway)
    asked = searched.asked(IN_TIME, searched.doorway, settled)
    found = {
        "late": late_lacks(asked) if asked else (),
        "needless": lacks_of(searched.doorway, settled.plan),
    }
    return {name: lacks for name, lacks in found.items() if lacks}


def turned_of(sets: Sequence[Set]) -> tuple[Turned, ...]:
    """What settings of both sides' radars change."""
    return tuple(t for one in sets for option in one.options for t in option.turned)
