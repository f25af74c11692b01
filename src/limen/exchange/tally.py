"""What a study adds up to: things to do, never one verdict for a door."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from limen.findings import Finding, Study, Verdict

MUST = "must"
DUE = "keeping.due"
OWN_COPY = "values:"
"""How a key begins that names a figure of the rulebook."""
_OFFICE = frozenset({"document", "kept", "sheet", "values"})
"""Parts of a key that name something settled on paper, not at the door."""
_PARTS = re.compile(r"[^a-z_]+")


@dataclass(frozen=True, slots=True)
class Tally:
    """Counts of things to do.

    Attributes:
        mend: musts that fail, each question once, however many cases it has.
        measure: things to be measured or read at the door before more is shown.
        office: papers and figures to be found or confirmed at a desk.
        advised: what fails without being a must.
        due: doorways whose check is due; counted above as well, by its weight.
    """

    mend: int
    measure: int
    office: int
    advised: int
    due: int = 0


def tally(findings: Iterable[Finding]) -> Tally:
    """Add up findings of one doorway.

    One reading may settle several findings and counts once; what is not shown
    without naming what it lacks still counts, as something to measure.
    """
    every = tuple(findings)
    failing = [one for one in every if one.verdict is Verdict.FAILS]
    must = {one.question for one in failing if one.weight == MUST}
    other = {one.question for one in failing if one.weight != MUST}
    door, office = _lacking(every)
    due = any(one.question == DUE for one in failing)
    to_do = len(office) + len(_to_confirm(every))
    return Tally(len(must), len(door), to_do, len(other), int(due))


def together(studies: Iterable[Study]) -> Tally:
    """The counts of several doorways: what is done at each is done there.

    A figure of the rulebook is looked up once for all doorways that it judges.
    """
    every = tuple(studies)
    counts = [tally(study.findings) for study in every]
    figures = [
        (study.rulebook, study.edition, figure)
        for study in every
        for figure in _figures(study.findings)
    ]
    doubled = len(figures) - len(set(figures))
    return Tally(
        sum(one.mend for one in counts),
        sum(one.measure for one in counts),
        sum(one.office for one in counts) - doubled,
        sum(one.advised for one in counts),
        sum(one.due for one in counts),
    )


def _figures(findings: Iterable[Finding]) -> set[str]:
    """What the rulebook itself leaves to be found or confirmed."""
    every = tuple(findings)
    _, office = _lacking(every)
    return {key for key in office if key.startswith(OWN_COPY)} | _to_confirm(every)


def _to_confirm(findings: Iterable[Finding]) -> set[str]:
    return {one.question for one in findings if one.to_confirm}


def exit_code(studies: Iterable[Study]) -> int:
    """The exit status of the contract.

    Returns:
        1 if a must fails, else 3 if a must is not shown, else 0.
    """
    every = tuple(studies)
    if any(study.musts(Verdict.FAILS) for study in every):
        return 1
    return 3 if any(study.musts(Verdict.NOT_SHOWN) for study in every) else 0


def for_office(key: str) -> bool:
    """Whether a key names something that papers settle."""
    return bool(_OFFICE & set(_PARTS.split(key)))


def _lacking(every: Iterable[Finding]) -> tuple[set[str], set[str]]:
    door: set[str] = set()
    office: set[str] = set()
    for one in every:
        if one.verdict is not Verdict.NOT_SHOWN:
            continue
        keys = {lack.key for lack in one.lacking} or {f"{one.question} {one.fitting}"}
        office |= {key for key in keys if for_office(key)}
        door |= {key for key in keys if not for_office(key)}
    return door, office
