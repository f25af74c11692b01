"""The command `limen due`: arguments in, what is due out."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from limen.cli.guard import guarded
from limen.cli.options import AsJson, InLanguage, OnDay

if TYPE_CHECKING:
    from limen.desk.due import AllDue
    from limen.desk.due_calendar import Shape

Group = Literal["person", "route"]


@guarded
def due(
    sites: Annotated[
        list[Path], typer.Argument(metavar="SITE.toml…", help="The site files.")
    ],
    on: OnDay = None,
    within: Annotated[
        int | None,
        typer.Option(metavar="DAYS", min=0, help="Only what is due by then."),
    ] = None,
    by: Annotated[
        Group | None, typer.Option(help="In groups, by person or by route.")
    ] = None,
    person: Annotated[
        str | None, typer.Option(metavar="NAME", help="Only what this person answers.")
    ] = None,
    route: Annotated[
        str | None, typer.Option(metavar="NAME", help="Only what is on this route.")
    ] = None,
    records: Annotated[
        list[Path] | None,
        typer.Option(metavar="DIR", help="Sealed records; may be repeated."),
    ] = None,
    trust: Annotated[
        list[Path] | None,
        typer.Option(metavar="FIRM.pub", help="A firm’s key; may be repeated."),
    ] = None,
    ics: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE.ics", help="Write a calendar of it; with --by a folder."
        ),
    ] = None,
    remind: Annotated[
        int,
        typer.Option(metavar="DAYS", min=0, max=90, help="Remind so long before."),
    ] = 14,
    daily: Annotated[
        bool, typer.Option("--daily", help="The owner's daily check in it too.")
    ] = False,
    json: AsJson = False,
    language: InLanguage = "en",
) -> int:
    """Say which doors are due to be checked, and by when."""
    from limen.cli import due as shown
    from limen.desk.due import Wanted
    from limen.desk.due import due as ask
    from limen.desk.due_calendar import Shape
    from limen.words import read_in

    read_in(language)
    wanted = Wanted(within, person, route)
    told = ask(sites, on=on, wanted=wanted, records=records or (), trust=trust or ())
    if ics is not None:
        _written(told, ics, by, Shape(remind, daily))
    return shown.as_json(told, by) if json else shown.as_text(told, by)


def _written(told: "AllDue", path: Path, by: Group | None, shape: "Shape") -> None:
    """Say where the calendar went; one each where they were asked for in groups."""
    from limen.desk.due_calendar import calendar, calendars

    if by is None:
        typer.echo(calendar(told, path, shape), err=True)
        return
    for one in calendars(told, path, by, shape):
        typer.echo(one, err=True)
