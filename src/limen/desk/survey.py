"""The two-minute survey: one question after another, nothing lost on the way.

A `Survey` is a value: each step gives a new one.  What was answered lies on the
disk after every step, so that it can be gone on with another time.
"""

from collections.abc import Generator, Iterable, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.words import retold, say

if TYPE_CHECKING:
    from limen.model.sheet import Sheet
    from limen.rules import Edition
    from limen.store.short_answers import Kept

UNKNOWN, BACK, HELP = "-", "<", "?"
NO_UNIT = "none"
PAPERS = ("site", "door", "rulebook", "commissioned", "edition")
DOOR = (
    "leaves",
    "clear_width",
    "lens_height",
    "unit_outside",
    "plumb_outside",
    "unit_inside",
    "plumb_inside",
    "opening_runs",
    "closing_runs",
    "behind_left",
    "behind_right",
    "escape_route",
    "many_frail_or_small",
)
NEEDED = ("site", "door", "rulebook", "edition", "leaves", "clear_width")
"""What must be known, as nothing can be read without it."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question of the survey, as it is put.

    Attributes:
        key: its key.
        number: which one it is, from 1, of those with tape and stopwatch; 0 for
            those answered from the papers.
        of: how many of those there are.
        choices: what may be chosen, where that is a short list.
        titles: what each choice is called, as far as the name does not tell.
        before: what was answered before, if anything was.
    """

    key: str
    number: int
    of: int
    choices: tuple[str, ...] = ()
    titles: tuple[str, ...] = ()
    before: str = ""

    @property
    def needed(self) -> bool:
        """Whether it must be known."""
        return self.key in NEEDED


@dataclass(frozen=True, slots=True)
class Why:
    """Why an answer is not taken.

    Attributes:
        why: the reason.
    """

    why: str


@dataclass(frozen=True, slots=True)
class Survey:
    """A survey on its way.

    Attributes:
        path: the site file that is to come.
        kept: the answers, as typed, and what lies on the disk.
        at: the key of the question that is put; empty when all are answered.
        sheets: the names of the sensor sheets that are at hand.
        rulebooks: the rulebooks that may judge, each with its editions.
        fixed: what need not be asked.
    """

    path: Path
    kept: "Kept"
    at: str
    sheets: tuple[str, ...]
    rulebooks: "Mapping[str, tuple[Edition, ...]]"
    fixed: Mapping[str, str] = field(default_factory=dict[str, str])

    @property
    def answers(self) -> dict[str, str]:
        """What was typed, by key."""
        return dict(self.kept.answers)


def begin(path: str | Path, rulebook: str | None = None) -> Survey:
    """Begin a survey, with the answers that were kept last time, if any.

    Args:
        path: the site file that is to come.
        rulebook: the rulebook, if it need not be asked.

    Raises:
        Refusal: there is such a file, the answers kept for it cannot be read, or
            there is no such rulebook.
    """
    from limen.store.sheetfile import BESIDE, sheet_names
    from limen.store.short_answers import kept

    target = Path(path)
    if target.exists():
        raise Refusal([say(Message("survey.there", {"file": str(target)}))])
    with refusing():
        before = kept(target)
        folder = target.parent / BESIDE
        names = sheet_names((folder,))
        sheets = tuple(name for name in names if _looks_down(name, folder))
        books = _rulebooks()
    if rulebook is not None and rulebook not in books:
        raise Refusal([f'no rulebook "{rulebook}"; there are: {", ".join(books)}'])
    fixed = {"rulebook": rulebook} if rulebook else {}
    survey = Survey(target, before, "", sheets, books, fixed)
    return replace(survey, at=_first_open(survey))


def surveyed(
    sheets: Path, answers: Mapping[str, str], fixed: Mapping[str, str]
) -> Survey:
    """A survey whose answers are not kept on the disk: those of a page.

    Args:
        sheets: the folder of the user's own sensor sheets.
        answers: as typed, by key.
        fixed: what need not be asked.

    Raises:
        Refusal: a rulebook cannot be used.
    """
    from limen.store.sheetfile import sheet_names
    from limen.store.short_answers import Kept

    with refusing():
        listed = sheet_names((sheets,))
        names = tuple(name for name in listed if _looks_down(name, sheets))
        books = _rulebooks()
    path = sheets.parent / "survey.toml"
    return Survey(path, Kept(answers, None), "", names, books, fixed)


def applying(survey: Survey) -> tuple[str, ...]:
    """The keys of the questions that apply, by what is answered so far."""
    return tuple(_keys(survey))


def asked_at(survey: Survey, key: str) -> Asked:
    """A question of the survey, whichever is put."""
    found = asked(replace(survey, at=key))
    assert found is not None  # noqa: S101 - a key is named
    return found


def why_not(survey: Survey, key: str) -> Why | None:
    """Why the answer to a question is not taken; None if it is, or there is none."""
    typed = survey.answers.get(key)
    return None if typed is None else _refused(replace(survey, at=key), typed)


def editions_of(survey: Survey) -> tuple[str, ...]:
    """Editions among which a person has to choose, oldest first; none if settled."""
    return _editions(survey)


def anew(survey: Survey) -> Survey:
    """The survey without the answers of last time."""
    blank = replace(survey, kept=replace(survey.kept, answers={}))
    return replace(blank, at=_first_open(blank))


def asked(survey: Survey) -> Asked | None:
    """The question that is put; None when all are answered."""
    if not survey.at:
        return None
    keys = _keys(survey)
    at_door = [key for key in keys if key in DOOR]
    number = at_door.index(survey.at) + 1 if survey.at in at_door else 0
    before = survey.answers.get(survey.at, "")
    choices = _choices(survey, survey.at)
    titles = tuple(_title(survey, choice) for choice in choices)
    return Asked(survey.at, number, len(at_door), choices, titles, before)


def back(survey: Survey) -> Survey:
    """The survey at the question before; the first stays the first."""
    keys = _keys(survey)
    place = keys.index(survey.at) if survey.at else len(keys)
    return replace(survey, at=keys[max(place - 1, 0)])


def answer(survey: Survey, typed: str) -> Survey | Why:
    """Take an answer, or say why not.

    Args:
        survey: at a question.
        typed: what was typed; empty takes the answer given before, if there is one.

    Returns:
        The survey at the next question that is open, or why the answer is not
        taken.

    Raises:
        Refusal: the answers cannot be kept on the disk.
    """
    given = _chosen(survey, typed.strip() or survey.answers.get(survey.at, ""))
    refused = _refused(survey, given)
    if refused is not None:
        return refused
    answers = {**survey.answers, survey.at: given}
    now = replace(survey, kept=_kept(survey, answers))
    keys = _keys(now)
    rest = keys[keys.index(survey.at) + 1 :]
    return replace(now, at=_next(now, rest))


def finish(survey: Survey) -> Path:
    """Write the site file in short; the answers kept on the way are removed.

    Raises:
        Refusal: a question is open, or the file cannot be written.
    """
    from limen.store.editing import save
    from limen.store.short_answers import part_of, short_text

    if survey.at:
        raise Refusal([say(Message("survey.open", {"file": str(survey.path)}))])
    given = {key: survey.answers[key] for key in _keys(survey) if key in survey.answers}
    begun = (
        say(Message("survey.begun")),
        say(Message("survey.begun_more", {"file": survey.path.name})),
    )
    with refusing(), _unchanged():
        save(survey.path, short_text({**given, **survey.fixed}, begun), expected=None)
        part_of(survey.path).unlink(missing_ok=True)
    return survey.path


# Which questions there are ------------------------------------------------------------


def _keys(survey: Survey) -> list[str]:
    """The questions that apply, by what is answered so far."""
    return [key for key in (*PAPERS, *DOOR) if _applies(survey, key)]


def _applies(survey: Survey, key: str) -> bool:
    if key in survey.fixed:
        return False
    if key == "edition":
        return bool(_editions(survey))
    if key.startswith("plumb_"):
        return survey.answers.get(key.replace("plumb", "unit")) != NO_UNIT
    if key.startswith("behind_"):
        leaves = _value(survey, "leaves")
        return leaves in (None, "bi-parting", f"single {key.removeprefix('behind_')}")
    return True


def _value(survey: Survey, key: str) -> object:
    from limen.store.short_answers import value_of

    typed = survey.answers.get(key)
    return None if typed is None else value_of(key, typed)


def _rulebooks() -> "dict[str, tuple[Edition, ...]]":
    from limen.desk.shelves import shelf

    books = shelf()
    return {name: tuple(books.editions(name)) for name in books.names()}


def _editions(survey: Survey) -> tuple[str, ...]:
    """Editions among which a person has to choose; none if the date settles it."""
    from limen.rules import AskEdition, choose_edition

    given = {**survey.answers, **survey.fixed}
    editions = survey.rulebooks.get(given.get("rulebook", ""))
    if editions is None or "commissioned" not in given:
        return ()
    day = _value(survey, "commissioned")
    found = choose_edition(editions, day if isinstance(day, date) else None)
    if isinstance(found, AskEdition):
        return tuple(one.edition for one in found.editions)
    return ()


def _choices(survey: Survey, key: str) -> tuple[str, ...]:
    if key.startswith("unit_"):
        return (*survey.sheets, NO_UNIT)
    if key == "rulebook":
        return tuple(survey.rulebooks)
    return _editions(survey) if key == "edition" else ()


def _title(survey: Survey, choice: str) -> str:
    """The title of a rulebook, of its newest edition, or of a sensor sheet."""
    if survey.at.startswith("unit_"):
        return _unit_title(survey, choice)
    editions = survey.rulebooks[choice] if survey.at == "rulebook" else ()
    return editions[-1].title if editions else ""


def _unit_title(survey: Survey, choice: str) -> str:
    """What a sheet calls its unit; a sheet that cannot be read is told later."""
    from limen.store.sheetfile import BESIDE

    if choice == NO_UNIT:
        return say(Message("survey.no_unit"))
    found = _sheet(choice, survey.path.parent / BESIDE)
    return found.name if found else ""


def _looks_down(name: str, folder: Path) -> bool:
    """Whether a sheet may be that of a unit above the door: a barrier is not.

    A sheet that cannot be read is offered; what is wrong with it is told then.
    """
    found = _sheet(name, folder)
    return found is None or bool(found.presence or found.motion)


def _sheet(name: str, folder: Path) -> "Sheet | None":
    """What a sheet says; None where it cannot be read."""
    from limen.store.faults import FileFaults
    from limen.store.reading import read_text
    from limen.store.sheetfile import generic_text

    path = folder / f"{name}.toml"
    try:
        text = read_text(path) if path.exists() else generic_text(name)
    except FileFaults:
        return None
    return None if text is None else _parsed(text)


@lru_cache(maxsize=256)
def _parsed(text: str) -> "Sheet | None":
    from limen.store.faults import FileFaults
    from limen.store.sheetfile import parse_sheet

    try:
        return parse_sheet(text, name="")
    except FileFaults:
        return None


def _first_open(survey: Survey) -> str:
    return _next(survey, _keys(survey))


def _next(survey: Survey, keys: Iterable[str]) -> str:
    """The first of some questions without an answer that can be taken."""
    for key in keys:
        typed = survey.answers.get(key)
        if typed is None or _refused(replace(survey, at=key), typed) is not None:
            return key
    return ""


# Judging and keeping ---------------------------------------------------------------


def _chosen(survey: Survey, typed: str) -> str:
    """A choice by its number is the choice itself."""
    choices = _choices(survey, survey.at)
    by_number = typed.isdecimal() and 1 <= int(typed) <= len(choices)
    return choices[int(typed) - 1] if by_number and typed not in choices else typed


def _refused(survey: Survey, typed: str) -> Why | None:
    from limen.store.short_answers import faults_of

    key, choices = survey.at, _choices(survey, survey.at)
    if not typed:
        return Why(say(Message("survey.empty")))
    if typed == UNKNOWN:
        return Why(say(Message("survey.must_be_known"))) if key in NEEDED else None
    if choices and typed not in choices:
        return Why(say(Message("survey.not_listed")))
    faults = faults_of(key, typed)
    return Why(retold(faults[0].why)) if faults else None


def _kept(survey: Survey, answers: Mapping[str, str]) -> "Kept":
    from limen.store.short_answers import keep

    with refusing(), _unchanged():
        return keep(survey.path, answers, survey.kept)


@contextmanager
def _unchanged() -> Generator[None]:
    """Turn a file that somebody else has changed meanwhile into a `Refusal`."""
    from limen.store.editing import ChangedOnDiskError

    try:
        yield
    except ChangedOnDiskError as error:
        raise Refusal([str(error)]) from error
