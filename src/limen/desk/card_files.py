"""The job card out of the desk: a page that needs no server, and paper."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from limen.desk.drawing import Units
from limen.desk.library import Desk, Stored, open_site
from limen.desk.library_sites import file_name, import_text
from limen.desk.refusal import Refusal, refusing
from limen.desk.reporting import Paper, put_whole
from limen.findings import Message
from limen.words import catalogue, reading, say

BUNDLE = Path(__file__).parent.parent / "static" / "onefile"
OWN = "card_file."


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        site: in the library.
        new: whether the site was not in the library before.
        doors: names of the doorways.
        page, paper: the files; None of one that was not asked for.
    """

    site: Stored
    new: bool
    doors: tuple[str, ...]
    page: Path | None
    paper: Path | None


def write_cards(
    desk: Desk,
    asked: str,
    *,
    doorway: str | None = None,
    out: Path = Path(),
    only: Literal["html", "pdf"] | None = None,
    paper: Paper | None = None,
    units: Units = "metric",
) -> Written:
    """Write the job card of a site, or of one doorway, as a page and on paper.

    Args:
        desk: the desk.
        asked: a site file, or the id or the name of a site of the library.  A file
            that the library has not is kept there: what comes back finds its site.
        doorway: the only doorway asked for.
        out: the folder; made if need be.
        only: the page or the paper alone.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.

    Raises:
        Refusal: there is no such site or doorway, or a file cannot be written.
        FileFaults: the site file cannot be read.
    """
    site, new = site_asked(desk, asked)
    packs = packs_of(desk, site.id, doorway, units)
    name = "-".join([file_name(site.name), *([doorway] if doorway else []), "card"])
    page = None if only == "pdf" else out / f"{name}.html"
    sheet = None if only == "html" else out / f"{name}.pdf"
    with refusing():
        out.mkdir(parents=True, exist_ok=True)
        if page:
            put_whole(page, page_of(packs).encode())
        if sheet:
            put_whole(sheet, _paper(desk, site.id, packs, paper, units))
    return Written(site, new, tuple(str(one["name"]) for one in packs), page, sheet)


def site_asked(desk: Desk, asked: str) -> tuple[Stored, bool]:
    """The site that is meant, and whether it was kept only now.

    Raises:
        Refusal: there is none, or several of that name.
        FileFaults: the file cannot be read.
    """
    path = Path(asked)
    if path.is_file():
        with refusing():
            data = path.read_bytes()
        return _kept(desk, data, path)
    found = [one for one in desk.library.sites() if asked in (one.id, one.name)]
    if len(found) != 1:
        key = "several_sites" if found else "no_site"
        raise Refusal([say(Message(f"{OWN}refused.{key}", {"site": asked}))])
    return found[0], False


def _kept(desk: Desk, data: bytes, path: Path) -> tuple[Stored, bool]:
    for one in desk.library.sites():
        if not one.archived and one.text.encode() == data:
            return one, False
    return import_text(desk, data, str(path)), True


def packs_of(
    desk: Desk, site_id: str, doorway: str | None, units: Units
) -> list[dict[str, Any]]:
    """What each doorway is given along.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway.
    """
    from limen.desk.cards import taken_along

    opened = open_site(desk, site_id)
    doors = [opened.doorway(doorway)] if doorway else opened.site.doorway
    return [
        taken_along(desk, site_id, one.id, units=units, turned=False) for one in doors
    ]


def page_of(packs: list[dict[str, Any]]) -> str:
    """The packs as one page that needs nothing beside it.

    Raises:
        Refusal: the card's script was never built.
    """
    from limen.desk.cards import card_words
    from limen.exchange.card_file import card_file

    script, style = _bundle()
    words = catalogue(reading())
    own = {
        key.removeprefix(OWN): words.sentence(key) for key in words.under(f"{OWN}own.")
    }
    names = ", ".join(str(one["name"]) for one in packs)
    return card_file(
        packs,
        words=card_words(),
        own=own,
        title=say(Message(f"{OWN}title", {"name": names})),
        no_script=say(Message(f"{OWN}needs_script")),
        language=reading(),
        script=script,
        style=style,
    )


def _bundle() -> tuple[str, str]:
    try:
        script = (BUNDLE / "card.js").read_text("utf-8")
        return script, (BUNDLE / "card.css").read_text("utf-8")
    except FileNotFoundError:
        raise Refusal([say(Message(f"{OWN}refused.not_built"))]) from None


def _paper(
    desk: Desk,
    site_id: str,
    packs: list[dict[str, Any]],
    paper: Paper | None,
    units: Units,
) -> bytes:
    from limen.desk.paper_card import printed

    return printed(desk, site_id, packs, paper=paper, units=units)
