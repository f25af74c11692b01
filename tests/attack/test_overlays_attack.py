"""Overlays and a firm's figures that once made a rule laxer, or surer, than it is."""

from dataclasses import replace
from datetime import date

import pytest

from limen.quantity import Dimension, Grade, parse
from limen.rules import OwnValue, Rulebook, RulebookError, lay, override, read_overlay
from limen.store.bookshelf import open_shelf

SAID = {"document": "Paper", "clause": "1", "grade": "seen", "seen_in": "the counter"}
HEAD = {
    "id": "shop",
    "base": "en",
    "title": "Shop rules",
    "document": [{"name": "Paper", "title": "An invented paper"}],
}


def base() -> Rulebook:
    return open_shelf().edition("en", "2012")


def laid(question: str, limit: str, figure: str, way: str, **keys: object) -> Rulebook:
    """The European rulebook with one figure of an invented shop laid on it."""
    cases = [
        {
            "title": says,
            "says": says,
            "given": {"limit": limit, "found": found, "compare": way},
        }
        for says, found in zip(
            ("holds", "fails"), _around(figure, upward=way == "at least"), strict=True
        )
    ]
    rule = {
        "id": f"shop.{question}",
        "question": question,
        "over": question,
        "limits": {limit: figure},
        "source": SAID,
        "case": cases,
        **keys,
    }
    files = {"overlay.toml": HEAD, "10.toml": {"rule": [rule]}}
    return lay(base(), read_overlay(files, "2012", ["2012", "2023"]))


def _around(figure: str, *, upward: bool) -> tuple[str, str]:
    number, unit = figure.split()
    beyond, short = (1, -1) if upward else (-1, 1)
    return f"{float(number) + beyond} {unit}", f"{float(number) + short} {unit}"


@pytest.mark.parametrize("way", ["at least", "at most"])
@pytest.mark.parametrize(
    ("question", "limit", "figure"),
    [
        ("presence.threshold", "body_height", "900 mm"),
        ("presence.leaf_path", "body_length", "500 mm"),
        ("approach.opens_in_time", "stand_off", "1 mm"),
    ],
)
def test_an_overlay_cannot_name_by_itself_which_way_is_stricter(
    question: str, limit: str, figure: str, way: str
) -> None:
    """A taller test body is found more easily: "at least 900 mm" is the laxer."""
    with pytest.raises(RulebookError, match="stricter which way"):
        laid(question, limit, figure, way)


def test_an_overlay_that_asks_more_than_its_document_says_so() -> None:
    question = "presence.side_screen"
    more = laid(question, "clearance_deep", "600 mm", "at least", stricter=True)
    plain = laid(question, "clearance_deep", "600 mm", "at least")
    laxer = laid(question, "clearance_deep", "400 mm", "at least", stricter=True)
    for book, stricter in ((more, True), (plain, False), (laxer, False)):
        (rule,) = (one for one in book.rules if one.name == question)
        assert rule.stricter is stricter


def test_one_figure_of_another_document_does_not_confirm_a_rule() -> None:
    """The clause of the standard is as little read as before."""
    rule = next(one for one in base().rules if one.name == "leaf.power_loss.escape")
    unread = replace(rule.authority, grade=Grade.MEMORY)
    book = replace(base(), rules=(replace(rule, unset={}, authority=unread),))
    figure = parse("200 N", Dimension.FORCE, Grade.OWN)
    day, kind = date(2026, 3, 2), Dimension.FORCE
    own = OwnValue(rule.id, "hand_force", figure, kind, "page 9", "who read", day, "v")
    assert override(book, [own]).rules[0].authority.grade is Grade.MEMORY


@pytest.mark.parametrize("name", ["de", "uk", "fr", "au"])
@pytest.mark.parametrize("edition", ["2012", "2023"])
def test_a_country_lowers_no_weight_and_drops_no_rule(name: str, edition: str) -> None:
    order = ("must", "should", "advice")
    shelf = open_shelf()
    country = {one.name: one for one in shelf.edition(name, edition).rules}
    for rule in shelf.edition("en", edition).rules:
        weights = order.index(country[rule.name].weight), order.index(rule.weight)
        assert weights[0] <= weights[1]
        assert set(country[rule.name].unset) <= set(rule.unset)
