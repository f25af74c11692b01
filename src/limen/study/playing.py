"""The walk of a finding played: the question that found it is put once more."""

from datetime import date

from limen.findings import Finding
from limen.model.doorway import Doorway
from limen.questions.asking import Asked
from limen.questions.in_time_played import Played, played
from limen.questions.settled import settle
from limen.rules import Rule, Rulebook
from limen.study.running import facts_of


def walk_of(
    doorway: Doorway, rulebook: Rulebook, finding: Finding, *, on: date | None = None
) -> Played | None:
    """The walk that a finding shows, from instant to instant.

    Args:
        doorway: of which it was found.
        rulebook: under which it was found.
        finding: one of its study.
        on: the day for which it was asked.

    Returns:
        The walk; None if the finding shows none.
    """
    rule = rulebook.rule_for(finding.question, facts_of(doorway))
    if not isinstance(rule, Rule):
        return None
    return played(Asked(doorway, settle(doorway), rule, (), on), finding)
