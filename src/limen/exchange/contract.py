"""Studies as the JSON of the contract, schema 1.

Numbers are SI and carry their unit's symbol where the key does not fix it; what a
person reads is a sentence.  Nothing is left out: what is not there is null or [].
"""

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict

from limen.exchange.symbols import SI
from limen.findings import Finding, Margin, Message, Study, Witness
from limen.quantity import Show
from limen.words import said_assumed, say

SCHEMA = 1

Json = dict[str, object]
Say = Callable[[Message], str]


def contract(
    studies: Iterable[Study],
    *,
    site: str,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> Json:
    """All studies of a site as plain values.

    Args:
        studies: one a doorway.
        site: the site's name.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers stay SI.

    Returns:
        What `findings_schema` describes.  Where doorways are judged by different
        rulebooks, editions or dates, the one for all is null and each doorway
        still says its own.
    """
    every = tuple(studies)

    def sentence(message: Message) -> str:
        return say(message, language=language, system=system)

    return {
        **heads(every, site),
        "doorways": [_doorway(study, sentence) for study in every],
    }


def heads(studies: Sequence[Study], site: str) -> Json:
    """What stands over the doorways: limen, schema, site, rulebook, edition, day.

    Args:
        studies: one a doorway.
        site: the site's name.
    """
    return {
        "limen": _shared({study.version for study in studies}),
        "schema": SCHEMA,
        "site": site,
        "rulebook": _shared({study.rulebook for study in studies}),
        "edition": _shared({study.edition for study in studies}),
        "on": _shared({_day(study) for study in studies}),
    }


def doorway_contract(
    study: Study, *, language: str | None = None, system: Show = Show.METRIC
) -> Json:
    """One study as it stands in the contract.

    Args:
        study: of one doorway.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers stay SI.
    """
    return _doorway(study, lambda one: say(one, language=language, system=system))


def dumps(values: Json) -> str:
    """JSON text of a contract; readable, and the same for the same values.

    Raises:
        ValueError: a number is not finite.
    """
    return json.dumps(values, indent=2, ensure_ascii=False, allow_nan=False)


def _shared(values: set[str | None]) -> str | None:
    return next(iter(values)) if len(values) == 1 else None


def _day(study: Study) -> str | None:
    return study.on.isoformat() if study.on else None


def _doorway(study: Study, sentence: Say) -> Json:
    return {
        "id": study.doorway.id,
        "name": study.doorway.name,
        "rulebook": study.rulebook,
        "edition": study.edition,
        "digest": study.digest,
        "overrides": list(study.overrides),
        "notes": list(study.notes),
        "findings": [_finding(one, sentence) for one in study.findings],
    }


def _finding(finding: Finding, sentence: Say) -> Json:
    remedy = finding.remedy
    return {
        "question": finding.question,
        "fitting": finding.fitting,
        "case": finding.case,
        "weight": finding.weight.value,
        "stricter": finding.stricter,
        "verdict": finding.verdict.value,
        "to_confirm": finding.to_confirm,
        "margin": _margin(finding.margin),
        "needed": _said(finding.needed, sentence),
        "found": _said(finding.found, sentence),
        "because": sentence(finding.because),
        "remedy": _said(remedy and remedy.message, sentence),
        "changes": [asdict(one) for one in remedy.changes] if remedy else [],
        "targets": [asdict(one) for one in remedy.targets] if remedy else [],
        "lacking": [sentence(one.message) for one in finding.lacking],
        "settled_by": [one.key for one in finding.lacking],
        "authority": _authorities(finding),
        "witness": _witness(finding.witness),
        "assumed": [sentence(said_assumed(one)) for one in finding.assumed],
        "owed": [sentence(one) for one in finding.owed],
    }


def _said(message: Message | None, sentence: Say) -> str | None:
    return sentence(message) if message else None


def _margin(margin: Margin | None) -> Json | None:
    if margin is None:
        return None
    return {"value": margin.value, "unit": SI[margin.dimension], "u": margin.u}


def _authorities(finding: Finding) -> list[Json]:
    return [
        {
            "rulebook": one.rulebook,
            "edition": one.edition,
            "document": one.document,
            "clause": one.clause if one.clause_known else None,
            "grade": one.grade.value,
            "note": one.note,
        }
        for one in finding.authority
    ]


def _witness(witness: Witness | None) -> Json | None:
    if witness is None:
        return None
    pose = witness.pose and {
        "x": witness.pose.x,
        "y": witness.pose.y,
        "yaw": witness.pose.yaw,
        "width": witness.pose.width,
        "depth": witness.pose.depth,
        "height": witness.pose.height,
        "face": witness.pose.face,
    }
    return {
        "kind": witness.kind,
        "pose": pose,
        "printed": dict(witness.printed),
        "mounting": dict(witness.mounting),
        "gap": witness.gap,
    }
