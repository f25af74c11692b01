"""What is seen of a doorway while a unit is moved: rows, and whether a body is missed.

A study takes longer than a hand that drags is willing to wait.  The glimpse asks
only what the place of the rows decides, and asks it without margins; everything
else waits until the hand rests, and is said to wait.
"""

from collections.abc import Collection
from datetime import date

from limen.findings import Finding, Study, Verdict
from limen.model.doorway import Doorway
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.coverage import Case
from limen.questions.presence import at_a_glance, path_cases, threshold_cases
from limen.questions.settled import Settled, settle
from limen.rules import Rule, Rulebook
from limen.study.drawn import units_drawn
from limen.study.running import facts_of

CASES_OF = {"presence.threshold": threshold_cases, "presence.leaf_path": path_cases}
UPRIGHT = "upright"
"""The body as it is missed first."""


def glimpse(
    doorway: Doorway,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    version: str = "",
    also: Collection[str] = (),
    looked_at: tuple[str, str] = ("presence.threshold", UPRIGHT),
) -> Study:
    """The doorway's units where they throw their rows, and who is missed by them.

    Args:
        doorway: with the settings of this moment.
        rulebook: one edition.
        on: the day for which it is asked.
        version: of limen.
        also: quick questions that what is moved bears upon, such as the field of
            a radar that is turned; other doorways are not at hand.
        looked_at: question and case that are drawn.  They are asked first, with the
            body upright; where the body is missed there, it is shown there, and the
            other question waits as every other case does.

    Returns:
        A study with findings of questions in `CASES_OF` alone, without margins
        and remedies, and of those asked besides.  It is for the drawing, and no
        answer to anything else.
    """
    settled = settle(doorway)
    findings: list[Finding] = []
    question, case = looked_at
    both = _asked(doorway, settled, rulebook, on)
    for asked, cases in sorted(both, key=lambda one: one[0].rule.question != question):
        findings += at_a_glance(asked, [c for c in cases if c.name in (UPRIGHT, case)])
        if any(one.verdict is Verdict.FAILS for one in findings):
            break
    facts = facts_of(doorway)
    for name in also:
        rule = rulebook.rule_for(name, facts)
        if isinstance(rule, Rule):
            findings += QUESTIONS[name].ask(Asked(doorway, settled, rule, (), on))
    return Study(
        doorway=doorway,
        rulebook=rulebook.id,
        edition=rulebook.edition,
        digest=rulebook.digest,
        on=on,
        version=version,
        findings=tuple(findings),
        units=units_drawn(settled),
    )


def _asked(
    doorway: Doorway, settled: Settled, rulebook: Rulebook, on: date | None
) -> list[tuple[Asked, list[Case]]]:
    facts = facts_of(doorway)
    rules = [(name, rulebook.rule_for(name, facts)) for name in CASES_OF]
    each = [
        (name, Asked(doorway, settled, rule, (), on))
        for name, rule in rules
        if isinstance(rule, Rule)
    ]
    return [(asked, CASES_OF[name](asked)) for name, asked in each]
