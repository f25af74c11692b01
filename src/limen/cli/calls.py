"""The commands for doors that are kept: what is due, and why one misbehaves."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import AsJson, Doorway, InLanguage, OnDay


@guarded
def trace(
    site: Annotated[
        Path | None,
        typer.Argument(metavar="SITE.toml", help="The site, where there is one."),
    ] = None,
    doorway: Doorway = None,
    answers: Annotated[
        Path | None,
        typer.Option(metavar="FILE.toml", help="Weigh these answers; ask nobody."),
    ] = None,
    save: Annotated[
        Path | None,
        typer.Option(metavar="FILE.toml", help="Keep what was answered here."),
    ] = None,
    describe: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE.txt", help="Write a description to hand on; - prints it."
        ),
    ] = None,
    json: AsJson = False,
    language: InLanguage = "en",
) -> int:
    """Say why a door misbehaves, and what to ask next."""
    from limen.cli import tracing
    from limen.desk.tracing import trace_file
    from limen.words import read_in

    read_in(language)
    call = trace_file(answers, site, doorway)
    if json:
        return tracing.as_json(call)
    if describe is not None and answers:
        return tracing.described(call, describe)
    return tracing.as_text(call) if answers else tracing.asked(call, save, describe)


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
    ics: Annotated[
        Path | None,
        typer.Option(metavar="FILE.ics", help="Write a calendar of it."),
    ] = None,
    json: AsJson = False,
    language: InLanguage = "en",
) -> int:
    """Say which doors are due to be checked, and by when."""
    from limen.cli import due as shown
    from limen.desk.due import calendar
    from limen.desk.due import due as ask
    from limen.words import read_in

    read_in(language)
    told = ask(sites, on=on, within=within)
    if ics is not None:
        typer.echo(calendar(told, ics), err=True)
    return shown.as_json(told) if json else shown.as_text(told)
