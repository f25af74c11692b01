"""The card pack of a doorway: what a phone takes along to the door.

Everything in it is made at the desk; the phone weighs answers and fits readings, and
proves nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from importlib.metadata import version
from typing import TYPE_CHECKING, Literal, cast

from limen.desk.callouts import known_door, open_call_out
from limen.desk.card_pack_change import change_of
from limen.desk.card_pack_fit import fit_of
from limen.desk.card_pack_said import Sayer, test_of, words_of, work_of
from limen.desk.card_pack_shape import Budget, Guess, Pack, Rulebook, Test
from limen.desk.card_pack_targets import targets_of
from limen.desk.card_pack_trace import trace_of
from limen.desk.changes_kept import change_at
from limen.desk.clock import now
from limen.desk.drawing import VIEWS, Units
from limen.desk.library import Desk, Opened, book_of, drawing, open_site, study_of
from limen.desk.library_sites import file_name
from limen.desk.records import moment, record_part
from limen.desk.visits import last
from limen.prove import as_pack
from limen.prove.further import offered, place_named
from limen.prove.minimum import bodies, minimum
from limen.prove.work import order_of_work
from limen.quantity import Show

if TYPE_CHECKING:
    from limen.findings import Study
    from limen.questions.asking import Asked

Visit = Literal["yearly", "acceptance", "after repair"]
SCHEMA = 1
MOVING = ("closing", "still")
"""Tests with a box in a place that tell of leaves or of time, not of beams."""
OFFERED = ("id", "title", "minimum")
"""Of each test, what a record of a visit says."""
WIDTH = 390
"""Of the drawings, in pixels: a phone's."""
BUDGETS: Mapping[Visit, Budget] = {
    "yearly": Budget(steps=8, minutes=6),
    "acceptance": Budget(steps=15, minutes=15),
    "after repair": Budget(steps=4, minutes=3),
}
"""Further places of a visit, and minutes for them; common practice, no source."""


def card_pack(
    desk: Desk,
    site_id: str,
    doorway: str,
    *,
    units: Units = "metric",
    only_owed: bool = False,
) -> dict[str, object]:
    """All that the job card needs of a doorway, ready to be written as JSON.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: id of the doorway.
        units: in which lengths are said.
        only_owed: whether the card is to ask for the tests that a change owes, and
            no others.

    Returns:
        What `limen.desk.card_pack_shape.Pack` describes.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or nothing settles its edition.
        FileFaults: the site's text cannot be read.
    """
    opened = open_site(desk, site_id)
    study = study_of(desk, opened, doorway)
    asked = _asked(desk, opened, doorway)
    say = Sayer(Show(units))
    before = last(desk, site_id, doorway)
    settled, door = next(iter(asked.values())).settled, study.doorway
    since = change_at(desk, opened, doorway, system=Show(units))
    owed = [one.test.id for one in since.owing.owed] if since else []
    tests, guessed = all_tests(asked, study, say, owed)
    targets = targets_of(door, settled, study, say)
    made = Pack(
        schema=SCHEMA,
        limen=version("limen"),
        site=site_id,
        doorway=doorway,
        name=door.name,
        version=opened.stored.version,
        digest=opened.stored.digest,
        made=moment(now()),
        rulebook=Rulebook(
            id=study.rulebook, edition=study.edition, digest=study.digest
        ),
        record=_recorded(opened, study, tests, Show(units)),
        drawings={
            view: drawing(study, view, width_px=WIDTH, units=units) for view in VIEWS
        },
        targets=targets,
        work=[work_of(one, say) for one in order_of_work(door)],
        tests=tests,
        guess=guessed,
        budgets=dict(BUDGETS),
        fit=fit_of(door, settled),
        last=before.visit,
        parents=list(before.parents),
        words=words_of(),
    )
    if since is not None:
        made["change"] = change_of(since, targets, say, only=only_owed)
    told = open_call_out(desk, site_id, doorway)
    known = known_door(desk, opened, doorway, told.call.at if told else None)
    made["trace"] = trace_of(known, minimum(asked), told)
    return dict(made)


def _asked(desk: Desk, opened: Opened, doorway: str) -> Mapping[str, "Asked"]:
    """What the study of today asked of the doorway."""
    from limen.study.running import asked_of

    door, site = opened.doorway(doorway), opened.site
    return asked_of(door, book_of(desk, site, door), on=desk.day(), site=site)


def all_tests(
    asked: Mapping[str, "Asked"],
    study: "Study",
    say: Sayer,
    owed: Iterable[str] = (),
) -> tuple[list[Test], Guess]:
    """All tests of a doorway in their order, and what may be wrong, test by test.

    Args:
        asked: what is put to the doorway, by question.
        study: of the doorway.
        say: in whose words.
        owed: ids of tests that are owed; a place among them that is not offered any
            more is tested once more, and tells nothing of others.
    """
    every = offered(asked)
    plan = next(iter(asked.values())).settled.plan
    numbers = iter(range(len(every.guess.spots)))
    put = [None if one.pose is None else next(numbers) for one in every.least]
    # what a leaf that moves or a body that stays shows is not whether beams reach it
    resting = (one.group not in MOVING for one in every.least)
    at = [spot if rests else None for spot, rests in zip(put, resting, strict=True)]
    steps = (*every.least, *every.places.values())
    known = {one.id for one in steps}
    again = [
        step
        for one in owed
        if one not in known and (step := place_named(one, bodies(asked), plan))
    ]
    steps = (*steps, *again)
    tests = [test_of(one, steps, study, plan, say) for one in steps]
    return tests, cast(
        "Guess", as_pack(every.guess, [*at, *every.places, *(None for _ in again)])
    )


def _recorded(
    opened: Opened, study: "Study", tests: Sequence[Test], system: Show
) -> dict[str, object]:
    """What a record of a visit says before it: all but the visit itself."""
    files = {f"{file_name(opened.stored.name)}.toml": opened.stored.digest}
    offered = [{name: one[name] for name in OFFERED} for one in tests]
    part, _ = record_part(study, opened.site, files, system=system, tests=offered)
    return part
