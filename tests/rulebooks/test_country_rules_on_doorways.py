"""The same doorway under a rulebook and under the country rules laid on it."""

from functools import cache

import pytest

from builders.doorways import a_doorway, a_site
from limen.desk.checking import study_site
from limen.findings import Finding, Verdict
from limen.model.site import Site
from limen.quantity import Grade
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Excluded, Rule, Rulebook, Unsettled
from limen.store.bookshelf import open_shelf
from limen.study.running import facts_of

SHELF = open_shelf()
COUNTRIES = ("de", "uk", "fr", "au")
NO_BREAK_OUT = {"escape_route": True, "breaks_out": False}


@cache
def book(name: str) -> Rulebook:
    return SHELF.edition(name, "2012")


def answers(name: str, question: str, **changes: object) -> tuple[Finding, ...]:
    door = a_doorway(changes)
    rule = book(name).rule_for(question, facts_of(door))
    assert isinstance(rule, Rule)
    return QUESTIONS[question].ask(Asked(door, settle(door), rule))


def documents(found: tuple[Finding, ...]) -> set[tuple[str, str]]:
    return {(a.rulebook, a.document) for one in found for a in one.authority}


def test_150_n_by_hand_are_enough_in_europe_and_too_much_in_australia() -> None:
    """220 N against 110 N, on an exit door; both are cited where both speak."""
    changes = {
        "use": NO_BREAK_OUT,
        "power_loss": {"does": "opens", "by": "battery", "hand_force": "150 N"},
    }
    by_hand = {
        name: [
            one.verdict
            for one in answers(name, "leaf.power_loss", **changes)
            if one.case == "by hand"
        ]
        for name in ("en", "au")
    }
    assert by_hand == {"en": [Verdict.HOLDS], "au": [Verdict.FAILS]}
    cited = documents(answers("au", "leaf.power_loss", **changes))
    assert {("au", "NCC"), ("en", "EN 16005:2012")} <= cited


@pytest.mark.parametrize("name", COUNTRIES)
def test_a_site_may_name_the_rulebook_of_its_country(name: str) -> None:
    """Commissioned in 2018: the edition is the base's of that day."""
    site = Site.model_validate(a_site().model_dump() | {"rulebook": name})
    (found,) = study_site(site)
    assert (found.rulebook, found.edition) == (name, "2012")


@pytest.mark.parametrize("name", COUNTRIES)
def test_presence_is_judged_as_by_the_base_and_cites_it(name: str) -> None:
    there, base = (
        answers(each, "presence.threshold", rows_at="160 mm") for each in (name, "en")
    )
    assert [one.verdict for one in there] == [one.verdict for one in base]
    assert Verdict.FAILS in {one.verdict for one in there}
    assert documents(there) == documents(base)


@pytest.mark.parametrize(
    ("public", "kind"), [(True, Rule), (False, Excluded), (None, Unsettled)]
)
def test_a_rule_for_public_buildings_hangs_on_whether_it_is_one(
    public: bool | None, kind: type
) -> None:
    door = a_doorway({"use": {"public": public}} if public is not None else {})
    facts = {**facts_of(door), "public": public}
    assert isinstance(book("de").rule_for("site.clear_width", facts), kind)
    assert isinstance(book("en").rule_for("site.clear_width", facts), Excluded)


def test_the_narrower_german_rule_on_marks_leaves_other_buildings_to_the_base() -> None:
    public, other = (
        book("de").rule_for("site.marking", {"public": said}) for said in (True, False)
    )
    assert isinstance(public, Rule)
    assert isinstance(other, Rule)
    assert public.limit("highest_to").grade is Grade.SEEN
    assert "highest_to" in other.unset


@pytest.mark.parametrize("name", COUNTRIES)
def test_no_country_asks_less_than_its_base(name: str) -> None:
    """Every figure is the base's, or stricter by the cases of its rule."""
    base = {one.name: one for one in book("en").rules}
    for rule in book(name).rules:
        below = base.get(rule.name)
        for limit in below.limits if below else ():
            moved = rule.limit(limit).value - below.limit(limit).value if below else 0
            ways = {
                case.given.compare
                for case in rule.cases
                if case.given and case.given.limit == limit
            }
            assert moved == 0 or (moved > 0) is (ways == {"at least"})
