"""`limen record new` and `limen verify`: arguments in, what was sealed or found out."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from limen.cli import examples
from limen.cli.guard import guarded
from limen.cli.options import AsJson, InLanguage, InUnits, Paper, SiteFile, commands

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from limen.cli.lines import Line
    from limen.desk.verifying import Checked, Checks, Hanging

record_app = commands("record", "Records: what was done and found at a door, sealed.")

_MARKS = {
    "unchanged": "holds",
    "unknown": "not shown",
    "withdrawn": "not shown",
    "changed": "fails",
    "unusable": "not asked",
}
"""By state of a file the verdict whose mark it bears."""
_MOST = 200
"""Megabytes of a file that is checked."""
_TO_DO = frozenset({"unknown", "withdrawn", "changed", "unusable"})


@record_app.callback()
def _records() -> None:
    """Records: what was done and found at a door, sealed."""


@record_app.command(help=examples.RECORD_NEW, epilog=examples.RECORD_NEW_EXAMPLES)
@guarded
def new(
    site: SiteFile,
    doorway: Annotated[str, typer.Option(metavar="ID", help="Which doorway.")],
    out: Annotated[
        Path, typer.Option(metavar="DIR", help="The folder of records.")
    ] = Path("records"),
    visit: Annotated[
        Path | None,
        typer.Option(metavar="FILE.json", help="The events of a visit, from a card."),
    ] = None,
    photos: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Its photos; beside the visit if none."),
    ] = None,
    paper: Paper = None,
    units: InUnits = "metric",
    language: InLanguage = "en",
) -> int:
    """Seal a record of a doorway: JSON and PDF, in a folder of records."""
    from limen.cli.keys import asked
    from limen.desk.record_files import new_record
    from limen.words import read_in

    read_in(language)
    done = new_record(
        site,
        doorway,
        out,
        asked,
        visit=visit,
        photos=photos,
        paper=paper,
        units=units,
    )
    _tell("written", number=done.number, doorway=doorway, file=str(done.record))
    _tell("paper", file=str(done.paper))
    _tell("digest", digest=done.digest)
    if not done.visit:
        _tell("no_visit")
    for digest in done.photos_missing:
        _tell("photo_missing", digest=digest)
    _tell("check", file=str(done.paper))
    return 0


@guarded
def verify(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE…", help="Records, or a folder.")
    ],
    trust: Annotated[
        list[Path] | None,
        typer.Option(
            metavar="FIRM.pub", help="A firm’s key, or a withdrawal; may be repeated."
        ),
    ] = None,
    json: AsJson = False,
    language: InLanguage = "en",
) -> int:
    """Say whether sealed files are unchanged, and who sealed them."""
    from limen.desk.verifying import known_to_user
    from limen.desk.verifying import verify as check
    from limen.words import read_in

    read_in(language)
    found = check(files, known_to_user(tuple(trust or ())))
    if json:
        return _as_json(found)
    return _as_text(found)


def _tell(key: str, /, **values: str | int) -> None:
    from limen.findings import Message
    from limen.words import say

    typer.echo(say(Message(f"record.new.{key}", values)))


# What a check found --------------------------------------------------------------


def _as_json(found: "Checks") -> int:
    import json

    from limen.cli.paper import paper
    from limen.desk.verifying import as_table

    paper().put_text(json.dumps(as_table(found), indent=2, ensure_ascii=False))
    return found.worst


def _as_text(found: "Checks") -> int:
    from limen.cli.lines import EMPTY, wrapped
    from limen.cli.paper import paper

    page = paper()
    lines: list[Line] = []
    for one in found.files:
        lines += [*_file_lines(one, page.width), EMPTY]
    for one in found.chains:
        lines += [each for text in _chain(one) for each in wrapped(text, page.width)]
    page.put(lines[:-1] if lines and lines[-1] == EMPTY else lines)
    return found.worst


def _file_lines(one: "Checked", width: int | None) -> "list[Line]":
    from limen.cli.lines import Ink, Piece, wrapped
    from limen.cli.table import MARKS
    from limen.findings import Verdict
    from limen.words import visible

    mark = MARKS[Verdict(_MARKS[one.state])]
    head = (
        Piece(f"{mark.text} ", mark.ink),
        Piece(f"{visible(str(one.path))}  ", Ink.STRONG),
        Piece(_word(f"verify.word.{'unread' if one.why else one.state}"), mark.ink),
    )
    lines: list[Line] = [head]
    for text in _says(one):
        lines += wrapped(text, width, indent=2)
    for text in _facts(one):
        lines += wrapped(text, width, indent=2, ink=Ink.QUIET)
    return lines


def _says(one: "Checked") -> list[str]:
    """What was found, what it does not say, what to do."""
    if one.why or one.found is None:
        return [one.why]
    says = [_said_state(one)]
    if one.found.unchanged:
        says.append(_word("verify.says.not_door"))
    if one.state in _TO_DO:
        own = "record.verify" if one.state == "unknown" else "verify.do"
        says.append(_word(f"{own}.{one.state}"))
    return says


def _said_state(one: "Checked") -> str:
    found = one.found
    signer = found.signer if found else None
    if found is None or signer is None:
        return _word(f"verify.says.{(found and found.where) or 'form'}", most=_MOST)
    day = signer.withdrawn or _claimed(one)
    key = one.state if one.state != "unchanged" or day is None else "unchanged_on"
    told = {"day": day.isoformat()} if day else {}
    return _word(f"verify.says.{key}", device=signer.device, firm=signer.firm, **told)


def _claimed(one: "Checked") -> date | None:
    """The day on which a record says that it was sealed."""
    try:
        return date.fromisoformat(str((one.record or {}).get("claimed", ""))[:10])
    except ValueError:
        return None


def _facts(one: "Checked") -> list[str]:
    """Which record it is, and the digits by which files and keys are known."""
    found = one.found
    if found is None or not found.digest:
        return []
    facts = [_which(one)] if one.record else []
    facts.append(_word("record.verify.digest", digest=_grouped(found.digest)))
    if one.carried:
        facts.append(_word("record.verify.carried", digest=_grouped(one.carried)))
    if found.signer:
        facts.append(_word("record.verify.key", key=_grouped(found.signer.key)))
        firm = _grouped(found.signer.firm_key)
        facts.append(_word("record.verify.firm_key", key=firm))
    return facts


def _which(one: "Checked") -> str:
    from limen.words import apart

    record = one.record or {}
    door = str(record.get("name") or record.get("doorway") or "–")
    named = _word("record.verify.site", site=str(record.get("site", "–")), doorway=door)
    number = record.get("number")
    if not isinstance(number, int):
        return named
    return apart([named, _word("record.verify.number", number=number)])


def _chain(one: "Hanging") -> "Iterator[str]":
    """What lacks and which is the last, where more than one record is spoken of."""
    door = _word("record.verify.site", site=one.site, doorway=one.doorway)
    if one.circular:
        yield _word("record.verify.circular", door=door)
        return
    if one.missing:
        yield _word("record.verify.missing", door=door, digests=_short(one.missing))
    if one.count > 1 or one.missing:
        yield _word("record.verify.last", door=door, digests=_short(one.last))


def _short(digests: "Iterable[str]") -> str:
    from limen.words import apart

    return apart(f"{_grouped(one[:16])}…" for one in digests)


def _grouped(digits: str) -> str:
    return " ".join(digits[at : at + 4] for at in range(0, len(digits), 4))


def _word(key: str, /, **values: str | int) -> str:
    from limen.findings import Message
    from limen.words import say

    return say(Message(key, values))
