"""What is lacking, put back and nothing else, settles what was not shown.

Any of the figures on which wiring, answers, weather and marks rest are left out of the
reference doorway together.
"""

from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from questions.asking import asked, book

OPTIONAL = (
    "operator.inputs",
    "operator.supply",
    "operator.current",
    "operator.reacts_in",
    "operator.tests_before_closing",
    "operator.inputs[2].monitored",
    "operator.inputs[2].fails_to",
    "operator.inputs[2].rests",
    "fitting[inside].wires",
    "fitting[inside].wires[2].test_enabled",
    "fitting[inside].cable",
    "fitting[inside].cable.area",
    "fitting[inside].cable.hottest",
    "fitting[inside].cable.drip_loop",
    "fitting[inside].covered",
    "fitting[inside].settings.steadiness",
    "sheet.outputs",
    "sheet.outputs[2].kind",
    "sheet.outputs[2].normal_state",
    "sheet.outputs[2].monitored",
    "sheet.outputs[2].test_input",
    "sheet.supply",
    "sheet.supply.least",
    "sheet.supply.most",
    "sheet.supply.current",
    "sheet.environment",
    "sheet.environment.outdoors",
    "sheet.environment.sealing",
    "sheet.environment.coldest",
    "sheet.environment.hottest",
    "sheet.presence.response",
    "sheet.presence.learns_after",
    "exposure.inside",
    "exposure.coldest",
    "exposure.hottest",
    "exposure.windy",
    "marking.glass",
    "marking.signed",
    "document",
)
QUESTIONS = (
    "presence.response",
    "presence.hold_time",
    "wiring.inputs",
    "wiring.fail_safe",
    "wiring.voltage",
    "wiring.supply",
    "wiring.performance_level",
    "mounting.exposure",
    "site.marking",
)
ROUNDS = 8
INSTEAD = {"fitting[inside].cable.loop": "fitting[inside].cable.area"}
"""Measured instead of read: the reference doorway states the size of the core."""


def without(missing: frozenset[str]) -> Doorway:
    """The reference doorway, in the open on both sides, without these figures."""
    whole = [key for key in missing if not _within_another(key, missing)]
    changes: dict[str, object] = {"exposure.inside": "open", "exposure.windy": True}
    for fitting in ("inside", "outside"):
        changes[f"fitting[{fitting}].settings.steadiness"] = "high"
    return a_doorway(changes | dict.fromkeys(whole))


def _within_another(key: str, missing: frozenset[str]) -> bool:
    return any(key != one and key.startswith((f"{one}.", f"{one}[")) for one in missing)


def open_findings(doorway: Doorway) -> Iterator[Finding]:
    us = book("us", "2005")  # it has a hold time; no other figure is unset and asked
    for question in QUESTIONS:
        for finding in asked(question, doorway, us).values():
            if finding.verdict is not Verdict.HOLDS:
                yield finding


def put_back(missing: frozenset[str], keys: set[str]) -> frozenset[str]:
    """What is still missing when these keys are stated again, with all below them."""
    return frozenset(
        one
        for one in missing
        if not any(one == key or _touches(one, key) for key in keys)
    )


def _touches(one: str, key: str) -> bool:
    return one.startswith((f"{key}.", f"{key}[")) or key.startswith(
        (f"{one}.", f"{one}[")
    )


@given(st.frozensets(st.sampled_from(OPTIONAL), max_size=12))
@settings(max_examples=40)
def test_what_is_lacking_put_back_and_nothing_else_settles_it(
    missing: frozenset[str],
) -> None:
    for _ in range(ROUNDS):
        left = [
            f for f in open_findings(without(missing)) if f.verdict is not _NOT_ASKED
        ]
        assert Verdict.FAILS not in {finding.verdict for finding in left}
        if not left:
            return
        assert all(finding.lacking for finding in left)
        lacks = [lack.key for finding in left for lack in finding.lacking]
        keys = {INSTEAD.get(key, key) for key in lacks}
        still = put_back(missing, keys)
        assert still < missing, keys
        missing = still
    raise AssertionError("not settled")


_NOT_ASKED = Verdict.NOT_ASKED
