"""`limen ahead`: who comes when, what is still owed, which parts are awaited."""

from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import AsJson, InLanguage, OnDay

EXAMPLES = """\b
Examples:
  limen ahead                              over all sites of the library
  limen ahead "Alder Quay Library"         of one, by its name or id
  limen ahead --who "M. Lind" --json
"""


@guarded
def ahead(
    site: Annotated[
        str | None,
        typer.Argument(metavar="SITE", help="A site of the library by name or id."),
    ] = None,
    on: OnDay = None,
    who: Annotated[
        str | None, typer.Option(metavar="NAME", help="Only visits of this person.")
    ] = None,
    json: AsJson = False,
    language: InLanguage = "en",
) -> int:
    """List the visits that are planned, what is still to be done, parts on order."""
    from limen.cli import ahead_list
    from limen.desk.ahead import all_ahead
    from limen.desk.library import open_desk
    from limen.words import read_in

    read_in(language)
    desk = open_desk()
    try:
        found = all_ahead(desk, site, on=on, who=who)
    finally:
        desk.library.close()
    return ahead_list.as_json(found) if json else ahead_list.as_text(found)
