"""The folder of keys: what lies in it, written whole or not at all.

A private key lies encrypted in ``firm.pem`` or ``device.pem``, its name and public half
before it in plain letters.  Beside it lie what firms say of devices, as they sealed it.
"""

import os
import sys
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from tempfile import mkstemp

from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.record.certifying import (
    Certificate,
    Withdrawal,
    certificate_of,
    withdrawal_of,
)
from limen.record.keys import Key, usable
from limen.record.sealing import SealBrokenError
from limen.words import say

FOLDER = "keys"
FIRM, DEVICE, PUBLIC = "firm.pem", "device.pem", "firm.pub"
CERTIFICATES, WITHDRAWALS, KNOWN = "certificates", "withdrawals", "known"
SHORT = 8
MOST_BYTES = 20_000
"""Of a file that says something of keys; every one of them is short."""

_OTHERS = 0o077
_NAME = "# "


@dataclass(frozen=True, slots=True)
class Named:
    """A key by its public half, and what its owner calls it.

    Attributes:
        public: 64 hexadecimal digits.
        name: of a firm or a device; anybody can take a name.
    """

    public: str
    name: str


def key_folder(environ: Mapping[str, str] | None = None) -> Path:
    """Where this user's keys lie; it need not exist.

    Raises:
        Refusal: nothing says where a user's data belongs.
    """
    from limen.desk.library_home import opening
    from limen.store.database import data_home

    with opening():
        return data_home(environ or os.environ, sys.platform) / FOLDER


# Public halves ------------------------------------------------------------------


def public_text(one: Named) -> str:
    """A public half as it is handed out: its name, then its digits."""
    return f"{_NAME}{one.name}\n{one.public}\n"


def public_of(text: str) -> Named | None:
    """The one public half that a text holds, alone or with a name; None if none.

    Args:
        text: of a file that was handed out, or of what stands before a private key.
    """
    if '"seal"' in text:
        return None
    lines = [one.strip() for one in text.splitlines()]
    keys = {one for one in lines if usable(one)}
    names = [one[1:].strip() for one in lines if one.startswith("#")]
    return Named(keys.pop(), next(iter(names), "")) if len(keys) == 1 else None


def short(public: str) -> str:
    """The first digits of a key, by which people name it."""
    return public[:SHORT]


# Reading ------------------------------------------------------------------------


def read_short(path: Path) -> bytes:
    """The bytes of a file that says something of keys.

    Raises:
        Refusal: it cannot be read, or is too large to be one.
    """
    with refusing():
        with path.open("rb") as file:
            read = file.read(MOST_BYTES + 1)
        if len(read) > MOST_BYTES:
            raise Refusal([_said("no_such", file=str(path))])
        return read


def named_in(folder: Path, name: str) -> Named | None:
    """Whose private key lies in a file, by what stands before it.

    Raises:
        Refusal: it cannot be read, or is no such file.
    """
    path = folder / name
    if not path.exists():
        return None
    head = read_short(path).decode("utf-8", "replace").partition("-----BEGIN")[0]
    found = public_of(head)
    if found is None:
        raise Refusal([_said("no_key_file", file=str(path))])
    return found


def locked_in(folder: Path, name: str) -> bytes:
    """A private key as it lies there, encrypted.

    Raises:
        Refusal: it cannot be read, or others can read it too.
    """
    path = folder / name
    with refusing():
        if os.name == "posix" and path.stat().st_mode & _OTHERS:
            raise Refusal([_said("open_to_others", file=str(path))])
        read = path.read_bytes()
    return read[read.find(b"-----BEGIN") :]


def certificates(folder: Path) -> list[tuple[Certificate, bytes]]:
    """What firms say of devices, with its text; what is broken is left out."""
    found: list[tuple[Certificate, bytes]] = []
    for sealed in _sealed(folder / CERTIFICATES):
        with suppress(SealBrokenError):
            found.append((certificate_of(sealed), sealed))
    return found


def withdrawals(folder: Path) -> list[tuple[Withdrawal, bytes]]:
    """What firms took back, with its text; what is broken is left out."""
    found: list[tuple[Withdrawal, bytes]] = []
    for sealed in _sealed(folder / WITHDRAWALS):
        with suppress(SealBrokenError):
            found.append((withdrawal_of(sealed), sealed))
    return found


def known_firms(folder: Path) -> list[Named]:
    """The firms that are known here, one's own first."""
    own = named_in(folder, FIRM)
    texts = (one.decode("utf-8", "replace") for one in _sealed(folder / KNOWN, ".pub"))
    others = [one for one in map(public_of, texts) if one]
    return [*([own] if own else []), *(one for one in others if one != own)]


def _sealed(folder: Path, ending: str = ".json") -> list[bytes]:
    if not folder.is_dir():
        return []
    with refusing():
        paths = sorted(one for one in folder.iterdir() if one.suffix == ending)
    return [read_short(one) for one in paths]


# Writing ------------------------------------------------------------------------


def keep_key(folder: Path, name: str, key: Key, called: str, passphrase: str) -> None:
    """Lay a private key into the folder, encrypted; one that is there is replaced.

    Raises:
        KeyRefusedError: the passphrase is too short.
        Refusal: it cannot be written.
    """
    head = public_text(Named(key.public, called)).encode()
    keep(folder / name, head + key.locked(passphrase))


def keep_certificate(folder: Path, sealed: bytes) -> Path:
    """Lay what a firm says of a device into the folder."""
    one = certificate_of(sealed)
    return keep(folder / CERTIFICATES / f"{one.device}-{short(one.firm)}.json", sealed)


def keep_withdrawal(folder: Path, sealed: bytes) -> Path:
    """Lay what a firm took back into the folder."""
    one = withdrawal_of(sealed)
    return keep(folder / WITHDRAWALS / f"{one.device}-{short(one.firm)}.json", sealed)


def keep_firm(folder: Path, firm: Named) -> Path:
    """Make a firm known here."""
    return keep(folder / KNOWN / f"{firm.public}.pub", public_text(firm).encode())


def keep(path: Path, data: bytes) -> Path:
    """Write a file whole, for its owner alone, in folders for their owner alone.

    Raises:
        Refusal: it cannot be written.
    """
    with refusing():
        _private(path.parent)
        file, beside = mkstemp(dir=path.parent, prefix=".limen-")  # of mode 0600
        try:
            with os.fdopen(file, "wb") as written:
                written.write(data)
                written.flush()
                os.fsync(written.fileno())
            Path(beside).replace(path)
        except BaseException:
            with suppress(OSError):
                Path(beside).unlink()
            raise
    return path


def _private(folder: Path) -> None:
    """Make a folder and those above it that lack, for their owner alone."""
    lacking = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(lacking):
        one.mkdir(mode=0o700, exist_ok=True)


def _said(key: str, /, **values: str) -> str:
    return say(Message(f"record.keys.{key}", values))
