"""What the survey's page shows: its questions, and what the answers say so far."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from limen.desk.survey import NO_UNIT, Survey, applying, asked_at
from limen.desk.surveying import FOR_A_VERDICT, First, Judged
from limen.exchange import tally
from limen.exchange.tally import MUST
from limen.findings import Finding, Message, Study, Verdict
from limen.web.doorway_drawn import drawing, to_draw
from limen.web.doorway_lines import sections
from limen.web.look import Look
from limen.web.sites_shown import counts_of
from limen.web.survey_form import Filled
from limen.words import said_assumed, say, unbroken

WIDTH = 560  # px, the narrow drawing
MOST_SETTLING = 5
TOPICS = ("rulebook", "edition", "unit_outside", "unit_inside")


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the things that a question lets choose.

    Attributes:
        value: as it is sent.
        title: as it is read.
    """

    value: str
    title: str


def questions_of(survey: Survey, form: Filled, judged: Judged) -> dict[str, Any]:
    """What the form is filled with.

    Args:
        survey: with the answers so far.
        form: as it was filled in.
        judged: what is not taken, and why.
    """
    applies = set(applying(survey))
    return {
        "fields": form.fields,
        "units": form.units,
        "faults": judged.faults,
        "applies": applies,
        "fixed": survey.fixed,
        "choices": {key: choices_of(survey, key) for key in TOPICS},
        "progress": progress(judged),
    }


def choices_of(survey: Survey, key: str) -> list[Choice]:
    """What may be chosen; a unit that is not there or not known comes last."""
    asked = asked_at(survey, key)
    told = zip(asked.choices, asked.titles, strict=True)
    return [
        Choice(value, f"{title} ({value})" if title and key != "edition" else value)
        for value, title in told
        if value != NO_UNIT
    ]


def progress(judged: Judged) -> str:
    """How much is answered."""
    said = {"answered": judged.answered, "of": judged.of}
    return say(Message("survey_page.progress.of", said))


def verdict_of(first: First, judged: Judged, look: Look) -> dict[str, Any]:
    """What the panel of the first verdict shows.

    Args:
        first: what was found.
        judged: the answers it rests on.
        look: how the reader wants pages.
    """
    study = first.study
    shown: dict[str, Any] = {
        "study": study,
        "edition": first.edition,
        "contradicting": first.lines,
        "lacks": _lacks(judged),
    }
    return shown if study is None else shown | _found(study, look)


def tally_of(first: First) -> tuple[tuple[str, str], ...]:
    """What is to be done, in words, each with the verdict it stands for."""
    return counts_of(tally(first.study.findings)) if first.study else ()


def _lacks(judged: Judged) -> str:
    lacking = [
        say(Message(f"survey_page.{key}.ask"))
        for key in FOR_A_VERDICT
        if key in judged.missing or key in judged.faults
    ]
    return ", ".join(lacking)


def _found(study: Study, look: Look) -> dict[str, Any]:
    system = look.system
    drawn = drawing(
        study, "plan", to_draw(study, None), WIDTH, system, turned=look.turned
    )
    assumed = dict.fromkeys(
        unbroken(say(said_assumed(one), system=system))
        for finding in study.findings
        for one in finding.assumed
    )
    return {
        "counts": counts_of(tally(study.findings)),
        "drawing": drawn,
        "sections": sections(study, system),
        "settling": _settling(study.of(Verdict.NOT_SHOWN), look),
        "assumed": list(assumed),
    }


def _settling(findings: Iterable[Finding], look: Look) -> list[str]:
    """What would settle most of what is not shown; what must hold counts first."""
    weights: Counter[str] = Counter()
    for one in findings:
        told = (say(lack.message, system=look.system) for lack in one.lacking)
        for said in dict.fromkeys(told):
            weights[unbroken(said)] += 10 if one.weight == MUST else 1
    return [said for said, _ in weights.most_common(MOST_SETTLING)]


def faults_said(faults: Mapping[str, str]) -> list[tuple[None, str]]:
    """Faults that belong to no question, as a page lists them."""
    return [(None, why) for key, why in faults.items() if not key]
