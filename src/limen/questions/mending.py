"""One remedy for all that fails of presence: a doorway is aimed once."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from limen.findings import Change, Finding, Message, Remedy, Verdict
from limen.model.doorway import Doorway
from limen.questions.asking import Asked
from limen.questions.coverage import Case, hold_everywhere
from limen.questions.presence import path_cases, threshold_cases
from limen.questions.remedies import bring_rows
from limen.questions.settled import Settled, settle
from limen.questions.sight import self_view
from limen.questions.variants import changed_settings
from limen.rules.rule import Weight

CASES = {"presence.threshold": threshold_cases, "presence.leaf_path": path_cases}
AIMED_CLOSER = {
    "coverage.not_shown.tolerance",
    "coverage.not_shown.resolution",
    "coverage.not_shown.search_limit",
}
"""Nothing is missing but a closer aim: bringing the rows elsewhere may do as well."""
SELF_VIEW = "presence.self_view"


def mended(
    findings: tuple[Finding, ...],
    doorway: Doorway,
    settled: Settled,
    asked: Mapping[str, Asked],
) -> tuple[Finding, ...]:
    """The findings, each that fails of presence with the one remedy for all.

    Light that falls on the door is turned away only as far as the body stays
    reached.

    Args:
        findings: of one doorway.
        doorway: as described.
        settled: the same, settled.
        asked: what was asked, by question.
    """
    cases = cases_to_hold(asked)
    failing = any(mended_by_rows(finding) for finding in findings)
    remedy = bring_rows(doorway, settled, cases) if failing else None
    told = tuple(
        replace(finding, remedy=remedy) if mended_by_rows(finding) else finding
        for finding in findings
    )
    return _turned_away(told, doorway, asked, cases, remedy)


def cases_to_hold(asked: Mapping[str, Asked]) -> list[Case]:
    """The cases of presence that one remedy has to make hold, all together."""
    return [
        case.known
        for name, cases_of in CASES.items()
        if name in asked
        for case in cases_of(asked[name])
    ]


def mended_by_rows(finding: Finding) -> bool:
    """What the rows' place can mend: what fails, and what only aiming leaves open."""
    open_yet = finding.because.key in AIMED_CLOSER
    return (
        finding.question in CASES
        and (finding.verdict is Verdict.FAILS or open_yet)
        and finding.weight is not Weight.ADVICE
        and finding.case != "near closed"
    )


def _turned_away(
    findings: tuple[Finding, ...],
    doorway: Doorway,
    asked: Mapping[str, Asked],
    cases: Sequence[Case],
    aimed: Remedy | None,
) -> tuple[Finding, ...]:
    """The findings, light on the door turned away only where the body stays reached."""
    turning = [f for f in findings if f.question == SELF_VIEW and _changes(f.remedy)]
    if not turning:
        return findings
    base = changed_settings(doorway, _changes(aimed))
    aimed_units = {change.fitting for change in _changes(aimed)}
    clear = _clear_units(base, asked[SELF_VIEW])
    apart = [f for f in turning if f.fitting not in aimed_units]
    away = [change for f in apart for change in _changes(f.remedy)]
    uncovers = bool(away) and _uncovers(base, changed_settings(base, away), cases)
    instead: dict[str | None, Remedy] = {}
    for finding in turning:
        if finding.fitting in aimed_units and finding.fitting in clear and aimed:
            instead[finding.fitting] = aimed
        elif finding.fitting in aimed_units or uncovers:
            said = {"fitting": finding.fitting or ""}
            instead[finding.fitting] = Remedy(Message("remedy.turn_uncovers", said))
    return tuple(
        replace(f, remedy=instead[f.fitting])
        if f in turning and f.fitting in instead
        else f
        for f in findings
    )


def _changes(remedy: Remedy | None) -> tuple[Change, ...]:
    return remedy.changes if remedy else ()


def _uncovers(before: Doorway, after: Doorway, cases: Sequence[Case]) -> bool:
    """Whether the body, reached everywhere before, no longer surely is after."""
    return _reached(before, cases) and not _reached(after, cases)


def _reached(doorway: Doorway, cases: Sequence[Case]) -> bool:
    settled = settle(doorway)
    return hold_everywhere(cases, settled.ways(), settled.ground)


def _clear_units(doorway: Doorway, asked: Asked) -> frozenset[str | None]:
    """Units whose light surely stays clear of the door."""
    again = replace(asked, doorway=doorway, settled=settle(doorway))
    return frozenset(f.fitting for f in self_view(again) if f.verdict is Verdict.HOLDS)
