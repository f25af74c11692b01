"""Every way that mends a finding by settings, each asked of the whole doorway."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date

from limen.findings import Change, Finding, Message, Remedy, Study, Verdict
from limen.model.doorway import Doorway
from limen.model.fitting import Fitting
from limen.model.site import Site
from limen.questions.mending import cases_to_hold, mended_by_rows
from limen.questions.remedies import kind_of, other_ways, told_already
from limen.questions.settled import settle
from limen.rules import Rulebook, Weight
from limen.study.applying import apply
from limen.study.running import asked_of, study

MOST = 5
"""Ways that are offered: more would have to be read, not chosen from."""
NEIGHBOURS = "presence.neighbours"
Key = tuple[str, str | None, str | None]
WORSE = {
    Verdict.HOLDS: 0,
    Verdict.NOT_ASKED: 0,
    Verdict.NOT_SHOWN: 1,
    Verdict.FAILS: 2,
}


@dataclass(frozen=True, slots=True)
class At:
    """What a doorway is asked by.

    Attributes:
        rulebook: one edition.
        on: the day for which it is asked.
        site: the site, so that doorways it faces are at hand.
    """

    rulebook: Rulebook
    on: date | None = None
    site: Site | None = None


def ways(found: Study, finding: Finding, at: At) -> tuple[Remedy, ...]:
    """What else than its remedy makes a finding hold, by settings of the units.

    Each way was asked as a study of the whole doorway: the finding holds, what its own
    remedy mends besides holds too, and nothing that counts stands worse than before.

    Args:
        found: the study that the finding is of.
        finding: one that has a remedy.
        at: what the doorway is asked by.

    Returns:
        The usual first; empty where there is no other, or the finding is of another
        kind.
    """
    told = [kind_of(finding.remedy.changes)] if finding.remedy else []
    kept: list[Remedy] = []
    for remedy in _candidates(found.doorway, finding, at):
        kind = kind_of(remedy.changes)
        same = finding.question != NEIGHBOURS and told_already(kind, told)
        if same or remedy == finding.remedy or not remedy.changes:
            continue
        if _mends(found, finding, remedy, at):
            kept.append(remedy)
        if len(kept) == MOST:
            break
    return tuple(kept)


def _candidates(doorway: Doorway, finding: Finding, at: At) -> Iterator[Remedy]:
    if mended_by_rows(finding):
        settled = settle(doorway)
        asked = asked_of(doorway, at.rulebook, on=at.on, site=at.site)
        yield from other_ways(doorway, settled, cases_to_hold(asked))
    elif finding.question == NEIGHBOURS and finding.verdict is Verdict.FAILS:
        yield from _channels(doorway, finding)


def _channels(doorway: Doorway, finding: Finding) -> Iterator[Remedy]:
    """Every other channel of every unit of the pair that hangs here."""
    pair = (finding.case or "").split(" and ")
    for fitting in doorway.fitting:
        if fitting.id in pair:
            for number in _others(fitting):
                said = {"fitting": fitting.id, "channel": number}
                change = Change(fitting.id, "settings.channel", str(number))
                yield Remedy(Message("remedy.channel", said), (change,))


def _others(fitting: Fitting) -> list[int]:
    presence = fitting.unit.presence if fitting.unit else None
    most = presence.channels if presence and presence.channels else 0
    return [n for n in range(1, most + 1) if n != fitting.settings.channel]


def _mends(found: Study, finding: Finding, remedy: Remedy, at: At) -> bool:
    changed = apply(found.doorway, remedy.changes)
    after = study(changed, at.rulebook, on=at.on, site=at.site)
    stands = {one.key: one.verdict for one in after.findings}
    if stands.get(finding.key) is not Verdict.HOLDS:
        return False
    before = {one.key: one for one in found.findings if one.weight is not Weight.ADVICE}
    return all(
        WORSE[stands[key]] <= WORSE[one.verdict]
        for key, one in before.items()
        if key in stands
    ) and _nothing_new(before, after)


def _nothing_new(before: Collection[Key], after: Study) -> bool:
    """Whether nothing fails that was not there before."""
    return not any(
        one.verdict is Verdict.FAILS
        for one in after.findings
        if one.key not in before and one.weight is not Weight.ADVICE
    )
