"""The owner's page of a doorway: the daily check, for paper and phone."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.card_files import site_asked
from limen.desk.exporting import Exported
from limen.desk.library import Desk, Opened, book_of, open_site
from limen.desk.library_sites import file_name
from limen.desk.refusal import Refusal, refusing
from limen.desk.reporting import Paper, paper_of, put_whole
from limen.desk.visits import heads, last_record
from limen.draw.code import code_square
from limen.exchange.fault_mail import Door, call_address, mail_address, web_address
from limen.keep.daily import asked_of
from limen.store.daily import daily_steps
from limen.store.database.records import records_at
from limen.words.owner import Due, SaidPage, Told, said, said_page

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.telling import FaultsTo
    from limen.report.owner import Sheet
    from limen.rules import Rulebook

PDF, HTML = "application/pdf", "text/html; charset=utf-8"
_DUE: dict[str, Due] = {
    "at once": "at_once",
    "overdue": "over",
    "in time": "by",
    "not known": "unknown",
}


@dataclass(frozen=True, slots=True)
class Way:
    """How a fault is told.

    Attributes:
        address: what a code is scanned for, and a phone taps on.
        scan, tap: what happens then, in words.
    """

    address: str
    scan: str
    tap: str


@dataclass(frozen=True, slots=True)
class OwnerPage:
    """An owner's page, ready to be set or shown.

    Attributes:
        page: what it says.
        ways: how a fault is told, the best first; none where no address is stated.
        told: what it is made of.
    """

    page: SaidPage
    ways: tuple[Way, ...]
    told: Told

    @property
    def code(self) -> str | None:
        """The code for a fault, as SVG; None where no address is stated."""
        return code_square(self.ways[0].address) if self.ways else None


@dataclass(frozen=True, slots=True)
class Written:
    """Files that were written.

    Attributes:
        kept: the name of the site, if it is in the library only now.
        files: which.
    """

    kept: str
    files: tuple[Path, ...]


def owner_page(desk: Desk, site_id: str, doorway: str, *, language: str) -> OwnerPage:
    """The owner's page of a doorway.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: one of its doorways.
        language: of all words.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway.
        FileFaults: the site's text cannot be read.
    """
    opened = open_site(desk, site_id)
    door = opened.doorway(doorway)
    told = _told(desk, opened, door)
    ways = tuple(_ways(opened, door, told, language))
    return OwnerPage(said_page(told, language=language), ways, told)


def owner_paper(
    desk: Desk,
    site_id: str,
    doorway: str,
    languages: Sequence[str],
    *,
    paper: Paper | None = None,
) -> Exported:
    """The owner's page as PDF: two pages a language.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: one of its doorways.
        languages: of the page, each once.
        paper: size of the pages; that of the rulebook's country if not given.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or a letter of it cannot be printed.
        FileFaults: the site's text cannot be read.
    """
    from limen.draw.daily import shape_of
    from limen.report import ReportError
    from limen.report.owner import owner_pdf

    opened = open_site(desk, site_id)
    shape = shape_of(opened.doorway(doorway))
    sheets = [
        _sheet(owner_page(desk, site_id, doorway, language=one))
        for one in dict.fromkeys(languages)
    ]
    size = paper or paper_of(opened.site.rulebook)
    try:
        made = owner_pdf(sheets, shape, on=desk.day(), paper=size)
    except ReportError as error:
        raise Refusal([str(error)]) from error
    return Exported(_name(opened, doorway, "pdf"), PDF, made)


def owner_file(desk: Desk, site_id: str, doorway: str, *, language: str) -> Exported:
    """The owner's page as one HTML file that needs nothing beside it.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway.
        FileFaults: the site's text cannot be read.
    """
    from limen.draw.daily import shape_of
    from limen.report.owner_file import Link, owner_file

    opened = open_site(desk, site_id)
    one = owner_page(desk, site_id, doorway, language=language)
    letters = files("limen.report").joinpath("fonts")
    made = owner_file(
        one.page,
        shape_of(opened.doorway(doorway)),
        [Link(way.address, way.tap) for way in one.ways],
        regular=letters.joinpath("AtkinsonHyperlegibleNext-Regular.ttf").read_bytes(),
        bold=letters.joinpath("AtkinsonHyperlegibleNext-Bold.ttf").read_bytes(),
    )
    return Exported(_name(opened, doorway, "html"), HTML, made.encode())


def article_of(desk: Desk, site_id: str, doorway: str, one: OwnerPage) -> str:
    """The page for the phone without what is around it, to be shown at the desk.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: one of its doorways.
        one: its page.
    """
    from limen.draw.daily import shape_of
    from limen.report.owner_file import Link, owner_article

    shape = shape_of(open_site(desk, site_id).doorway(doorway))
    links = [Link(way.address, way.tap) for way in one.ways]
    return owner_article(one.page, shape, links, top="h2")


def owner_style() -> str:
    """How the page for the phone looks."""
    from limen.report.owner_file import owner_style

    return owner_style()


def write_owner(
    desk: Desk,
    asked: str,
    doorway: str | None,
    languages: Sequence[str],
    *,
    out: Path | None = None,
    html: bool = False,
    paper: Paper | None = None,
) -> Written:
    """Write owner's pages as files.

    A site file that is not in the library is kept there: the mail of its code finds
    its site only so.

    Args:
        desk: the desk.
        asked: a site file, or a site of the library by name or id.
        doorway: the only doorway; all of the site if None.
        languages: of the paper; the first one of the page for the phone.
        out: the file, or a folder for the files of all doorways; here if None.
        html: the page for the phone instead of the paper.
        paper: size of the pages; that of the rulebook's country if not given.

    Raises:
        Refusal: there is no such site or doorway, or a file cannot be written.
        FileFaults: the site file cannot be read.
    """
    site, new = site_asked(desk, asked)
    opened = open_site(desk, site.id)
    doors = [opened.doorway(doorway)] if doorway else list(opened.site.doorway)
    written: list[Path] = []
    for one in doors:
        if html:
            made = owner_file(desk, site.id, one.id, language=languages[0])
        else:
            made = owner_paper(desk, site.id, one.id, languages, paper=paper)
        written.append(_put(made, out, alone=len(doors) == 1))
    return Written(site.name if new else "", tuple(written))


def _put(made: Exported, out: Path | None, *, alone: bool) -> Path:
    """Write a file: to its own name in a folder, or to the name that was given."""
    folder = out is None or out.is_dir() or not (alone and out.suffix)
    target = (out or Path()) / made.name if folder else out or Path(made.name)
    with refusing():
        target.parent.mkdir(parents=True, exist_ok=True)
        put_whole(target, made.data)
    return target


def _name(opened: Opened, doorway: str, end: str) -> str:
    return f"{file_name(opened.stored.name)}-{doorway}-owner.{end}"


def _sheet(one: OwnerPage) -> "Sheet":
    from limen.report.owner import Sheet

    code = one.code
    scan = one.ways[0].scan if one.ways else ""
    return Sheet(one.page, code.encode() if code else None, scan)


# What a page is made of ----------------------------------------------------------


def _told(desk: Desk, opened: Opened, door: "Doorway") -> Told:
    book, site = book_of(desk, opened.site, door), opened.site
    record = last_record(desk, opened.stored.id, door.id)
    every = records_at(desk.library, opened.stored.id, door.id)
    due, day = _due(desk, opened, door, book)
    to, charge = site.faults, site.charge_of(door)
    behind = (one.behind for one in door.side_space if one.behind)
    books = [one for one in (book.id, book.base) if one]
    return Told(
        site=site.name,
        door=door.name,
        steps=asked_of(daily_steps(), door, books),
        on=desk.day(),
        version=opened.stored.version,
        behind=", ".join(behind),
        escape=door.use.escape_route,
        record=record.number if record else None,
        recorded=date.fromisoformat(record.kept[:10]) if record else None,
        heads=heads(every),
        due=due,
        due_day=day,
        by=charge.by or "",
        daily=charge.daily or "",
        mail=(to and to.mail) or "",
        phone=(to and to.phone) or "",
        web=(to and to.web) or "",
    )


def _due(
    desk: Desk, opened: Opened, door: "Doorway", book: "Rulebook"
) -> tuple[Due | None, date | None]:
    """Whether the next full check is due, and by when."""
    from limen.desk.due_records import folded_with
    from limen.desk.due_seen import witnesses
    from limen.keep.due import due_of

    on = desk.day()
    told = witnesses(desk, opened.stored).get(door.id, ())
    known = folded_with(door.kept, on, told)
    found = due_of(door, book, on, opened.site, known)
    return (_DUE[found.state], found.day) if found else (None, None)


def _ways(opened: Opened, door: "Doorway", told: Told, language: str) -> "list[Way]":
    """How a fault is told: written, on a page, called."""
    to: FaultsTo | None = opened.site.faults
    if to is None:
        return []
    named = Door(opened.stored.id, door.id, told.site, told.door, told.record)
    found: list[tuple[str, str, str]] = []
    if to.mail:
        address = mail_address(to.mail, named, language=language)
        found.append((address, "scan", "write"))
    if to.web:
        found.append((web_address(to.web, named), "scan_web", "open"))
    if to.phone:
        found.append((call_address(to.phone), "scan_phone", "dial"))
    return [_way(*one, told.phone, language) for one in found]


def _way(address: str, scan: str, tap: str, phone: str, language: str) -> Way:
    gaps = {"phone": phone} if tap == "dial" else {}
    return Way(
        address,
        said(f"call.{scan}", language),
        said(f"call.{tap}", language, **gaps),
    )
