"""The best settings of one doorway, all its units together, proof in the loop."""

from collections.abc import Sequence
from datetime import date

from limen.findings import Study
from limen.findings.tuned import Tuned, Turned, Work
from limen.model.doorway import Doorway
from limen.model.people import Side
from limen.model.site import Site
from limen.questions.coverage import Case, widest
from limen.questions.ranges import FIELD
from limen.questions.settled import settle
from limen.rules import Rulebook
from limen.study.glimpse import CASES_OF
from limen.tune.choosing import front_of, lacking_of, measures_of, turned_of
from limen.tune.field import FieldAsked, best_field
from limen.tune.lifting import why_not_better
from limen.tune.measuring import CHANNELS, SIDES, worse
from limen.tune.rows import Best
from limen.tune.rows_chosen import chosen_rows
from limen.tune.rows_proved import STEP
from limen.tune.scales import turned_all
from limen.tune.searched import Heard, Searched, unheard
from limen.tune.sharing import shared_out


def tune(
    doorway: Doorway,
    rulebook: Rulebook,
    *,
    on: date | None = None,
    site: Site | None = None,
    version: str = "",
    told: Heard = unheard,
) -> Tuned:
    """The best settings of a doorway, what is traded, and why there are none better.

    Rows are moved only to where every case of presence holds with all that aiming
    leaves open, and where the scale surely reaches however the unit is mounted.  Of
    such settings those count as better with which fewer questions fail or are open,
    then with most room, fewest late openings, fewest needless ones, least change.

    Args:
        doorway: as it is set, sheets hung on.
        rulebook: one edition.
        on: the day.
        site: the site, for doorways that are faced.
        version: of limen.
        told: hears how far the search is; whatever it raises ends it.

    Returns:
        The choices, the best first; it makes no must worse.
    """
    searched = Searched(doorway, rulebook, on, site, version, told)
    before = searched.study(doorway)
    searched.step()
    cases = _cases(searched)
    sides = [_side(searched, before, side) for side in SIDES]
    best_sets = [best_field(side) for side in sides]
    searched.step()
    rows = chosen_rows(searched, cases)
    searched.step()
    best, gap = _assembled(searched, before, rows, turned_of(best_sets))
    searched.step()
    front = front_of(searched, best, sides, best_sets, cases)
    searched.proofs += sum(side.count for side in sides)
    searched.step()
    lifted = why_not_better(searched, best[1], cases)
    lacking = lacking_of(searched)
    every = max(side.every for side in sides)
    work = Work(searched.studies, searched.proofs, searched.grid, gap, every, STEP)
    now = measures_of(searched, before)
    searched.step()
    return Tuned(before, now, front, lifted, lacking, work)


def _cases(searched: Searched) -> tuple[Case, ...]:
    """What must hold of presence, once for every setting: the plan is the same."""
    settled = settle(searched.doorway)
    every: list[Case] = []
    for name, cases_of in CASES_OF.items():
        asked = searched.asked(name, searched.doorway, settled)
        every += cases_of(asked) if asked else []
    return widest(every)


def _side(searched: Searched, before: Study, side: Side) -> FieldAsked:
    rules = {name: searched.rules[name] for name in FIELD if name in searched.rules}
    was = {one.key: one for one in before.findings}
    asked = FieldAsked(searched.doorway, side, rules, was, searched.beat)
    searched.grid *= asked.size
    return asked


def _assembled(
    searched: Searched,
    before: Study,
    rows: tuple[tuple[Turned, ...], Best],
    field_turned: tuple[Turned, ...],
) -> tuple[tuple[tuple[Turned, ...], Study], float]:
    """The best settings with their study; parts that spoil something are left out."""
    turned, found = rows
    for parts in ((turned, field_turned), (turned, ()), ((), field_turned)):
        both = (*parts[0], *parts[1])
        both = (*both, *_channels(searched, both))
        if not both:
            continue
        after = searched.study(turned_all(searched.doorway, both))
        if not worse(before, after):
            return (both, after), found.gap
    return ((), before), found.gap


def _channels(searched: Searched, turned: Sequence[Turned]) -> tuple[Turned, ...]:
    if CHANNELS not in searched.rules:
        return ()
    searched.proofs += 1
    around = searched.site.doorway if searched.site else ()
    return shared_out(turned_all(searched.doorway, turned), around)
