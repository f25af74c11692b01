"""The command line: names, arguments and help; the work is done elsewhere.

Nothing heavy is imported up here, so that help and completion are quick.
"""

import gc
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Literal

import typer

from limen.cli import examples
from limen.cli.ahead import EXAMPLES as AHEAD_EXAMPLES
from limen.cli.ahead import ahead
from limen.cli.calls import change, trace
from limen.cli.card import card_app
from limen.cli.due_asked import due
from limen.cli.fleet import fleet_app
from limen.cli.fleet_import import take_in
from limen.cli.guard import guarded
from limen.cli.keys import keys_app
from limen.cli.options import (
    Book,
    Doorway,
    Edition,
    InLanguage,
    InUnits,
    OnDay,
    OutFolder,
    OwnFigures,
    Paper,
    SiteFile,
    commands,
)
from limen.cli.owner import owner
from limen.cli.records import record_app, verify

GARBAGE_AFTER = 100_000

What = Literal[
    "site", "sheet", "readings", "event", "findings", "fitted", "tuned", "channels"
]


class View(StrEnum):
    """From where a doorway is drawn."""

    PLAN = "plan"
    SECTION = "section"
    FRONT = "front"


app = commands(
    "limen",
    "Plan, prove and keep the sensors of automatic sliding doors.",
    epilog=examples.EXAMPLES,
)

app.add_typer(record_app)
app.add_typer(keys_app)
app.command(help=examples.VERIFY, epilog=examples.VERIFY_EXAMPLES)(verify)
app.add_typer(card_app)
fleet_app.command("take-in", help=examples.TAKE_IN, epilog=examples.TAKE_IN_EXAMPLES)(
    take_in
)
app.add_typer(fleet_app)
app.command(help=examples.TRACE, epilog=examples.TRACE_EXAMPLES)(trace)
app.command(epilog=examples.DUE_EXAMPLES)(due)
app.command(epilog=AHEAD_EXAMPLES)(ahead)
app.command(epilog=examples.OWNER_EXAMPLES)(owner)
app.command(help=examples.CHANGE, epilog=examples.CHANGE_EXAMPLES)(change)


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"limen {version('limen')}")
        raise typer.Exit


@app.callback()
def _limen(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Say which."),
    ] = False,
) -> None:
    """Plan, prove and keep the sensors of automatic sliding doors."""


@app.command(help=examples.CHECK, epilog=examples.CHECK_EXAMPLES)
@guarded
def check(
    site: SiteFile,
    doorway: Doorway = None,
    rulebook: Book = None,
    edition: Edition = None,
    on: OnDay = None,
    values: OwnFigures = None,
    json: Annotated[
        bool, typer.Option("--json", help="Findings as JSON; see: limen schema.")
    ] = False,
    explain: Annotated[
        str | None,
        typer.Option(metavar="QUESTION", help="How one question is answered here."),
    ] = None,
    report: Annotated[
        Path | None, typer.Option(metavar="OUT.pdf", help="Write a report as PDF.")
    ] = None,
    paper: Paper = None,
    units: InUnits = "metric",
    every: Annotated[
        bool, typer.Option("--all", help="Every case, reason and assumption.")
    ] = False,
    language: InLanguage = "en",
) -> int:
    """Say what holds, what fails and what is not shown."""
    from limen.cli import checking
    from limen.desk.checking import check as ask
    from limen.words import read_in

    read_in(language)
    checked = ask(site, doorway, rulebook, on, values, edition=edition)
    if report:
        checking.report(checked, report, paper, units)
    if explain:
        return checking.explain(checked, explain, units)
    if json:
        return checking.as_json(checked, units)
    return checking.as_text(checked, units, every=every)


@app.command(help=examples.TUNE, epilog=examples.TUNE_EXAMPLES)
@guarded
def tune(
    site: SiteFile,
    doorway: Doorway = None,
    rulebook: Book = None,
    edition: Edition = None,
    on: OnDay = None,
    json: Annotated[
        bool, typer.Option("--json", help="For programs; see: limen schema tuned.")
    ] = False,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Find the best settings: what to turn, by how much, and what it costs."""
    from limen.cli import tuning
    from limen.desk.tuning import tune as look
    from limen.words import read_in

    read_in(language)
    with tuning.waiting():
        tuned = look(site, doorway, rulebook, on, edition=edition)
    if json:
        return tuning.as_json(tuned, units)
    return tuning.as_text(tuned, units)


@app.command(help=examples.FIT, epilog=examples.FIT_EXAMPLES)
@guarded
def fit(
    readings: Annotated[
        Path, typer.Argument(metavar="READINGS.toml", help="What was read.")
    ],
    on: OnDay = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the site file as its units hang."),
    ] = None,
    json: Annotated[
        bool, typer.Option("--json", help="For programs; see: limen schema fitted.")
    ] = False,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Say where units really hang, by what tape, finder and box showed."""
    from limen.cli import fitting
    from limen.desk.fitting import fit_file, write_file
    from limen.words import read_in

    read_in(language)
    done = fit_file(readings, on=on)
    written = write_file(done, out) if out else None
    if json:
        return fitting.as_json(done, units)
    return fitting.as_text(done, units, written)


@app.command(epilog=examples.READINGS_EXAMPLES)
@guarded
def readings(
    site: SiteFile,
    doorway: Doorway = None,
    out: Annotated[
        Path, typer.Option(metavar="OUT.pdf", help="The file to write.")
    ] = Path("readings.pdf"),
    paper: Paper = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Print a sheet on which to write what is taped at a unit, for limen fit."""
    from limen.desk.reading_sheet import reading_sheet
    from limen.words import read_in

    read_in(language)
    typer.echo(reading_sheet(site, out, doorway=doorway, paper=paper, units=units))
    return 0


@app.command(epilog=examples.DRAW_EXAMPLES)
@guarded
def draw(
    site: SiteFile,
    doorway: Doorway = None,
    out: OutFolder = Path("drawings"),
    view: Annotated[
        list[View] | None,
        typer.Option(help="Which view; may be repeated. All if none."),
    ] = None,
    width: Annotated[
        int, typer.Option(metavar="PX", min=200, max=8000, help="Width in pixels.")
    ] = 1200,
    rulebook: Book = None,
    edition: Edition = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Draw doorways and what was found there, as SVG files."""
    from limen.desk.checking import check as ask
    from limen.desk.drawing import VIEWS
    from limen.desk.drawing import draw as to_files
    from limen.words import read_in

    read_in(language)
    checked = ask(site, doorway, rulebook, edition=edition)
    asked = {str(one) for one in view or VIEWS}
    for path in to_files(
        checked,
        out,
        views=[one for one in VIEWS if one in asked],
        width=width,
        units=units,
    ):
        typer.echo(path)
    return 0


@app.command(epilog=examples.WIRES_EXAMPLES)
@guarded
def wires(
    site: SiteFile,
    doorway: Doorway = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="OUT.pdf", help="Print it: a page a doorway."),
    ] = None,
    paper: Paper = None,
    rulebook: Book = None,
    edition: Edition = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Say which output goes to which input, what to set, which plug shows it."""
    from limen.cli import wiring
    from limen.desk.checking import check as ask
    from limen.desk.wiring import wired, wires_file
    from limen.words import read_in

    read_in(language)
    checked = ask(site, doorway, rulebook, edition=edition)
    if out:
        typer.echo(wires_file(checked, out, paper=paper, units=units))
        return 0
    return wiring.told(wired(checked), units)


@app.command(help=examples.NEW, epilog=examples.NEW_EXAMPLES)
@guarded
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The file to write.")],
    ask: Annotated[
        bool, typer.Option("--ask", help="Ask about a dozen things at the door.")
    ] = False,
    full: Annotated[
        Path | None,
        typer.Option(metavar="SHORT.toml", help="Write this short form in full."),
    ] = None,
    rulebook: Annotated[
        str | None, typer.Option(metavar="NAME", help="With --ask: not asked then.")
    ] = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Write a site file to begin with; it never overwrites one."""
    from limen.desk.refusal import Refusal
    from limen.words import read_in

    read_in(language)
    if ask and full:
        raise Refusal(["--ask and --full are two ways to begin; choose one."])
    if rulebook and not ask:
        raise Refusal(["--rulebook goes with --ask; else the file says its own."])
    if ask:
        from limen.cli import asking

        return asking.ask(file, rulebook, units)
    from limen.cli import shelves
    from limen.desk import sites

    return shelves.begun(sites.in_full(full, file) if full else sites.new(file))


@app.command()
@guarded
def schema(
    what: Annotated[What, typer.Argument(help="What the schema describes.")] = "site",
) -> int:
    """Print the JSON Schema of a file, of the findings or of a fit."""
    import json

    from limen.desk.schemas import schema as of

    typer.echo(json.dumps(of(what), indent=2, ensure_ascii=False))
    return 0


@app.command()
@guarded
def demo(
    out: OutFolder = Path("alder-quay"),
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Show an invented library with five doorways, before and after."""
    from limen.cli import showing
    from limen.desk.showing import demo as ask
    from limen.words import read_in

    read_in(language)
    return showing.demo(ask(out, units), units)


@app.command(epilog=examples.FLOWS_EXAMPLES)
@guarded
def flows(
    site: SiteFile,
    doorway: Doorway = None,
    weather: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Weather of a year: EPW, TMY3 or TMY2."),
    ] = None,
    instead: Annotated[
        list[str] | None,
        typer.Option(metavar="KEY=VALUE", help="What this setting would save."),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Figures as JSON.")] = False,
    language: InLanguage = "en",
) -> int:
    """Say who walks through and past, what openings let out, what a setting saves."""
    from limen.cli import flowing
    from limen.words import read_in

    read_in(language)
    return flowing.flowed(site, doorway, weather, instead or [], as_json=json)


@app.command(epilog=examples.CHANNELS_EXAMPLES)
@guarded
def channels(
    site: SiteFile,
    fewest_channels: Annotated[
        bool,
        typer.Option("--fewest-channels", help="Rather than the fewest changes."),
    ] = False,
    json: Annotated[
        bool, typer.Option("--json", help="For programs; see: limen schema channels.")
    ] = False,
    every: Annotated[
        bool, typer.Option("--all", help="Every pair that may reach each other.")
    ] = False,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Say which channel each unit of a site takes, and what is left to screen."""
    from limen.cli import channels as shown
    from limen.cli.progress import progress
    from limen.desk.channels import planned
    from limen.words import read_in

    read_in(language)
    plan = planned(site, fewest_channels=fewest_channels, told=progress())
    if json:
        return shown.as_json(plan, units)
    return shown.as_text(plan, units, every=every)


@app.command()
@guarded
def rules(
    rulebook: Annotated[
        str | None, typer.Argument(metavar="ID", help="One rulebook, rule by rule.")
    ] = None,
    edition: Edition = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """List rulebooks; with ID its rules: limits, clauses, grades, cases."""
    from limen.cli import shelves
    from limen.desk.shelves import rules as on_shelf
    from limen.words import read_in

    read_in(language)
    books = on_shelf(rulebook, edition)
    if rulebook is None and edition is None:
        return shelves.books(books)
    return shelves.rules(books, units)


@app.command()
@guarded
def sheets(
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="One sheet, as it stands.")
    ] = None,
) -> int:
    """List the generic sensor sheets; with NAME the sheet itself."""
    from limen.cli import shelves
    from limen.desk.sheets import sheets as on_shelf

    return shelves.sheets(on_shelf(name), whole=name is not None)


@app.command()
@guarded
def serve(
    port: Annotated[
        int,
        typer.Option(metavar="N", min=0, max=65535, help="Port; 0 takes a free one."),
    ] = 8765,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Open no browser.")
    ] = False,
) -> int:
    """Open the planning desk in a browser, on this machine only."""
    from limen.cli import serving

    return serving.serve(port, show=not no_browser)


def main() -> None:
    """Run the command line.

    Importing makes many lasting objects and no garbage; looking through them again
    and again is an eighth of the time to the first answer, and taking them apart
    at the end, when the process is gone anyway, a quarter.
    """
    gc.set_threshold(GARBAGE_AFTER)
    try:
        app(prog_name="limen")
    finally:
        gc.freeze()
