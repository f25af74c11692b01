"""One pure function: every question of a rulebook on one doorway."""

from collections.abc import Mapping
from datetime import date

from limen.findings import Finding, Lack, Message, Study, Verdict
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions import QUESTIONS
from limen.questions.asking import Asked, Met, lack_fact
from limen.questions.mending import mended
from limen.questions.settled import Settled, settle
from limen.rules import Excluded, Rule, Rulebook, Unsettled, Weight
from limen.study.drawn import units_drawn


def study(
    doorway: Doorway,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    site: Site | None = None,
    version: str = "",
    notes: tuple[str, ...] = (),
) -> Study:
    """Put every question of a rulebook to one doorway.

    Args:
        doorway: as planned, as measured, or as it is on a date; sheets hung on
            its fittings.
        rulebook: one edition, with the firm's own figures in place.
        on: the day for which it is asked.
        site: the site, so that doorways it faces are at hand.
        version: of limen, printed with the study.
        notes: what must be said with it.

    Returns:
        A study with exactly one finding for each question, fitting and case.
    """
    settled = settle(doorway)
    rules = _rules(doorway, rulebook)
    asked = _asked(doorway, settled, rules, _met(doorway, site), on, site)
    findings = tuple(
        finding
        for name, rule in rules.items()
        for finding in _answers(name, rule, asked)
    )
    findings = mended(findings, doorway, settled, asked)
    return Study(
        doorway=doorway,
        rulebook=rulebook.id,
        edition=rulebook.edition,
        digest=rulebook.digest,
        on=on,
        version=version,
        findings=findings,
        units=units_drawn(settled),
        overrides=tuple(f"{o.rule} {o.limit}" for o in rulebook.overrides),
        notes=(*rulebook.notes, *notes),
    )


def study_site(
    site: Site,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    version: str = "",
) -> tuple[Study, ...]:
    """A study of every doorway of a site, in the order of its file."""
    return tuple(
        study(door, rulebook, on=on, site=site, version=version)
        for door in site.doorway
    )


def asked_of(
    doorway: Doorway,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    site: Site | None = None,
) -> dict[str, Asked]:
    """What is put to a doorway, by question.

    Args:
        doorway: as it stands.
        rulebook: one edition.
        on: the day for which it is asked.
        site: the site, so that doorways it faces are at hand.
    """
    rules = _rules(doorway, rulebook)
    return _asked(doorway, settle(doorway), rules, _met(doorway, site), on, site)


def _rules(
    doorway: Doorway, rulebook: Rulebook
) -> dict[str, Rule | Excluded | Unsettled]:
    facts = facts_of(doorway)
    return {name: rulebook.rule_for(name, facts) for name in QUESTIONS}


def _asked(
    doorway: Doorway,
    settled: Settled,
    rules: Mapping[str, Rule | Excluded | Unsettled],
    met: tuple[Met, ...],
    on: date | None,
    site: Site | None,
) -> dict[str, Asked]:
    doors = site.doorway if site else ()
    around = tuple(doorway if one.id == doorway.id else one for one in doors)
    return {
        name: Asked(doorway, settled, rule, met, on, around)
        for name, rule in rules.items()
        if isinstance(rule, Rule)
    }


def facts_of(doorway: Doorway) -> dict[str, object]:
    """What rules may select on: words, and yes or no."""
    use = doorway.use
    return {
        "leaves": doorway.leaves.kind,
        "escape_route": use.escape_route,
        "many_frail_or_small": use.many_frail_or_small,
        "public": use.public,
    }


def _met(doorway: Doorway, site: Site | None) -> tuple[Met, ...]:
    return tuple(
        Met(facing, settle(site.door(facing.doorway)) if site else None)
        for facing in doorway.facing
    )


def _answers(
    name: str, rule: Rule | Excluded | Unsettled, asked: Mapping[str, Asked]
) -> tuple[Finding, ...]:
    match rule:
        case Rule():
            return QUESTIONS[name].ask(asked[name]) or (_nothing_there(asked[name]),)
        case Excluded():
            return (_excluded(rule),)
        case Unsettled():
            return (_unsettled(rule),)


def _nothing_there(asked: Asked) -> Finding:
    """The doorway has nothing that the question is about."""
    if asked.rule.question.startswith("presence."):
        because = Message("study.no_presence_unit")
        missing = Lack(Message("lack.presence_unit"), "fitting")
        return asked.answer(Verdict.NOT_SHOWN, because, lacking=(missing,))
    if asked.rule.question.startswith("approach.") and not asked.doorway.fitting:
        missing = Lack(Message("lack.units"), "fitting")
        because = Message("study.no_units")
        return asked.answer(Verdict.NOT_SHOWN, because, lacking=(missing,))
    return asked.answer(Verdict.NOT_ASKED, Message("study.nothing_there"))


def _excluded(rule: Excluded) -> Finding:
    if rule.fact == "rulebook":
        because = Message("study.no_rule", {"rulebook": rule.said_by})
    else:
        because = Message(f"study.excluded.{rule.fact}.{str(rule.said).lower()}")
    return Finding(
        question=rule.question,
        weight=Weight.ADVICE,
        verdict=Verdict.NOT_ASKED,
        because=because,
    )


def _unsettled(rule: Unsettled) -> Finding:
    lacks = tuple(lack_fact(fact) for fact in rule.facts)
    return Finding(
        question=rule.question,
        weight=Weight.MUST,
        verdict=Verdict.NOT_SHOWN,
        because=Message("study.unsettled"),
        lacking=lacks,
    )
