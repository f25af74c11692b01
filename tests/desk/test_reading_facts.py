"""What a question looks at: nothing that it does not look at can change its answer."""

from datetime import date

import pytest

import limen
from limen.desk.reading_facts import Way, looked_at, noted
from limen.desk.shelves import judging, shelf
from limen.findings import Finding
from limen.model.doorway import Doorway
from limen.quantity import Quantity
from limen.store.schema import schema

DAY = date(2026, 11, 25)
SITE = limen.load_site("src/limen/demo/alder-quay-as-found.toml")
MAIN = SITE.door("main")
(BOOK,) = judging([MAIN], shelf(), "en", None)
READS = looked_at(MAIN, SITE, BOOK, DAY)

OTHERWISE: dict[Way, tuple[str, object]] = {
    ("leaves", "mass"): ("leaves", {"mass": Quantity(120.0)}),
    ("marking", "glass"): ("marking", {"glass": "plain"}),
    ("exposure", "windy"): ("exposure", {"windy": False}),
    ("operator", "supply"): ("operator", {"supply": Quantity(18.0)}),
    ("motion", "closing_speed"): ("motion", {"closing_speed": Quantity(0.6)}),
    ("power_loss", "hand_force"): ("power_loss", {"hand_force": Quantity(300.0)}),
    ("mechanics", "lock"): ("mechanics", {"lock": "to mend"}),
}
"""Facts of the main entrance, and other values for them."""


def _changed(part: str, values: object) -> Doorway:
    table = getattr(MAIN, part).model_copy(update=values)
    return MAIN.model_copy(update={part: table})


def _answers(door: Doorway) -> dict[str, list[Finding]]:
    site = SITE.model_copy(
        update={"doorway": tuple(door if d.id == "main" else d for d in SITE.doorway)}
    )
    from limen.study import study

    found: dict[str, list[Finding]] = {}
    for one in study(door, BOOK, on=DAY, site=site).findings:
        found.setdefault(one.question, []).append(one)
    return found


BEFORE = _answers(MAIN)


@pytest.mark.parametrize("way", OTHERWISE, ids=".".join)
def test_a_fact_that_is_not_looked_at_changes_no_answer(way: Way) -> None:
    after = _answers(_changed(*OTHERWISE[way]))
    turned = {name for name, found in after.items() if found != BEFORE[name]}
    looking = {name for name, read in READS.items() if way in read}
    assert turned
    assert turned <= looking
    assert looking < set(READS)


def test_what_is_noted_is_the_same_doorway() -> None:
    seen: list[Way] = []
    other = noted(MAIN, seen.append)
    assert not seen
    assert isinstance(other, Doorway)
    assert other.leaves.thickness == MAIN.leaves.thickness
    assert seen == [("leaves", "thickness")]
    assert other.fitting[1].lens is not None
    assert other.fitting[1].lens.height == MAIN.fitting[1].lens.height  # pyright: ignore[reportOptionalMemberAccess]
    assert ("fitting", 1, "lens", "height") in seen


def test_noting_leaves_the_published_schema_as_it_is() -> None:
    before = schema("site")
    looked_at(MAIN, SITE, BOOK, DAY)
    assert schema("site") == before
