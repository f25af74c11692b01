"""French law beside the European standard.

Arrêté du 21 décembre 1993 relatif aux portes et portails automatiques et
semi-automatiques sur les lieux de travail, article 9, second hand; règlement de
sécurité ERP, article CO 48, second hand. They ask for upkeep and give no figure.
"""

from dataclasses import replace

import pytest

from published.rulebooks import shipped


@pytest.mark.parametrize("edition", ["2012", "2023"])
def test_a_door_is_judged_as_by_the_european_standard(edition: str) -> None:
    fr, en = shipped("fr", edition), shipped("en", edition)
    named = [replace(one, id=f"fr.{edition}.{one.name}") for one in en.rules]
    assert list(fr.rules) == named
    assert fr.differences == ()


def test_upkeep_every_six_months_and_a_contract_are_noted_not_judged() -> None:
    """Article 9: at least every six months and after any fault; CO 48: a contract."""
    notes = " ".join(shipped("fr", "2023").notes)
    assert "at least every six months and after any fault" in notes
    assert "maintenance contract" in notes
    names = {one.name for one in shipped("fr", "2023").documents}
    assert {"Order of 21 December 1993", "Rules on fire and panic"} <= names
