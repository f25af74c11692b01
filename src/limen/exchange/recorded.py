"""A study as a record carries it: short, and readable without the program.

What fails or is not shown says why in a sentence; what holds says how much room there
is and on whose authority.  The whole contract is named by its digest.
"""

from collections.abc import Callable, Iterable, Sequence
from hashlib import sha256

from limen.exchange.contract import Json, contract, dumps
from limen.exchange.symbols import SI
from limen.findings import Finding, Margin, Message, Study, Verdict
from limen.quantity import Show
from limen.words import said_assumed, say

DIGITS = 6
"""Of a margin in SI: a thousandth of a millimetre is more than anybody reads."""

_OPEN = (Verdict.FAILS, Verdict.NOT_SHOWN)

Say = Callable[[Message], str]


def recorded(
    study: Study,
    *,
    site: str,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> tuple[Json, str]:
    """A study in brief, and the whole of it as text.

    Args:
        study: of one doorway.
        site: the site's name.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers are SI.

    Returns:
        The study as a record carries it, and the contract's text whose SHA-256 stands
        in it.
    """

    def sentence(message: Message) -> str:
        return say(message, language=language, system=system)

    whole = dumps(contract([study], site=site, language=language, system=system))
    authorities = _authorities(study.findings)
    return {
        "rulebook": study.rulebook,
        "edition": study.edition,
        "rulebook_digest": study.digest,
        "on": study.on.isoformat() if study.on else None,
        "contract": sha256(whole.encode()).hexdigest(),
        "authorities": [
            {"document": document, "clause": clause, "grade": grade}
            for document, clause, grade in authorities
        ],
        "findings": list(_findings(study.findings, authorities, sentence)),
        "assumed": _assumed(study.findings, sentence),
        "owed": _owed(study.findings, sentence),
        "overrides": list(study.overrides),
    }, whole


Authority = tuple[str, str | None, str]


def _authorities(findings: Iterable[Finding]) -> list[Authority]:
    """Every document and clause that is rested on, each once."""
    return list(dict.fromkeys(one for each in findings for one in _by(each)))


def _by(finding: Finding) -> Iterable[Authority]:
    return (
        (one.document, one.clause if one.clause_known else None, one.grade.value)
        for one in finding.authority
    )


def _findings(
    findings: Sequence[Finding], authorities: Sequence[Authority], sentence: Say
) -> Iterable[Json]:
    """One row a thing that is open; what is answered alike stands together."""
    alike: dict[str, tuple[Json, list[Json]]] = {}
    for one in findings:
        row = _row(one, [authorities.index(each) for each in _by(one)], sentence)
        _, cases = alike.setdefault(str(row), (row, []))
        cases.append(_case(one))
    for row, cases in alike.values():
        yield {**row, "cases": cases}


def _row(finding: Finding, by: list[int], sentence: Say) -> Json:
    row: Json = {
        "question": finding.question,
        "weight": finding.weight.value,
        "verdict": finding.verdict.value,
        "by": by,
    }
    if finding.to_confirm:
        row["to_confirm"] = True
    if finding.verdict is not Verdict.HOLDS:
        row["because"] = sentence(finding.because)
    if finding.verdict in _OPEN and finding.remedy:
        row["remedy"] = sentence(finding.remedy.message)
    return row


def _case(finding: Finding) -> Json:
    """Of which unit and case, with its room; what is not said is left out."""
    said = {
        "fitting": finding.fitting,
        "case": finding.case,
        "margin": _margin(finding.margin),
    }
    return {name: value for name, value in said.items() if value is not None}


def _margin(margin: Margin | None) -> Json | None:
    if margin is None:
        return None
    value, u = round(margin.value, DIGITS), round(margin.u, DIGITS)
    return {"value": value, "unit": SI[margin.dimension], "u": u}


def _assumed(findings: Iterable[Finding], sentence: Say) -> list[str]:
    said = (sentence(said_assumed(one)) for each in findings for one in each.assumed)
    return list(dict.fromkeys(said))


def _owed(findings: Iterable[Finding], sentence: Say) -> list[str]:
    """The tests and readings that are owed where something holds, each once."""
    holding = (one for one in findings if one.verdict is Verdict.HOLDS)
    return list(dict.fromkeys(sentence(one) for each in holding for one in each.owed))
