"""One remedy for all that fails of presence: a doorway is aimed once."""

from collections.abc import Mapping
from dataclasses import replace

from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.questions.asking import Asked
from limen.questions.presence import path_cases, threshold_cases
from limen.questions.remedies import bring_rows
from limen.questions.settled import Settled
from limen.rules.rule import Weight

CASES = {"presence.threshold": threshold_cases, "presence.leaf_path": path_cases}


def mended(
    findings: tuple[Finding, ...],
    doorway: Doorway,
    settled: Settled,
    asked: Mapping[str, Asked],
) -> tuple[Finding, ...]:
    """The findings, each that fails of presence with the one remedy for all.

    Args:
        findings: of one doorway.
        doorway: as described.
        settled: the same, settled.
        asked: what was asked, by question.
    """
    failing = [finding for finding in findings if _to_mend(finding)]
    if not failing:
        return findings
    cases = [
        case
        for name, cases_of in CASES.items()
        if name in asked
        for case in (each.known for each in cases_of(asked[name]))
    ]
    remedy = bring_rows(doorway, settled, cases)
    return tuple(
        replace(finding, remedy=remedy) if _to_mend(finding) else finding
        for finding in findings
    )


def _to_mend(finding: Finding) -> bool:
    """What the rows' place can mend: what fails, and what only aiming leaves open."""
    open_yet = finding.verdict is Verdict.NOT_SHOWN and not finding.lacking
    return (
        finding.question in CASES
        and (finding.verdict is Verdict.FAILS or open_yet)
        and finding.weight is not Weight.ADVICE
        and finding.case != "near closed"
    )
