"""`limen fleet …`: the commands for many doors at once."""

from pathlib import Path
from typing import Annotated

import typer

from limen.cli import examples
from limen.cli.guard import BROKEN, INTERRUPTED, guarded
from limen.cli.options import (
    Book,
    Edition,
    InLanguage,
    InUnits,
    OnDay,
    OwnFigures,
    commands,
)

fleet_app = commands("fleet", examples.FLEET)


@fleet_app.command(help=examples.FLEET_CHECK, epilog=examples.FLEET_CHECK_EXAMPLES)
@guarded
def check(
    where: Annotated[
        list[Path],
        typer.Argument(metavar="FOLDER…", help="Folders, site files, or .txt lists."),
    ],
    out: Annotated[
        Path, typer.Option(metavar="DIR", help="Folder for results; kept between runs.")
    ],
    workers: Annotated[
        int | None,
        typer.Option(metavar="N", min=1, help="Processes here; one a core if none."),
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="A Dask scheduler: tcp://host:8786."),
    ] = None,
    rulebook: Book = None,
    edition: Edition = None,
    on: OnDay = None,
    values: OwnFigures = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Study every doorway of many sites; what is done is kept and not done again."""
    from limen.cli import fleet_told
    from limen.desk.fleet import Asked, fleet_check
    from limen.desk.refusal import Refusal
    from limen.words import read_in

    read_in(language)
    if workers and cluster:
        raise Refusal(["--workers and --cluster are two ways to share; choose one."])
    asked = Asked(
        where=where,
        out=out,
        on=on,
        rulebook=rulebook,
        edition=edition,
        values=values,
        language=language,
        units=units,
        workers=workers,
        cluster=cluster,
    )
    with fleet_told.stopping_in_order() as unwanted:
        done = fleet_check(asked, told=fleet_told.on_a_line(), unwanted=unwanted)
    if done.written is None:
        fleet_told.stopped(done, str(out))
        return INTERRUPTED
    fleet_told.summary(done, str(out))
    return BROKEN if done.lost else 0
