"""The commands for doors that are kept: what is due, and why one misbehaves."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli.guard import guarded
from limen.cli.options import AsJson, Doorway, InLanguage, InUnits, OnDay, SiteFile


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
def change(
    site: SiteFile,
    doorway: Annotated[str, typer.Option(metavar="ID", help="Which doorway.")],
    record: Annotated[
        Path, typer.Option(metavar="RECORD", help="The sealed record: JSON or PDF.")
    ],
    was: Annotated[
        Path | None,
        typer.Option(metavar="SITE.toml", help="The site file of that day."),
    ] = None,
    visit: Annotated[
        Path | None,
        typer.Option(metavar="FILE.json", help="The events of a visit since."),
    ] = None,
    done: Annotated[
        list[str] | None,
        typer.Option(metavar="WORK", help="Work done since; may be repeated."),
    ] = None,
    mended: Annotated[
        list[str] | None,
        typer.Option(metavar="CAUSE", help="A cause mended since; may be repeated."),
    ] = None,
    on: OnDay = None,
    json: AsJson = False,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Say what changed since a record, and which tests that owes."""
    from limen.cli import changing
    from limen.desk.changes_file import change_file
    from limen.quantity import Show
    from limen.words import read_in

    read_in(language)
    system = Show(units)
    found = change_file(
        site,
        doorway,
        record,
        was=was,
        visit=visit,
        done=done or (),
        mended=mended or (),
        on=on,
        system=system,
    )
    if json:
        return changing.as_json(found, system)
    return changing.as_text(found, system)
