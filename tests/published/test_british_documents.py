"""British documents beside the European standard.

Approved Document K, Protection from falling, collision and impact, 2013, section
10.1(d), seen on a mirrored page. Approved Document B, Fire safety, volume 1, 2019,
section 3.98, seen in a public copy. They give no figure for a sliding leaf.
"""

import pytest

from limen.rules import How
from published.rulebooks import rule_for, shipped


@pytest.mark.parametrize("edition", ["2012", "2023"])
@pytest.mark.parametrize(
    ("escape", "document", "clause"),
    [(False, "Approved Document K", "10.1(d)"), (True, "Approved Document B", "3.98")],
)
def test_opening_without_power_is_asked_by_both_and_both_are_cited(
    edition: str, escape: bool, document: str, clause: str
) -> None:
    uk = rule_for(shipped("uk", edition), "leaf.power_loss", escape_route=escape)
    en = rule_for(shipped("en", edition), "leaf.power_loss", escape_route=escape)
    said = {(one.document, one.clause) for one in uk.authorities()}
    assert (document, clause) in said
    assert {(one.document, one.clause) for one in en.authorities()} < said
    assert uk.limits == en.limits


def test_no_british_figure_but_how_often_to_check_changes_what_is_judged() -> None:
    """Half-yearly service: common practice, no source."""
    others = {
        (one.rule, one.how)
        for one in shipped("uk", "2023").differences
        if one.how is not How.CITES
    }
    assert {how for _, how in others} == {How.TIGHTENS}
    assert all("keeping.due" in rule for rule, _ in others)
