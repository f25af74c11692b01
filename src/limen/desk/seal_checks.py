"""Sealed files checked at the desk, for readers whose browser cannot.

Nothing that is sent here is kept.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from limen.desk.key_files import FOLDER, known_firms, withdrawals
from limen.desk.library import Desk
from limen.desk.seal_looks import looks_sealed
from limen.desk.verifying import record_inside
from limen.record import Verified, digest_of, verify_bytes
from limen.record.keys import usable
from limen.record.paper import is_paper

MOST_GIVEN = 100
"""Keys and withdrawals that may be sent beside a file."""


@dataclass(frozen=True, slots=True)
class KnownHere:
    """Whom this desk knows.

    Attributes:
        firms: by public half of its key, what each firm is called.
        withdrawn: withdrawals of devices, as sealed.
    """

    firms: Mapping[str, str]
    withdrawn: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What the check of one file found, for the page.

    Attributes:
        unchanged: whether every byte is as it was when it was sealed.
        where: at what it failed; empty if it did not.
        state: ``unchanged``, ``unknown``, ``withdrawn``, ``changed`` or ``unusable``.
        signer: who sealed it, by name of each fact; None if that is not shown.
        record: what a sealed text says, or the record inside a PDF.
        digest: SHA-256 of the whole file.
        carried: that of the record inside a PDF; empty if there is none.
    """

    unchanged: bool
    where: str
    state: str
    signer: Mapping[str, str | bool | None] | None
    record: Mapping[str, object] | None
    digest: str
    carried: str = ""


def known_here(desk: Desk) -> KnownHere:
    """The firms whose keys lie in this desk's folder, and what they took back.

    Raises:
        Refusal: something in the folder cannot be read.
    """
    folder = _folder(desk)
    if not folder.is_dir():
        return KnownHere({}, ())
    firms = {one.public: one.name for one in known_firms(folder)}
    gone = (sealed.decode("utf-8") for _, sealed in withdrawals(folder))
    return KnownHere(firms, tuple(gone))


def check_seal(
    file: bytes,
    known: KnownHere,
    firms: Sequence[str] = (),
    withdrawn: Sequence[str] = (),
) -> Told:
    """Whether a file is what was sealed, and who sealed it.  Never raises.

    Args:
        file: its bytes.
        known: whom the desk knows.
        firms: public halves of further firms' keys that the reader trusts.
        withdrawn: further withdrawals.
    """
    given = [one for one in firms[:MOST_GIVEN] if usable(one)]
    gone = [*known.withdrawn, *withdrawn[:MOST_GIVEN]]
    found = verify_bytes(
        file,
        firms={*known.firms, *given},
        withdrawn=[one.encode("utf-8", "replace") for one in gone],
    )
    signer = found.signer
    said: dict[str, str | bool | None] | None = signer and {
        "device": signer.device,
        "firm": signer.firm,
        "key": signer.key,
        "firmKey": signer.firm_key,
        "known": signer.known,
        "withdrawn": signer.withdrawn.isoformat() if signer.withdrawn else None,
    }
    record, carried = _inside(file) if found.unchanged else (None, "")
    return Told(
        found.unchanged,
        found.where,
        state_of(found, sealed=looks_sealed(file)),
        said,
        record or found.record,
        found.digest,
        carried,
    )


def _inside(file: bytes) -> tuple[Mapping[str, object] | None, str]:
    """The record that a PDF carries, and its digest."""
    inside = record_inside(file) if is_paper(file) else None
    if inside is None:
        return None, ""
    return verify_bytes(inside).record, digest_of(inside)


def state_of(found: Verified, *, sealed: bool) -> str:
    """What a check comes to.

    Args:
        found: by the check.
        sealed: whether the file looks like one that was sealed once.
    """
    if found.signer is None:
        never = found.where == "size" or (found.where == "form" and not sealed)
        return "unusable" if never else "changed"
    if found.signer.withdrawn:
        return "withdrawn"
    return "unchanged" if found.signer.known else "unknown"


def _folder(desk: Desk) -> Path:
    return desk.sheets.parent / FOLDER
