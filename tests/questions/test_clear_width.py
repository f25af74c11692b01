"""How wide the door opens."""

import pytest

from limen.findings import Verdict
from limen.rules import Weight
from questions.asking import ask, book

WIDTH = "site.clear_width"
US = book("us", "2005")


@pytest.mark.parametrize(
    ("width", "verdict"),
    [
        ("33 in", Verdict.HOLDS),
        ("32 in", Verdict.HOLDS),
        ("812 mm", Verdict.FAILS),
        ("815 mm ± 5 mm", Verdict.NOT_SHOWN),
        ("2000 mm, estimate", Verdict.NOT_SHOWN),
    ],
)
def test_a_width_against_the_one_that_is_asked(width: str, verdict: Verdict) -> None:
    found = ask(WIDTH, {"clear_width": width}, rules=US)
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is Verdict.NOT_SHOWN)
    assert bool(found.remedy) is (verdict is Verdict.FAILS)
    if found.lacking:
        assert {one.key for one in found.lacking} == {"clear_width"}


def test_a_reduced_width_is_a_case_of_its_own_with_a_remedy_of_its_own() -> None:
    changes = {"modes": ["automatic", "reduced"], "reduced_width": "31 in"}
    found = ask(WIDTH, changes, case="reduced width", rules=US)
    assert found.verdict is Verdict.FAILS
    assert found.margin
    assert found.margin.value == pytest.approx(-0.0254, abs=1e-9)
    assert found.remedy
    assert found.remedy.message.key == "clear_width.reduced.remedy"
    assert ask(WIDTH, changes, rules=US).verdict is Verdict.HOLDS


def test_it_is_a_must_of_american_law_and_cites_its_section() -> None:
    found = ask(WIDTH, rules=US)
    assert found.weight is Weight.MUST
    assert [(one.document, one.clause) for one in found.authority] == [
        ("ADA Standards 2010", "404.3.1")
    ]
