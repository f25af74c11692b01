"""The best settings as JSON, schema 1.

Lengths are metres, angles radians, shares 0 to 1.  The studies stand in it as
`limen check --json` writes each doorway.
"""

import json
from collections.abc import Callable, Iterable
from dataclasses import asdict
from importlib.resources import files

from limen.exchange.contract import Json, Say, doorway_contract, heads
from limen.exchange.symbols import SI
from limen.findings import Margin, Message, Study
from limen.findings.tuned import Aim, Binding, Choice, Measures, Tuned, Turned
from limen.quantity import Quantity, Show
from limen.words import say
from limen.words.tuned import said_aim, said_turned

Studied = Callable[[Study], Json]


def tuning_contract(
    tuned: Iterable[Tuned],
    *,
    site: str,
    language: str | None = None,
    system: Show = Show.METRIC,
) -> Json:
    """The best settings of some doorways, as plain values.

    Args:
        tuned: one a doorway.
        site: the site's name.
        language: of the sentences; the reader's if None.
        system: units inside the sentences; the numbers stay SI.

    Returns:
        What `tuning_schema` describes.
    """
    every = tuple(tuned)

    def sentence(message: Message) -> str:
        return say(message, language=language, system=system)

    def studied(study: Study) -> Json:
        return doorway_contract(study, language=language, system=system)

    return {
        **heads([one.before for one in every], site),
        "doorways": [_doorway(one, sentence, studied) for one in every],
    }


def tuning_schema() -> dict[str, object]:
    """The schema that every `tuning_contract` keeps to (JSON Schema, 2020-12)."""
    file = files("limen.exchange").joinpath("tuning.schema.json")
    return json.loads(file.read_text("utf-8"))


def _doorway(tuned: Tuned, sentence: Say, studied: Studied) -> Json:
    best = tuned.best
    return {
        "id": tuned.before.doorway.id,
        "before": studied(tuned.before),
        "best": studied(best.study),
        "now": _measures(tuned.now),
        "settings": _settings(best.settings, sentence),
        "targets": [_aim(one, sentence) for one in best.aims],
        "front": [_choice(one, sentence) for one in tuned.front],
        "why_not_better": [_binding(one, sentence) for one in tuned.why_not_better],
        "lacking": {
            name: [sentence(one.message) for one in lacks]
            for name, lacks in tuned.lacking.items()
        },
        "work": asdict(tuned.work),
    }


def _settings(settings: Iterable[Turned], sentence: Say) -> list[Json]:
    return [
        {
            "fitting": one.fitting,
            "setting": one.setting,
            "from": one.was or None,
            "to": one.to,
            "says": sentence(said_turned(one)),
        }
        for one in settings
    ]


def _aim(aim: Aim, sentence: Say) -> Json:
    return {
        **asdict(aim.target),
        "step": aim.step,
        "coarse": aim.coarse,
        "says": sentence(said_aim(aim)),
    }


def _measures(measures: Measures) -> Json:
    return {
        "margin": _margin(measures.margin),
        "late": measures.late,
        "needless": _a_day(measures.needless),
    }


def _margin(margin: Margin | None) -> Json | None:
    if margin is None:
        return None
    return {"value": margin.value, "unit": SI[margin.dimension], "u": margin.u}


def _a_day(needless: Quantity | None) -> Json | None:
    if needless is None:
        return None
    grade = needless.grade.value
    return {"value": needless.value, "u": needless.u, "grade": grade}


def _choice(choice: Choice, sentence: Say) -> Json:
    return {
        **_measures(choice.measures),
        "settings": _settings(choice.settings, sentence),
        "fails": [
            {"question": one.question, "fitting": one.fitting, "case": one.case}
            for one in choice.study.findings
            if one.verdict.value == "fails" and one.weight.value != "advice"
        ],
    }


def _binding(binding: Binding, sentence: Say) -> Json:
    finding = binding.finding
    return {
        "question": finding.question,
        "fitting": finding.fitting,
        "case": finding.case,
        "weight": finding.weight.value,
        "verdict": finding.verdict.value,
        "margin": _margin(finding.margin),
        "because": sentence(finding.because),
        "lifts": [sentence(one) for one in binding.lifts],
        "lacking": [sentence(one.message) for one in finding.lacking],
    }
