"""A record on paper: how the door is left first, then what was tested and found.

The paper says what the sealed text says and nothing else.  The text travels inside it,
with the whole study and the photos.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from importlib.resources import files
from typing import Any

from limen.draw.themes import PAPER
from limen.findings import Message
from limen.report.contents import PaperName
from limen.report.pdf import PAPERS, ReportError, letters_of, said_error
from limen.report.record_found import found
from limen.report.record_pictures import (
    Drawn,
    code,
    laid_out,
    media_of,
    photo_names,
    signature,
)
from limen.report.record_visit import visit_said
from limen.report.tongue import Plain, Tongue
from limen.words import catalogue, unbroken

_HERE = files("limen.report")
_PARTS = ("look", "record")
FIXED = "record.fixed."
STANDARDS = ("a-3a", "ua-1")
GROUP = 4
"""Digits of a digest that one reads out in a breath."""

MOST_TRIES = 12
NO_LETTER, FROM_HERE, ASCII = "\N{REPLACEMENT CHARACTER}", "\u2e80", "\x7f"
"""The sign for a letter that no font has; from where on the fonts have next to none."""

Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordPaper:
    """What is set on paper.

    Attributes:
        table: what the record says.
        sealed: the sealed text, to travel inside.
        digest: SHA-256 of it.
        contract: the whole study as JSON, to travel inside; empty if it is not here.
        number: of the record at its site; None if nobody counted.
        device, firm: who sealed it, by name.
        drawn: plan, section and front on the record's day.
        photos: their bytes by SHA-256, those that are at hand.
        names: by key of a value of the doorway its name in words.
        owed: by cause the group of tests that are owed once it is mended.
        paper: the size of the pages.
        tongue: the reader's language and units.
    """

    table: Table
    sealed: bytes
    digest: str
    contract: str
    number: int | None
    device: str
    firm: str
    drawn: tuple[Drawn, ...] = ()
    photos: Mapping[str, bytes] = field(default_factory=dict[str, bytes])
    names: Mapping[str, str] = field(default_factory=dict[str, str])
    owed: Mapping[str, str] = field(default_factory=dict[str, str])
    paper: PaperName = "a4"
    tongue: Tongue = field(default_factory=Tongue)


class _NotSetError(ReportError):
    """The paper cannot be set; perhaps for letters that no font has."""

    def __init__(self, said: str, letters: str) -> None:
        super().__init__(said)
        self.letters = letters


def record_pdf(one: RecordPaper) -> bytes:
    """Set a record as PDF/A-3, not sealed yet.

    What somebody typed at a door must not keep a visit from its paper: a letter that no
    font has is printed as a sign for it, and a picture that cannot be drawn left out.

    Raises:
        ReportError: it cannot be set for another reason.
    """
    names = photo_names(one.photos)
    shown = {sha: name for sha, name in names.items() if media_of(name)}
    unknown = ""
    for _ in range(MOST_TRIES):
        try:
            return _set(one, shown, unknown)
        except _NotSetError as error:
            letters = "".join(letter for letter in error.letters if letter > ASCII)
            if not letters and not shown:
                raise
            unknown, shown = unknown + letters, shown if letters else {}
    return _set(one, {}, unknown)


def readable(table: Table) -> bool:
    """Whether a record says all that its paper is made of, and in the same form.

    Args:
        table: what was sealed elsewhere.
    """
    one = RecordPaper(
        table=table, sealed=b"", digest="", contract="", number=None, device="", firm=""
    )
    try:
        _said(one, {}, signed=False)
        signature(table)
    except (LookupError, TypeError, ValueError, AttributeError):
        return False
    return True


def grouped(digest: str) -> str:
    """Digits as one reads them out."""
    return " ".join(digest[at : at + GROUP] for at in range(0, len(digest), GROUP))


def _set(one: RecordPaper, shown: Mapping[str, str], unknown: str) -> bytes:
    import typst

    with laid_out(one.photos) as folder:
        try:
            return typst.compile(
                _inputs(one, shown, unknown),  # pyright: ignore[reportArgumentType]  # its stub
                root=str(folder) if folder else None,
                format="pdf",
                pdf_standards=list(STANDARDS),
                ignore_system_fonts=True,
                font_paths=[str(_HERE.joinpath("fonts"))],
                timestamp=_claimed(one.table),
            )
        except typst.TypstError as error:
            said = str(error)
            words = said_error(said, one.tongue)
            raise _NotSetError(words, letters_of(said)) from error


def _inputs(
    one: RecordPaper, shown: Mapping[str, str], unknown: str
) -> dict[str, bytes]:
    pages = _HERE.joinpath("pages")
    inputs = {f"{p}.typ": pages.joinpath(f"{p}.typ").read_bytes() for p in _PARTS}
    inputs["main"] = inputs.pop("record.typ")
    signed = signature(one.table)
    inputs |= {
        drawn.file: _known(drawn.svg.decode(), unknown).encode() for drawn in one.drawn
    }
    inputs |= {"signature.svg": signed} if signed else {}
    inputs["code.svg"] = code(one.digest)
    inputs["record.json"] = one.sealed
    inputs["findings.json"] = one.contract.encode()
    values = _said(one, shown, signed=bool(signed))
    values["letters"] = _say(one.tongue, "paper.letters") if unknown else ""
    said = unbroken(json.dumps(values, ensure_ascii=False))
    inputs["data.json"] = _known(said, unknown).encode()
    return inputs


def _known(text: str, unknown: str) -> str:
    """The text with a sign in place of each letter that no font has.

    Once one is met, all of those are taken for such that stand where only scripts and
    signs stand that the fonts lack: each would cost a try of its own.
    """
    if not unknown:
        return text
    return "".join(
        NO_LETTER if one in unknown or FROM_HERE <= one != NO_LETTER else one
        for one in text
    )


def _said(one: RecordPaper, shown: Mapping[str, str], *, signed: bool) -> Plain:
    tongue, table = one.tongue, one.table
    at = _claimed(table)
    return {
        "words": {
            key.removeprefix(FIXED): catalogue(tongue.language).sentence(key)
            for key in catalogue(tongue.language).under(FIXED)
        },
        "inks": dict(PAPER),
        "language": tongue.language,
        "paper": PAPERS[one.paper][0],
        "wide": PAPERS[one.paper][1],
        "day": [at.year, at.month, at.day],
        "title": _title(one),
        "site": _site(table, tongue),
        "claimed": _said_claim(one, at),
        "rulebook": _rulebook(table, tongue),
        "found": found(table, tongue),
        "visit": visit_said(
            table,
            tongue,
            {sha: f"/{name}" for sha, name in shown.items()},
            frozenset(one.photos),
            one.names,
            one.owed,
        ),
        "signed": signed,
        "drawings": [drawn.said for drawn in one.drawn],
        "digest": grouped(one.digest),
        "foot": _foot(one),
        "parents": _parents(table, tongue),
        "attached": list(_attached(one)),
        "attached_says": _say(tongue, "paper.attached"),
    }


def _say(tongue: Tongue, key: str, /, **values: str | int) -> str:
    return tongue.say(Message(f"record.{key}", values))


def _claimed(table: Table) -> datetime:
    return datetime.fromisoformat(str(table["claimed"])).astimezone(UTC)


def _title(one: RecordPaper) -> str:
    name = str(one.table["name"])
    if one.number is None:
        return _say(one.tongue, "paper.title_plain", name=name)
    return _say(one.tongue, "paper.title", name=name, number=one.number)


def _site(table: Table, tongue: Tongue) -> str:
    site, place = str(table["site"]), str(table.get("place", ""))
    if place in {"", site}:
        return _say(tongue, "paper.no_place", site=site)
    return _say(tongue, "paper.site", site=site, place=place)


def _said_claim(one: RecordPaper, at: datetime) -> str:
    told = {"device": one.device, "firm": one.firm, "time": f"{at:%H:%M}"}
    return _say(one.tongue, "paper.claimed", day=one.tongue.day(at.date()), **told)


def _rulebook(table: Table, tongue: Tongue) -> str:
    study = table["study"]
    day = tongue.day(datetime.fromisoformat(str(study["on"])).date())
    names = {"rulebook": str(study["rulebook"]), "edition": str(study["edition"])}
    return _say(tongue, "paper.rulebook", day=day, **names)


def _foot(one: RecordPaper) -> str:
    short = grouped(one.digest[:16])
    name, number = str(one.table["name"]), one.number if one.number else "–"
    return _say(one.tongue, "paper.footer", name=name, number=number, digest=short)


def _parents(table: Table, tongue: Tongue) -> str:
    named = [f"{one[:16]}…" for one in table.get("parents", ())]
    if not named:
        return _say(tongue, "paper.parents_none")
    key = "one" if len(named) == 1 else "many"
    return _say(tongue, f"paper.parents.{key}", digests=tongue.apart(named))


def _attached(one: RecordPaper) -> Iterator[Plain]:
    """What travels inside, by the name under which it is found there."""
    yield {"file": "record.json", "name": "record.json", "kind": "application/json"}
    if one.contract:
        name = "findings.json"
        yield {"file": name, "name": name, "kind": "application/json"}
    for name in photo_names(one.photos).values():
        kind = media_of(name) or "application/octet-stream"
        yield {"file": f"/{name}", "name": name, "kind": kind}
