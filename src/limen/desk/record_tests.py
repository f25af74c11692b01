"""The tests that a doorway's card offers, as a record names them."""

from collections.abc import Iterable, Mapping, Set
from typing import TYPE_CHECKING, Any

from limen.quantity import Show

if TYPE_CHECKING:
    from limen.findings import Study
    from limen.model.site import Site
    from limen.prove.minimum import Step
    from limen.rules import Rulebook


def tests_of(
    study: "Study",
    book: "Rulebook",
    site: "Site",
    answered: Set[str],
    system: Show,
) -> list[dict[str, Any]]:
    """Id and title of every test that may never be skipped, and of those answered.

    Args:
        study: of the doorway.
        book: what judged it.
        site: where it stands.
        answered: ids of the tests that have an answer.
        system: units of the titles.
    """
    from limen.desk.card_pack_said import Sayer

    say = Sayer(system)
    return [
        {"id": one.id, "title": say(one.title), "minimum": one.minimum}
        for one in _steps(study, book, site, answered)
        if one.minimum or one.id in answered
    ]


def _steps(
    study: "Study", book: "Rulebook", site: "Site", answered: Set[str]
) -> "Iterable[Step]":
    """The minimum set; the further places only where one of them was tested."""
    from limen.prove.minimum import minimum
    from limen.study.running import asked_of

    asked = asked_of(study.doorway, book, on=study.on, site=site)
    least = minimum(asked)
    if not answered - {one.id for one in least}:
        return least
    from limen.prove.further import offered

    every = offered(asked)
    return (*every.least, *every.places.values())


def answered_in(visit: Mapping[str, Any] | None) -> frozenset[str]:
    """The tests to which a folded visit has an answer."""
    tests = visit.get("tests", ()) if visit else ()
    return frozenset(str(one["said"]["step"]) for one in tests)
