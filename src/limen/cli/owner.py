"""`limen owner …`: the owner's daily check, on paper and for the phone."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import Doorway, InLanguage, Paper, tongue

Site = Annotated[
    str,
    typer.Argument(
        metavar="SITE", help="A site file, or a site of the library by name or id."
    ),
]


@guarded
def owner(
    site: Site,
    doorway: Doorway = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="The file; or a folder for all doorways."),
    ] = None,
    html: Annotated[
        bool, typer.Option("--html", help="The page for the phone, not the paper.")
    ] = False,
    also: Annotated[
        list[str] | None,
        typer.Option(
            metavar="TAG", parser=tongue, help="A further language on the same print."
        ),
    ] = None,
    paper: Paper = None,
    language: InLanguage = "en",
) -> int:
    """Write the owner's daily check of a doorway: a sheet, or a page for the phone."""
    from limen.cli.lines import wrapped
    from limen.cli.paper import paper as terminal
    from limen.desk.library import open_desk
    from limen.desk.owner import write_owner
    from limen.words import read_in
    from limen.words.owner import said

    read_in(language)
    desk = open_desk()
    languages = [language, *(also or ())]
    try:
        written = write_owner(
            desk, site, doorway, languages, out=out, html=html, paper=paper
        )
    finally:
        desk.library.close()
    page = terminal()
    if written.kept:
        page.put(wrapped(said("desk.kept", language, name=written.kept), page.width))
    # A file's name in one piece, to be copied.
    for one in written.files:
        page.put(wrapped(said("desk.written", language, file=str(one)), None))
    return 0
