"""Records in a folder: a new one made after those that lie there already.

The folder is the chain: what is there is checked before anything is put to it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from limen.desk.clock import now, today
from limen.desk.drawing import Units
from limen.desk.record_reading import NOBODY, record_of
from limen.desk.records import Made, made, photo_digests, record_part
from limen.desk.refusal import Refusal, refusing
from limen.desk.reporting import Paper
from limen.desk.verifying import checked
from limen.findings import Message
from limen.quantity import Show
from limen.record.chain import ChainCircularError, chained
from limen.words import say

if TYPE_CHECKING:
    from limen.desk.checking import Checked
    from limen.desk.keys import Ask, Hand

MOST_PHOTO = 15_000_000
TEXT, PAPER = ".json", ".pdf"
"""Endings of a record's two files."""

Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Earlier:
    """A record that lies in the folder.

    Attributes:
        digest: SHA-256 of it.
        table: what it says.
    """

    digest: str
    table: Table


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        record, paper: the files.
        digest: of the record.
        number: of the record in its folder.
        visit: whether somebody was at the door for it.
        photos_missing: digests of photos whose bytes were not at hand.
    """

    record: Path
    paper: Path
    digest: str
    number: int
    visit: bool
    photos_missing: tuple[str, ...]


def new_record(
    path: str | Path,
    doorway: str,
    out: str | Path,
    ask: "Ask",
    *,
    visit: Path | None = None,
    photos: Path | None = None,
    paper: Paper | None = None,
    units: Units = "metric",
    on: date | None = None,
) -> Written:
    """Seal a record of a doorway, as JSON and as PDF.

    Args:
        path: the site file.
        doorway: id of the doorway.
        out: the folder; made if it is not there, nothing in it is replaced.
        ask: asks a person for the passphrase.
        visit: a file with the events of one visit.
        photos: the folder where its photos lie; that of the visit if not given.
        paper: size of the pages; that of the rulebook's country if not given.
        units: in which lengths are written.
        on: the day of the study; today if not given.

    Raises:
        Refusal: there is no key to seal with, something cannot be read or written, or
            what lies in the folder is not what was sealed.
    """
    from limen.desk.checking import check
    from limen.desk.key_files import key_folder
    from limen.desk.keys import hand
    from limen.desk.record_visit import read_visit

    holder = hand(key_folder(), ask)
    checked = check(path, doorway, on=on or today())
    said = read_visit(visit, doorway) if visit else None
    folder = Path(out)
    earlier = _earlier(folder, checked.site.name)
    at_hand = _photos(said, photos or (visit.parent if visit else None))
    made, pdf = _sealed(checked, earlier, holder, said, at_hand, paper, units)
    name = f"record-{len(earlier) + 1:04}-{doorway}"
    files = folder / f"{name}{TEXT}", folder / f"{name}{PAPER}"
    _put(folder, files, (made.sealed, pdf))
    lacking = tuple(one for one in photo_digests(said) if one not in at_hand)
    return Written(*files, made.digest, len(earlier) + 1, said is not None, lacking)


def _sealed(
    checked: "Checked",
    earlier: Sequence[Earlier],
    hand: "Hand",
    visit: Table | None,
    photos: Mapping[str, bytes],
    paper: Paper | None,
    units: Units,
) -> tuple[Made, bytes]:
    """The record and its paper."""
    from limen.desk.record_paper import record_paper
    from limen.desk.record_tests import answered_in, tests_of

    (study,), (book,) = checked.studies, checked.rulebooks
    number = len(earlier) + 1
    system = Show(units)
    tests = tests_of(study, book, checked.site, answered_in(visit), system)
    part, contract = record_part(
        study, checked.site, dict(checked.files), system=system, tests=tests
    )
    record = made(
        part,
        contract,
        hand,
        claimed=now(),
        number=number,
        parents=_heads(earlier, study.doorway.id),
        visit=visit,
    )
    return record, record_paper(
        record.table,
        record.sealed,
        record.digest,
        hand,
        number=number,
        contract=contract,
        study=study,
        photos=photos,
        paper=paper,
    )


# The folder ---------------------------------------------------------------------


def _earlier(folder: Path, site: str) -> list[Earlier]:
    """The records of a site that lie in a folder.

    Raises:
        Refusal: one of them is not what was sealed.
    """
    if not folder.is_dir():
        return []
    with refusing():
        paths = _sealed_files(folder)
    found: dict[str, Table] = {}
    for path in paths:
        seen = checked(path, NOBODY)
        if seen.why:
            raise Refusal([seen.why])
        if seen.state == "changed" or (seen.state == "unusable" and _ours(path)):
            raise Refusal([_said("changed", file=str(path))])
        record = record_of(seen)
        if record is not None and record.table.get("site") == site:
            found.setdefault(record.digest, record.table)
    return [Earlier(digest, table) for digest, table in found.items()]


def _sealed_files(folder: Path) -> list[Path]:
    """Records as JSON, and papers whose record does not lie beside them as JSON."""
    files = [one for one in sorted(folder.iterdir()) if one.is_file()]
    texts = [one for one in files if one.suffix.lower() == TEXT]
    stems = {one.stem for one in texts}
    papers = [one for one in files if one.suffix.lower() == PAPER]
    return [*texts, *(one for one in papers if one.stem not in stems)]


def _ours(path: Path) -> bool:
    """Whether a file bears the name of a record's text: then it was one."""
    return path.name.startswith("record-") and path.suffix.lower() == TEXT


def _heads(earlier: Sequence[Earlier], doorway: str) -> tuple[str, ...]:
    """The records of a doorway that no other one names.

    Raises:
        Refusal: they name each other in a ring.
    """
    parents = {
        one.digest: tuple(cast("Sequence[str]", one.table.get("parents", ())))
        for one in earlier
        if one.table.get("doorway") == doorway
    }
    try:
        return chained(parents).heads
    except ChainCircularError:
        raise Refusal([_said("circular")]) from None


def _put(folder: Path, paths: Sequence[Path], data: Sequence[bytes]) -> None:
    """Write new files; if one cannot be, none of them stays."""
    done: list[Path] = []
    with refusing():
        folder.mkdir(parents=True, exist_ok=True)
        try:
            for path, text in zip(paths, data, strict=True):
                with path.open("xb") as file:
                    done.append(path)
                    file.write(text)
        except BaseException:
            for path in done:
                path.unlink(missing_ok=True)
            raise


def _photos(visit: Table | None, folder: Path | None) -> dict[str, bytes]:
    """The photos that a visit speaks of and that lie in a folder, by their SHA-256."""
    wanted = set(photo_digests(visit))
    if not wanted or folder is None:
        return {}
    found: dict[str, bytes] = {}
    with refusing():
        for path in sorted(one for one in folder.iterdir() if one.is_file()):
            if path.stat().st_size <= MOST_PHOTO:
                data = path.read_bytes()
                digest = sha256(data).hexdigest()
                if digest in wanted:
                    found[digest] = data
    return found


def _said(key: str, /, **values: str) -> str:
    return say(Message(f"record.new.{key}", values))
