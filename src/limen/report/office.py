"""What the office is to find out, once for all doorways."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from limen.exchange.tally import for_office
from limen.findings import Lack, Message, Study, Verdict
from limen.report.tongue import Plain, Tongue, sentence


@dataclass(slots=True)
class _Open:
    """One thing to find out: what it settles, and at which doorways."""

    settles: dict[str, None] = field(default_factory=dict[str, None])
    doorways: dict[str, None] = field(default_factory=dict[str, None])


def office(studies: Sequence[Study], tongue: Tongue) -> list[Plain]:
    """What manuals, papers and one's own copy of a rulebook would settle.

    Args:
        studies: of the doorways.
        tongue: of the reader.

    Returns:
        A row for each thing: *what* it is, what it *settles* and *where*, and the
        *key* under which it is written.  What one sheet or rulebook settles at
        several doorways stands there once.
    """
    rows: dict[tuple[str, str], _Open] = {}
    for study, name, lack in _lacks(studies):
        row = rows.setdefault((tongue.say(lack.message), lack.key), _Open())
        row.settles[tongue.question(name)] = None
        row.doorways[study.doorway.name] = None
    return [
        {
            "what": sentence(what),
            "key": key,
            "settles": tongue.apart(row.settles),
            "where": _where(row, studies, tongue),
        }
        for (what, key), row in rows.items()
    ]


def _lacks(studies: Sequence[Study]) -> list[tuple[Study, str, Lack]]:
    return [
        (study, finding.question, lack)
        for study in studies
        for finding in study.of(Verdict.NOT_SHOWN)
        for lack in finding.lacking
        if for_office(lack.key)
    ]


def _where(row: _Open, studies: Sequence[Study], tongue: Tongue) -> str:
    """The doorways by name; nothing where it is all of them."""
    if len(row.doorways) < len(studies):
        return tongue.apart(row.doorways)
    return tongue.say(Message("report.all_doorways")) if len(studies) > 1 else ""
