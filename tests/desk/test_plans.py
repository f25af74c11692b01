"""Floor plans come to what was said of them, and every step of it can be taken back."""

import json
from collections.abc import Iterator
from typing import Any

import pytest

from builders.pictures import png
from builders.two_doors import two_doors
from limen.desk import library_sites as sites
from limen.desk import plans
from limen.desk.library import Desk, Opened, open_desk, open_site
from limen.desk.plans import NoSuchPlanError, chosen_plan
from limen.desk.plans_folded import FIRST, Floors, Pin, Plan, as_sorted
from limen.desk.refusal import Refusal
from limen.store.database.keeping import keep_event

PICTURE, OTHER = png(40, 30), png(30, 40)


class Site:
    """The plans of a site with two doorways, `main` and `side`."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.id = sites.import_text(desk, two_doors()).id

    @property
    def opened(self) -> Opened:
        """The site as it is kept now."""
        return open_site(self.desk, self.id)

    @property
    def floors(self) -> Floors:
        """Its plans as they stand."""
        return plans.floors_of(self.desk, self.opened)

    @property
    def names(self) -> list[str]:
        """The names of its plans, in order."""
        return [one.name for one in self.floors.plans]

    def plan(self, id: str) -> Plan:  # noqa: A002 - what it is called everywhere
        """A plan that is there."""
        found = self.floors.of(id)
        assert found is not None
        return found

    def add(self, name: str) -> str:
        """Add a plan; its id."""
        return plans.add_plan(self.desk, self.opened, name, PICTURE)

    def name(self, id: str, name: str) -> None:  # noqa: A002 - what it is called everywhere
        """Call a plan something else."""
        plans.name_plan(self.desk, self.opened, self.plan(id), name)

    def pin(self, doorway: str, plan: str, x: float = 0.5) -> None:
        """Set a pin."""
        plans.set_pin(self.desk, self.opened, Pin(doorway, plan, x, 0.5))

    def back(self) -> str:
        """Take the last step back."""
        return plans.take_back(self.desk, self.opened)

    def said(self, kind: str, doorway: str = "", **said: Any) -> None:
        """An event as it was kept when a site had one picture."""
        keep_event(
            self.desk.library,
            about="plan",
            site=self.id,
            doorway=doorway,
            kind=kind,
            text=json.dumps(said),
        )


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    one = open_desk(tmp_path_factory.mktemp("plans") / "library.db")
    yield one
    one.library.close()


@pytest.fixture
def site(desk: Desk) -> Site:
    return Site(desk)


def test_what_was_said_when_there_was_one_picture_is_the_first_plan(site: Site) -> None:
    elsewhere = Site(site.desk)
    elsewhere.add("Any")
    (any_plan,) = elsewhere.floors.plans
    assert any_plan.picture is not None
    site.said("plan", sha256=any_plan.picture.sha256)
    site.said("pin", "main", x=0.25, y=0.75)
    assert site.floors.plans == (Plan(FIRST, "", any_plan.picture),)
    assert site.floors.pins == {"main": Pin("main", FIRST, 0.25, 0.75)}
    level = site.add("Level 1")
    assert site.names == ["", "Level 1"]
    site.pin("main", level)
    site.said("pin", "main", x=None, y=None)
    last = site.floors.last
    assert last is not None
    assert (last.plan, last.name) == (level, "Level 1")  # where the pin was
    assert site.back() == level  # seen on the plan on which the pin is again
    assert site.floors.pins["main"].plan == level
    assert site.back() == FIRST


def test_plans_stand_in_the_order_in_which_people_put_their_names(site: Site) -> None:
    for name in ("Level 10", "level 2", "Étage", "Level -1", "Ground floor", "Zone B"):
        site.add(name)
    wanted = ["Étage", "Ground floor", "Level -1", "level 2", "Level 10", "Zone B"]
    assert site.names == wanted


def test_a_hyphen_before_a_number_is_a_minus_only_after_a_space() -> None:
    names = ["B-2", "B-1", "-1", "-2", "0 Hall", "A", ""]
    assert sorted(names, key=as_sorted) == ["", "-2", "-1", "0 Hall", "A", "B-1", "B-2"]


def test_a_pin_set_on_another_plan_moves_there_and_back(site: Site) -> None:
    one, two = site.add("One"), site.add("Two")
    site.pin("main", one, 0.1)
    site.pin("side", one, 0.2)
    site.pin("main", two, 0.9)
    pins = site.floors.pins
    assert (pins["main"].plan, pins["side"].plan) == (two, one)
    assert site.back() == one
    assert site.floors.pins["main"] == Pin("main", one, 0.1, 0.5)


def test_every_step_is_taken_back_the_last_first(site: Site) -> None:
    one = site.add("One")
    steps: list[Any] = [
        lambda: site.name(one, "First"),
        lambda: site.pin("main", one),
        lambda: site.add("Two"),
        lambda: site.pin("main", site.floors.plans[-1].id, 0.7),
        lambda: site.name(one, "Ground floor"),
        lambda: plans.set_picture(site.desk, site.opened, site.plan(one), OTHER),
        lambda: plans.take_pin(site.desk, site.opened, "main"),
        lambda: plans.take_picture_away(site.desk, site.opened, site.plan(one)),
    ]
    seen = [site.floors]
    for step in steps:
        step()
        assert site.floors.plans != seen[-1].plans or site.floors.pins != seen[-1].pins
        seen.append(site.floors)
    for before in reversed(seen[:-1]):
        site.back()
        assert site.floors == before
    site.back()
    assert site.floors == Floors((), {}, None)
    with pytest.raises(Refusal, match="nothing to be taken back"):
        site.back()


def test_a_plan_without_picture_stays_while_a_pin_is_on_it(site: Site) -> None:
    kept, empty = site.add("Kept"), site.add("Empty")
    site.pin("main", kept)
    for plan in (kept, empty):
        plans.take_picture_away(site.desk, site.opened, site.plan(plan))
    assert site.floors.plans == (Plan(kept, "Kept", None),)
    with pytest.raises(NoSuchPlanError):
        chosen_plan(site.floors, empty)
    site.add("Empty")  # its name is free again
    assert site.names == ["Empty", "Kept"]


def test_a_pin_of_a_doorway_that_is_gone_keeps_no_plan(site: Site) -> None:
    plan = site.add("One")
    site.pin("side", plan)
    plans.take_picture_away(site.desk, site.opened, site.plan(plan))
    text = site.opened.stored.text
    less = text[: text.rindex("[[doorway]]")]
    sites.save_text(site.desk, site.id, less, site.opened.stored.version)
    assert site.floors.plans == ()
    sites.save_text(site.desk, site.id, text, site.opened.stored.version)
    assert site.names == ["One"]


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("", "needs a name"),
        (" \t\u00a0", "needs a name"),
        ("x" * 61, "at most 60 characters; this one has 61"),
        ("LEVEL  1", "is called Level 1 already"),
        ("floor plan", "is called Floor plan already"),
    ],
    ids=["nothing", "blanks", "long", "taken", "the unnamed one"],
)
def test_a_name_is_refused_and_why(site: Site, name: str, says: str) -> None:
    plans.set_picture(site.desk, site.opened, None, PICTURE)
    site.add("Level 1")
    other = site.add("Level 2")
    before = site.floors
    with pytest.raises(Refusal, match=says):
        site.add(name)
    with pytest.raises(Refusal, match=says):
        site.name(other, name)
    assert site.floors == before


def test_a_name_of_sixty_letters_is_taken_and_its_own_in_capitals(site: Site) -> None:
    plan = site.add("é" * 60)
    site.name(plan, "É" * 60)
    assert site.names == ["É" * 60]
    last = site.floors.last
    site.name(plan, "É" * 60)
    assert site.floors.last == last  # nothing was said
