"""The doorway from which the cases of every rulebook start."""

import pytest

from builders.doorways import a_doorway
from limen.desk.checking import study
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway

RULEBOOKS = (("en", "2012"), ("en", "2023"), ("us", "2005"))
# The figure the standards leave to the owner's copy, and figures that are estimates.
OWED = {
    "presence.hold_time",
    "presence.contrast",
    "leaf.closing_energy",
    "leaf.closing_force",
    "leaf.stops_in_time",
}


def _findings(door: Doorway, book: tuple[str, str]) -> tuple[Finding, ...]:
    name, edition = book
    return study(door.model_copy(update={"edition": edition}), name).findings


@pytest.mark.parametrize("book", RULEBOOKS, ids=" ".join)
def test_everything_holds_under_every_rulebook(book: tuple[str, str]) -> None:
    short = {
        (finding.question, finding.case, finding.verdict.value)
        for finding in _findings(a_doorway(), book)
        if finding.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
        and finding.question not in OWED
        and "dead" not in (finding.case or "")
    }
    assert short == set()


def test_everything_is_stated() -> None:
    assumed = {
        item.key
        for finding in _findings(a_doorway(), RULEBOOKS[0])
        for item in finding.assumed
    }
    assert assumed == set()


@pytest.mark.parametrize("rows_at", ["84 mm", "160 mm"])
def test_rows_at_is_where_the_first_rows_land_from_the_leafs_middle(
    rows_at: str,
) -> None:
    found = study(a_doorway(rows_at=rows_at), "en")
    for unit in found.units:
        at = unit.rows[0].from_leaf + 0.020
        assert at == pytest.approx(float(rows_at.split(maxsplit=1)[0]) / 1000, abs=1e-9)


def test_rows_too_far_apart_fail_and_only_in_their_own_question() -> None:
    failing = {
        finding.question
        for finding in _findings(a_doorway(rows_at="160 mm"), RULEBOOKS[0])
        if finding.verdict is Verdict.FAILS and "dead" not in (finding.case or "")
    }
    assert failing == {"presence.threshold", "presence.leaf_path"}
