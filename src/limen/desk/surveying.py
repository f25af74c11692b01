"""The survey on one page: judged while it is answered, kept as a doorway.

Nothing of an answer lies on the disk before it is kept; the page that asks holds on
to what was typed.
"""

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from limen.desk.library import Clash, Desk, FileFaults, Opened, Stored, read_text
from limen.desk.library import open_site as open_stored
from limen.desk.refusal import Refusal
from limen.desk.shelves import DEFAULT
from limen.desk.survey import (
    DOOR,
    NEEDED,
    UNKNOWN,
    Survey,
    applying,
    editions_of,
    surveyed,
    why_not,
)
from limen.findings import Message
from limen.store.editing import set_value
from limen.store.short_answers import DOOR_KEYS, short_text
from limen.store.short_full import full_text
from limen.words import retold, say

if TYPE_CHECKING:
    from limen.findings import Study

BEHIND = ("behind_left", "behind_right")
FOR_A_VERDICT = ("rulebook", "leaves", "clear_width")
"""Without these nothing can be studied."""
_LONGEST_ID = 36  # a number may follow
_MANY = 1000


@dataclass(frozen=True, slots=True)
class Judged:
    """Answers held against the questions.

    Attributes:
        faults: why an answer is not taken, by question.
        missing: questions that must be answered before the doorway can be kept.
        answered: how many of the questions at the door are answered.
        of: how many those are.
    """

    faults: Mapping[str, str]
    missing: tuple[str, ...]
    answered: int
    of: int


@dataclass(frozen=True, slots=True)
class First:
    """The first verdict.

    Attributes:
        study: of the doorway as far as it was answered; None where too little is
            known, or where the answers contradict each other.
        edition: the edition that was taken as long as nobody has chosen one.
        lines: why nothing can be said, in words.
    """

    study: "Study | None"
    edition: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KeptDoor:
    """A doorway that was kept.

    Attributes:
        stored: its site.
        doorway: its id.
        short: whether it stands there in the short form.
    """

    stored: Stored
    doorway: str
    short: bool


class NotTakenError(Exception):
    """Answers that cannot be kept.

    Attributes:
        faults: why, by question; a question of the survey or an empty text.
    """

    def __init__(self, faults: Mapping[str, str]) -> None:
        super().__init__("; ".join(faults.values()))
        self.faults = dict(faults)


def begun(desk: Desk, answers: Mapping[str, str], site_id: str | None = None) -> Survey:
    """A survey with the answers that a page has so far.

    Args:
        desk: the desk.
        answers: as typed, by key; what was not answered is left out.
        site_id: the site that gets one doorway more; None for a new site.

    Raises:
        NoSuchSiteError: there is no such site.
        FileFaults: its text cannot be read.
    """
    fixed: dict[str, str] = {}
    if site_id is not None:
        site = open_stored(desk, site_id).site
        fixed = {"site": site.name, "rulebook": site.rulebook or DEFAULT}
    given = {key: typed for key, typed in answers.items() if key not in fixed}
    return surveyed(desk.sheets, given, fixed)


def settled(survey: Survey) -> Survey:
    """The survey as it is judged for good: a day that nobody gave is not known."""
    return _with(survey, "commissioned", survey.answers.get("commissioned", UNKNOWN))


def judged(survey: Survey) -> Judged:
    """Which answers are taken, and what is still to be answered."""
    keys = applying(survey)
    refused = {key: why.why for key in keys if (why := why_not(survey, key))}
    answers = survey.answers
    missing = tuple(k for k in keys if k in NEEDED and k not in answers)
    topics = _topics(keys)
    taken = {key for key in keys if key in answers and key not in refused}
    answered = sum(all(key in taken for key in topic) for topic in topics)
    return Judged(refused, missing, answered, len(topics))


def first_verdict(desk: Desk, survey: Survey, found: Judged) -> First:
    """The findings of the doorway as far as it was answered; nothing is kept.

    Args:
        desk: the desk.
        survey: the survey, as far as it was answered.
        found: its answers judged; those that are not taken are left out.
    """
    from limen.desk.library import study_of

    given = {
        key: typed
        for key in applying(survey)
        if (typed := survey.answers.get(key)) and key not in found.faults
    }
    if any(key not in {**given, **survey.fixed} for key in FOR_A_VERDICT):
        return First(None)
    edition = "" if given.get("edition") else next(iter(_newest(survey)), "")
    chosen = {"edition": edition} if edition else {}
    named = {"site": _placeholder("site"), "door": _placeholder("door")}
    text = short_text({**named, **given, **survey.fixed, **chosen})
    try:
        opened = _opened(desk, text)
        return First(study_of(desk, opened, opened.site.doorway[0].id), edition)
    except FileFaults as faults:
        return First(None, edition, tuple(_lines(faults)))
    except Refusal as refusal:
        return First(None, edition, refusal.lines)


def keep(desk: Desk, survey: Survey, site_id: str | None = None) -> KeptDoor:
    """Keep the doorway: as a new site, or as one doorway more of a site.

    It is kept in full, where every value can be turned.  Where the place of a
    lens is not known the short form is kept: the full form would have to leave the
    unit out, and *not shown* would become *fails*.

    Args:
        desk: the desk.
        survey: the survey, as far as it was answered; what was not answered is not
            known.
        site_id: the site that gets one doorway more; None for a new site.

    Raises:
        NotTakenError: an answer is not taken, or one that must be known lacks.
        NoSuchSiteError: there is no such site.
    """
    survey = settled(survey)
    found = judged(survey)
    needed = dict.fromkeys(found.missing, say(Message("survey_page.needed")))
    if found.faults or needed:
        raise NotTakenError({**needed, **found.faults})
    given = {key: survey.answers.get(key, UNKNOWN) for key in applying(survey)}
    short = _unplaced(given)
    if site_id is None:
        return _as_site(desk, given, short=short)
    return _as_doorway(desk, {**given, **survey.fixed}, site_id, short=short)


# Judging -----------------------------------------------------------------------


def _topics(keys: Iterable[str]) -> list[list[str]]:
    """Questions at the door as they are counted: both spaces behind are one."""
    at_door = [key for key in keys if key in DOOR]
    behind = [key for key in at_door if key in BEHIND]
    single = [[key] for key in at_door if key not in BEHIND]
    return [*single, behind] if behind else single


def _newest(survey: Survey) -> tuple[str, ...]:
    """The newest of the editions among which nobody has chosen yet."""
    return editions_of(settled(survey))[-1:]


def _with(survey: Survey, key: str, typed: str) -> Survey:
    answers = {**survey.answers, key: typed}
    return replace(survey, kept=replace(survey.kept, answers=answers))


def _placeholder(key: str) -> str:
    return say(Message(f"survey_page.unnamed.{key}"))


def _opened(desk: Desk, text: str) -> Opened:
    """A text that is not kept, read as one that is."""
    name = _placeholder("site")
    stored = Stored("-", name, text, 1, "-", False, "", False, False)  # noqa: FBT003
    return Opened(stored, read_text(desk, text, name)[0].site)


def _lines(faults: FileFaults) -> list[str]:
    return [
        f"{retold(fault.why)}: {fault.found}" if fault.found else retold(fault.why)
        for fault in faults.faults
    ]


def _unplaced(given: Mapping[str, str]) -> bool:
    """Whether a unit is named whose lens nobody has measured."""
    named = [
        side
        for side in ("outside", "inside")
        if given.get(f"unit_{side}", UNKNOWN) not in (UNKNOWN, "none")
    ]
    return any(
        UNKNOWN in (given.get("lens_height"), given.get(f"plumb_{side}"))
        for side in named
    )


# Keeping -----------------------------------------------------------------------


def _as_site(desk: Desk, given: Mapping[str, str], *, short: bool) -> KeptDoor:
    door = door_id(given["door"], ())
    text = _written(desk, given, door, short=short)
    stored = desk.library.add(given["site"], text)
    return KeptDoor(stored, door, short)


def _as_doorway(
    desk: Desk, given: Mapping[str, str], site_id: str, *, short: bool
) -> KeptDoor:
    """Put the doorway behind what is kept now; who saved meanwhile loses nothing."""
    while True:
        opened = open_stored(desk, site_id)
        door = door_id(given["door"], {one.id for one in opened.site.doorway})
        whole = _written(desk, given, door, short=short)
        head = "[[short]]" if short else "[[doorway]]"
        before = opened.stored.text.rstrip("\n")
        text = f"{before}\n\n{head}{whole.partition(head)[2]}"
        _read(desk, text, opened.stored.name)
        kept = desk.library.save(site_id, text, opened.stored.version)
        if not isinstance(kept, Clash):
            return KeptDoor(kept, door, short)


def _written(desk: Desk, given: Mapping[str, str], door: str, *, short: bool) -> str:
    """The text of a site with this doorway alone."""
    said = say(Message("survey_page.begun_short" if short else "survey_page.begun"))
    text = set_value(short_text(given, [said]), ("short", 0, "id"), door)
    _read(desk, text, given["site"])
    if short:
        return text
    whole = full_text(text, desk.sheets.parent / "survey.toml")
    _read(desk, whole, given["site"])
    return whole


def _read(desk: Desk, text: str, name: str) -> None:
    """Make sure that a text can be read before it is kept.

    Raises:
        NotTakenError: it contradicts itself; by question where that is known.
    """
    try:
        read_text(desk, text, name)
    except FileFaults as faults:
        told: dict[str, str] = {}
        for fault in faults.faults:
            key = next((one for one in DOOR_KEYS if one in fault.key), "")
            told.setdefault(key, retold(fault.why))
        raise NotTakenError(told) from faults


def door_id(name: str, taken: Collection[str]) -> str:
    """The id of a doorway after its name, and another than those that are taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")
    wanted = words[:_LONGEST_ID].strip("-") or "main"
    numbered = (f"{wanted}-{number}" for number in range(2, _MANY))
    return next(one for one in (wanted, *numbered) if one not in taken)
