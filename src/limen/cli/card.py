"""`limen card …`: the job card as files, and what comes back from it."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer
from typer.core import TyperGroup

from limen.cli import examples
from limen.cli.guard import guarded
from limen.cli.options import HELP, Doorway, InLanguage, InUnits, Paper, commands

if TYPE_CHECKING:
    from limen.desk.card_back import TakenIn
    from limen.findings import Message

WRITE = "write"


class OrWrite(TyperGroup):
    """Commands of the card; what is none of them is a site to write the card of."""

    def parse_args(  # pyright: ignore[reportIncompatibleMethodOverride]
        self, ctx: typer.Context, args: list[str]
    ) -> list[str]:
        """Read the arguments; those that begin with no command are of `write`."""
        if args and args[0] not in self.commands and args[0] not in HELP:
            args = [WRITE, *args]
        return super().parse_args(ctx, args)


card_app = commands("card", examples.CARD, epilog=examples.CARD_EXAMPLES, cls=OrWrite)


@card_app.command(WRITE, epilog=examples.CARD_EXAMPLES)
@guarded
def write(
    site: Annotated[
        str,
        typer.Argument(
            metavar="SITE", help="A site file, or a site of the library by name or id."
        ),
    ],
    doorway: Doorway = None,
    out: Annotated[
        Path, typer.Option(metavar="DIR", help="Folder for the files.")
    ] = Path(),
    only: Annotated[
        Literal["html", "pdf"] | None,
        typer.Option(help="Only the page, or only the paper."),
    ] = None,
    paper: Paper = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Write the card as one page that needs no server, and as a PDF to print."""
    from limen.desk.card_files import write_cards
    from limen.desk.library import open_desk
    from limen.findings import Message
    from limen.words import read_in

    read_in(language)
    desk = open_desk()
    try:
        done = write_cards(
            desk,
            site,
            doorway=doorway,
            out=out,
            only=only,
            paper=paper,
            units=units,
        )
    finally:
        desk.library.close()
    said = (
        [Message("card_file.done.kept", {"name": done.site.name})] if done.new else []
    )
    files = {"html": done.page, "pdf": done.paper}
    for kind, file in files.items():
        if file:
            said.append(Message(f"card_file.done.{kind}", {"file": str(file)}))
    if done.page:
        said.append(Message("card_file.done.back"))
    _tell(said)
    return 0


@card_app.command("take-in", epilog=examples.CARD_EXAMPLES)
@guarded
def take_in(
    files: Annotated[
        list[Path],
        typer.Argument(metavar="FILE...", help="What a card saved under Settings."),
    ],
    language: InLanguage = "en",
) -> int:
    """Take in what cards saved of visits; the same again does nothing."""
    from limen.desk.card_back import take_in_file
    from limen.desk.library import open_desk
    from limen.words import read_in

    read_in(language)
    desk = open_desk()
    bad = False
    try:
        for one in files:
            done = take_in_file(desk, one)
            bad = bad or bool(done.bad)
            _tell_taken(one, done)
    finally:
        desk.library.close()
    return 2 if bad else 0


def _tell_taken(file: Path, done: "TakenIn") -> None:
    from limen.cli.lines import Ink, wrapped
    from limen.cli.paper import paper
    from limen.findings import Message
    from limen.words import say, say_count

    base = "card_file.taken_in."
    said = [f"{file}: {say_count(f'{base}events', done.new)}"]
    if done.again:
        said.append(say_count(f"{base}again", done.again))
    if done.photos:
        said.append(say_count(f"{base}photos", done.photos))
    if done.clashes:
        said.append(say(Message(f"{base}clash")))
    page = paper()
    page.put(wrapped(" ".join(said), page.width))
    for one in done.bad:
        page.put(wrapped(one, page.width, ink=Ink.FAILS))
    if done.new or done.again:
        page.put(wrapped(say(Message(f"{base}next")), page.width, ink=Ink.QUIET))


def _tell(said: "list[Message]") -> None:
    from limen.cli.lines import wrapped
    from limen.cli.paper import paper
    from limen.words import say

    page = paper()
    for one in said:
        page.put(wrapped(say(one), page.width))
