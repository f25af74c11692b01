"""The reading sheet as a file: of a site file, or of a site of the library."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.drawing import Units
from limen.desk.exporting import Exported
from limen.desk.library import Desk, open_site
from limen.desk.library_sites import file_name
from limen.desk.refusal import Refusal, refusing
from limen.desk.reporting import Paper, paper_of, put_whole
from limen.desk.taping import ToTape, to_tape
from limen.findings import Message
from limen.quantity import Show
from limen.words import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.report.reading_sheet import Door, Unit


def reading_sheet(
    path: str | Path,
    out: str | Path,
    *,
    doorway: str | None = None,
    paper: Paper | None = None,
    units: Units = "metric",
) -> Path:
    """Write the reading sheets of a site file as PDF, a page a doorway.

    Args:
        path: the site file.
        out: the file; one that is there is replaced once the new one is whole.
        doorway: the only doorway asked for.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Raises:
        Refusal: the site cannot be read, has no such doorway, no unit of it throws
            rows, or the file cannot be written.
    """
    from limen.desk.sites import read

    site = read(path).site
    made = _made(site, _doors(site, doorway), today(), paper, units)
    with refusing():
        put_whole(Path(out), made)
    return Path(out)


def reading_sheet_file(
    desk: Desk,
    site_id: str,
    doorway: str,
    *,
    paper: Paper | None = None,
    units: Units = "metric",
) -> Exported:
    """The reading sheet of a doorway of the library, ready to be handed out.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: one of its doorways.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or no unit of it throws rows.
        FileFaults: the site's text cannot be read.
    """
    opened = open_site(desk, site_id)
    doors = [opened.doorway(doorway)]
    made = _made(opened.site, doors, desk.day(), paper, units)
    name = f"{file_name(opened.stored.name)}-{doorway}-readings.pdf"
    return Exported(name, "application/pdf", made)


def _doors(site: "Site", doorway: str | None) -> "Sequence[Doorway]":
    if doorway is None:
        return site.doorway
    try:
        return [site.door(doorway)]
    except KeyError:
        said = Message("desk.refused.no_doorway", {"doorway": doorway})
        raise Refusal([say(said)]) from None


def _made(
    site: "Site",
    doors: "Sequence[Doorway]",
    on: date,
    paper: Paper | None,
    units: Units,
) -> bytes:
    from limen.report import ReportError
    from limen.report.reading_sheet import reading_sheet as to_pdf
    from limen.report.tongue import Tongue

    told = [_door(door, found) for door in doors if (found := to_tape(door))]
    if not told:
        names = ", ".join(door.name for door in doors)
        raise Refusal([say(Message("readings_page.paper.nothing", {"door": names}))])
    tongue = Tongue(system=Show(units))
    try:
        return to_pdf(
            told,
            site=site.name,
            on=on,
            paper=paper or paper_of(site.rulebook),
            tongue=tongue,
        )
    except ReportError as error:
        raise Refusal([str(error)]) from error


def _door(door: "Doorway", found: tuple[ToTape, ...]) -> "Door":
    from limen.report.reading_sheet import Door

    return Door(door.name, tuple(_unit(one) for one in found))


def _unit(one: ToTape) -> "Unit":
    from limen.report.reading_sheet import Line, Unit

    lines = tuple(
        Line(a.name, a.kind, a.ask, a.post, a.from_post, a.out) for a in one.asked
    )
    sheet = one.fitting.unit.name if one.fitting.unit else one.fitting.sheet
    return Unit(one.fitting.id, sheet, one.rows, lines, one.drawn)
