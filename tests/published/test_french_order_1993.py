"""French law beside the European standard.

Arrêté du 21 décembre 1993 relatif aux portes et portails automatiques et
semi-automatiques sur les lieux de travail, article 9, second hand; règlement de
sécurité ERP, article CO 48, second hand. They ask for upkeep: every
six months is the only figure.
"""

from dataclasses import replace

import pytest

from limen.rules import How, Weight
from published.rulebooks import rule_of, shipped


@pytest.mark.parametrize("edition", ["2012", "2023"])
def test_a_door_is_judged_as_by_the_european_standard(edition: str) -> None:
    fr, en = shipped("fr", edition), shipped("en", edition)
    named = [replace(one, id=f"fr.{edition}.{one.name}") for one in en.rules]
    pairs = zip(fr.rules, named, strict=True)
    others = [own.question for own, base in pairs if own != base]
    assert others == ["keeping.due"]
    assert {one.how for one in fr.differences} == {How.TIGHTENS, How.RAISES}


@pytest.mark.parametrize("edition", ["2012", "2023"])
def test_a_check_every_six_months_is_a_must(edition: str) -> None:
    """Article 9, second hand."""
    rule = rule_of(shipped("fr", edition), "keeping.due")
    assert rule.weight is Weight.MUST
    assert rule.limit("interval").value == 6.0


def test_upkeep_and_a_contract_are_noted() -> None:
    """Article 9: at least every six months and after any fault; CO 48: a contract."""
    notes = " ".join(shipped("fr", "2023").notes)
    assert "at least every six months and after any fault" in notes
    assert "maintenance contract" in notes
    names = {one.name for one in shipped("fr", "2023").documents}
    assert {"Order of 21 December 1993", "Rules on fire and panic"} <= names
