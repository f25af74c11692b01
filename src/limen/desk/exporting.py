"""What leaves the desk as a file: report, templates, drawings, findings."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from limen.desk.checking import Checked
from limen.desk.drawing import Units
from limen.desk.library import Desk, Opened, book_of, drawing, open_site, study_of
from limen.desk.library_sites import file_name
from limen.desk.refusal import Refusal
from limen.desk.reporting import Paper, contents, usual_paper
from limen.exchange import contract
from limen.findings import Finding, Message, Study
from limen.quantity import Show
from limen.words import say

View = Literal["plan", "section", "front"]
What = Literal["report", "template"]

Told = Callable[[int, int, str], None]
"""Hears how far the work is: steps done, steps in all, what is done now."""


@dataclass(frozen=True, slots=True)
class Exported:
    """A file, ready to be handed out.

    Attributes:
        name: what it is called: building, doorway, what it is, of which day.
        kind: its media type.
        data: its bytes.
    """

    name: str
    kind: str
    data: bytes


def unheard(_done: int, _of: int, _doing: str) -> None:
    """Nobody listens."""


def studied(
    desk: Desk, opened: Opened, doorway: str | None = None, told: Told = unheard
) -> Checked:
    """All doorways of a site, or one, studied one after the other.

    Args:
        desk: the desk.
        opened: the site.
        doorway: the only doorway asked for.
        told: hears of each doorway before it is studied.

    Raises:
        Refusal: there is no such doorway, or nothing settles an edition.
    """
    doors = opened.site.doorway if doorway is None else (opened.doorway(doorway),)
    books = [book_of(desk, opened.site, door) for door in doors]
    studies: list[Study] = []
    for done, door in enumerate(doors):
        told(done, len(doors) + 1, door.name)
        studies.append(study_of(desk, opened, door.id))
    read = ((f"{file_name(opened.stored.name)}.toml", opened.stored.digest),)
    return Checked(opened.site, tuple(studies), tuple(books), read)


def findings(
    desk: Desk, site_id: str, doorway: str | None = None, *, units: Units = "metric"
) -> dict[str, object]:
    """The findings of a site or one doorway, as `limen check --json` prints them.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or nothing settles an edition.
        FileFaults: the site's text cannot be read.
    """
    checked = studied(desk, open_site(desk, site_id), doorway)
    return contract(checked.studies, site=checked.site.name, system=Show(units))


def paper_file(
    desk: Desk,
    site_id: str,
    what: What,
    doorway: str | None = None,
    *,
    paper: Paper | None = None,
    units: Units = "metric",
    told: Told = unheard,
) -> Exported:
    """A report, or the drilling templates, of a site or one doorway as PDF.

    Args:
        desk: the desk.
        site_id: the site.
        what: report or template.
        doorway: the only doorway asked for.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.
        told: hears how far it is; whatever it raises ends the work.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or it cannot be set, and why.
        FileFaults: the site's text cannot be read.
    """
    from limen.report import ReportError

    opened = open_site(desk, site_id)
    checked = studied(desk, opened, doorway, told)
    steps = len(checked.studies)
    told(steps, steps + 1, say(Message("desk_out.doing.setting")))
    try:
        made = _set(checked, what, paper, units)
    except ReportError as error:
        raise Refusal([str(error)]) from error
    told(steps + 1, steps + 1, "")
    name = _named(opened, doorway, what, desk.day().isoformat())
    return Exported(f"{name}.pdf", "application/pdf", made)


def drawing_file(
    desk: Desk,
    site_id: str,
    doorway: str,
    view: View,
    *,
    chosen: Callable[[Study], Finding | None],
    units: Units = "metric",
    width_px: float = 1400,
) -> Exported:
    """A drawing of a doorway as SVG: ink on paper, whatever the screen shows.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: the doorway.
        view: plan, section or front.
        chosen: which of the findings is shown in it; None for the first to mend.
        units: in which lengths are written.
        width_px: its width.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or nothing settles its edition.
        FileFaults: the site's text cannot be read.
    """
    opened = open_site(desk, site_id)
    study = study_of(desk, opened, doorway)
    drawn = drawing(study, view, finding=chosen(study), width_px=width_px, units=units)
    name = _named(opened, doorway, view)
    return Exported(f"{name}.svg", "image/svg+xml", drawn.encode())


def _set(checked: Checked, what: What, paper: Paper | None, units: Units) -> bytes:
    from limen.report import pdf
    from limen.report.templates import templates
    from limen.report.tongue import Tongue

    if what == "report":
        return pdf(contents(checked, paper=paper, units=units))
    made = templates(
        checked.studies,
        site=checked.site.name,
        on=contents(checked).on,
        paper=paper or usual_paper(checked),
        tongue=Tongue(system=Show(units)),
    )
    if made is None:
        raise Refusal([say(Message("desk_out.template.no_unit"))])
    return made


def _named(opened: Opened, doorway: str | None, *rest: str) -> str:
    """Building, doorway and what it is: a folder of such files sorts itself."""
    door = (doorway,) if doorway else ()
    return "-".join((file_name(opened.stored.name), *door, *rest))
