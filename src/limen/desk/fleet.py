"""All doorways of many sites studied: kept as they are done, gone on with, written."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from limen.desk.clock import today
from limen.desk.fleet_files import Look, files_in, look
from limen.desk.fleet_hands import Hands, hands_of
from limen.desk.fleet_kept import Keeping, keeping
from limen.desk.fleet_loop import Lost, Outcome, carried_out
from limen.desk.fleet_results import Written, rows_said, write_results
from limen.desk.fleet_share import shared_out
from limen.desk.fleet_tasks import FILE, Settings, basis
from limen.desk.fleet_told import Progress, Told, pace
from limen.desk.refusal import Refusal, refusing
from limen.desk.shelves import shelf
from limen.exchange.fleet_rows import Rows, rows_without
from limen.findings import Message
from limen.store.reading import read_text
from limen.words import say

DOORS_TOGETHER = 16
"""Doorways of a task: handing it out and taking it back costs little beside them."""
TURNS = 4
"""Tasks that each worker gets at least, so that none is idle at the end."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a fleet.

    Attributes:
        where: folders, site files, or lists of both.
        out: folder of the results and of what is kept until then.
        on: the day; that of a run that was not finished, else today, if None.
        rulebook: instead of the sites' own.
        edition: for all doorways, instead of that of their dates.
        values: a firm's values file.
        language: of sentences.
        units: in sentences.
        workers: processes of this machine; one a core if None.
        cluster: address of a Dask scheduler instead.
    """

    where: Sequence[Path]
    out: Path
    on: date | None = None
    rulebook: str | None = None
    edition: str | None = None
    values: Path | None = None
    language: str = "en"
    units: str = "metric"
    workers: int | None = None
    cluster: str | None = None


@dataclass(frozen=True, slots=True)
class FleetChecked:
    """How a run ended.

    Attributes:
        on: the day.
        kept_day: whether that is the day of a run that was not finished.
        every: doorways in all.
        before: those that were done before this run.
        done: those that are done now.
        left: files that are no site files.
        lost: files and ids of doorways over which a worker died.
        written: the results; None where it was stopped before they were complete.
    """

    on: date
    kept_day: bool
    every: int
    before: int
    done: int
    left: tuple[str, ...]
    lost: tuple[tuple[str, str], ...]
    written: Written | None


@dataclass(slots=True)
class _Fleet:
    """The files of a run, and what came of them."""

    settings: Settings
    basis: str
    looks: list[Look] = field(default_factory=list[Look])
    left: list[str] = field(default_factory=list[str])

    @property
    def doorways(self) -> int:
        return sum(one.doorways for one in self.looks)


def fleet_check(
    asked: Asked,
    *,
    told: Told | None = None,
    unwanted: Callable[[], bool] = lambda: False,
) -> FleetChecked:
    """Study every doorway of a fleet, and write what was found.

    What is done is kept at once: a run that was stopped, or killed, is gone on with by
    asking the same again.

    Args:
        asked: what.
        told: hears how far it is.
        unwanted: whether to stop.

    Raises:
        Refusal: there is no site file, or results cannot be written there.
    """
    with refusing():
        asked.out.mkdir(parents=True, exist_ok=True)
    with keeping(asked.out) as kept:
        last = None if asked.on else kept.unfinished()
        settings = _settings(asked, asked.on or last or today())
        fleet = _looked(asked.where, settings, told or _nobody)
        kept.begin(settings.on)
        before = kept.finished(one for one in fleet.looks if not one.told)
        if kept.finished(fleet.looks) < fleet.doorways:
            with hands_of(asked.workers, asked.cluster) as hands:
                _study(fleet, kept, hands, told or _nobody, unwanted, asked)
        return replace(
            _ended(fleet, kept, before, asked.out), kept_day=last is not None
        )


def _nobody(_: Progress) -> None:
    """Nobody listens."""


def _settings(asked: Asked, on: date) -> Settings:
    """What workers are told; a rulebook that nobody can use is refused here, once."""
    values = None
    with refusing():
        books = shelf(asked.values)
        if asked.rulebook:
            books.editions(asked.rulebook)
        if asked.rulebook and asked.edition:
            books.edition(asked.rulebook, asked.edition)
        if asked.values is not None:
            values = (asked.values.name, read_text(asked.values))
    return Settings(
        on=on,
        rulebook=asked.rulebook,
        edition=asked.edition,
        language=asked.language,
        units=asked.units,
        values=values,
    )


def _looked(where: Sequence[Path], settings: Settings, told: Told) -> _Fleet:
    fleet, seen = _Fleet(settings, basis()), set[Path]()
    for label, path in files_in(where):
        if path.absolute() in seen:
            continue
        seen.add(path.absolute())
        found = look(label, path, settings, fleet.basis)
        if found is None:
            fleet.left.append(label)
        else:
            fleet.looks.append(found)
            told(Progress(looked=len(fleet.looks)))
    if not fleet.looks:
        places = ", ".join(str(one) for one in where)
        raise Refusal([say(Message("fleet.refused.no_site", {"where": places}))])
    return fleet


def _study(
    fleet: _Fleet,
    kept: Keeping,
    hands: Hands,
    told: Told,
    unwanted: Callable[[], bool],
    asked: Asked,
) -> None:
    every = fleet.doorways
    done = kept.finished(fleet.looks)
    each = max(1, min(DOORS_TOGETHER, (every - done) // (TURNS * hands.room)))
    tasks = shared_out(
        fleet.looks,
        kept,
        fleet.settings,
        fleet.basis,
        each=each,
        send=asked.cluster is not None,
    )
    measured = pace(every, done, told)
    next(measured)
    for outcome in carried_out(tasks, hands, unwanted):
        _keep(outcome, kept, fleet.basis)
        measured.send(outcome[0].doorways)


def _keep(outcome: Outcome, kept: Keeping, expected: str) -> None:
    task, became = outcome
    if isinstance(became, Lost):
        kept.lose(task)
        return
    if became.basis != expected:
        raise Refusal([say(Message("fleet.refused.other_limen"))])
    kept.keep(became.kept)


def _rows(fleet: _Fleet, kept: Keeping) -> Iterator[tuple[str, Rows]]:
    """File and rows of each doorway, in the order of the files."""
    on = fleet.settings.on
    for one in fleet.looks:
        if one.told:
            yield one.label, rows_without("not read", one.told, on=on)
            continue
        numbers = range(len(one.names))
        whole = FILE if kept.has(one, FILE) or not one.names else None
        for which in numbers if whole is None else (whole,):
            if kept.has(one, which):
                yield one.label, rows_said(kept.said(one, which))
            else:
                name = one.names[which] if isinstance(which, int) else ""
                said = say(Message("fleet.died"))
                yield one.label, rows_without("lost", said, on=on, door=name)


def _ended(fleet: _Fleet, kept: Keeping, before: int, out: Path) -> FleetChecked:
    done = kept.finished(fleet.looks)
    lost = tuple(kept.lost_of(fleet.looks))
    written = None
    if done + len(lost) >= fleet.doorways:
        on = fleet.settings.on.isoformat()
        every = _rows(fleet, kept)
        with refusing():
            written = write_results(out, every, on=on, left=fleet.left)
        kept.end(fleet.looks, fleet.settings.on, complete=not lost)
    return FleetChecked(
        on=fleet.settings.on,
        kept_day=False,
        every=fleet.doorways,
        before=before,
        done=done,
        left=tuple(fleet.left),
        lost=lost,
        written=written,
    )
