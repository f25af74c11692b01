"""Light turned away from the door leaves the body reached."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Study, Verdict
from limen.study import apply, study
from questions.asking import book

SELF_VIEW = "presence.self_view"
COVERAGE = ("presence.threshold", "presence.leaf_path")


def musts_of_presence(found: Study) -> dict[object, Verdict]:
    return {
        f.key: f.verdict
        for f in found.findings
        if f.question in COVERAGE and "dead" not in str(f.case)
    }


def seen(found: Study) -> list[Finding]:
    return [f for f in found.findings if f.question == SELF_VIEW and f.remedy]


@pytest.mark.parametrize("rows_at", ["25 mm", "45 mm"])
@pytest.mark.parametrize("divergence", ["1 deg", "3 deg"])
@pytest.mark.parametrize("from_leaf", ["120 mm", "40 mm"])
def test_light_is_turned_away_only_as_far_as_the_body_stays_reached(
    rows_at: str, divergence: str, from_leaf: str
) -> None:
    doorway = a_doorway(
        {
            "sheet.presence.spot_divergence": divergence,
            "fitting[outside].lens.from_leaf": from_leaf,
            "fitting[inside].lens.from_leaf": from_leaf,
            "header.outside": "20 mm",
            "header.inside": "20 mm",
            "rows_at": rows_at,
        }
    )
    found = study(doorway, book())
    changes = {
        change: None
        for finding in found.findings
        if finding.question in (*COVERAGE, SELF_VIEW) and finding.remedy
        for change in finding.remedy.changes
    }
    if not changes:
        return
    settings = [(c.fitting, c.setting) for c in changes]
    assert len(set(settings)) == len(settings), "two remedies set one thing twice"
    before, after = (
        musts_of_presence(found),
        musts_of_presence(study(apply(doorway, changes), book())),
    )
    for key, was in before.items():
        if was is Verdict.HOLDS:
            assert after[key] is Verdict.HOLDS, key


def test_some_light_is_seen_there() -> None:
    found = study(
        a_doorway({"sheet.presence.spot_divergence": "3 deg", "rows_at": "45 mm"}),
        book(),
    )
    assert seen(found)


@pytest.mark.parametrize(
    "crooked",
    [
        {"fitting[outside].settings.roll": "12 deg"},
        {"fitting[outside].settings.yaw": "12 deg"},
        {
            "fitting[outside].settings.fan": "narrow",
            "fitting[outside].settings.roll": "12 deg",
        },
    ],
)
def test_row_ends_read_before_a_unit_is_levelled_prove_nothing_after(
    crooked: dict[str, object],
) -> None:
    """The ends move when the unit is turned or its fan is set: nothing is printed."""
    read = {"left_end": "-1100 mm", "right_end": "1100 mm"}
    doorway = a_doorway(
        {
            "sheet.presence.fan.choices": {"wide": "2400 mm", "narrow": "1800 mm"},
            "fitting[outside].read": read,
            "rows_at": "60 mm",
            **crooked,
        }
    )
    for finding in study(doorway, book()).findings:
        for change in finding.remedy.changes if finding.remedy else ():
            assert change.setting not in (
                "settings.roll",
                "settings.yaw",
                "settings.fan",
            )


def test_a_width_read_to_light_edges_needs_the_width_of_the_light() -> None:
    """Nobody says what the width was measured to, nor how wide the light is."""
    changes = {
        "sheet.presence.fan.measured_to": None,
        "sheet.presence.spot_divergence": None,
    }
    found = study(a_doorway(changes), book())
    cases = [f for f in found.findings if f.question == "presence.threshold"]
    assert {f.verdict for f in cases} == {Verdict.NOT_SHOWN}
    assert {lack.key for f in cases for lack in f.lacking} == {
        "sheet.presence.spot_divergence"
    }
