"""Keys: a firm's and its devices', made, vouched for, replaced, taken back.

A device's key seals records.  The firm's key says which devices are the firm's, and
which no longer are; it is needed for nothing else and can lie elsewhere.
"""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from limen.desk.clock import today
from limen.desk.key_files import (
    DEVICE,
    FIRM,
    PUBLIC,
    SHORT,
    Named,
    certificates,
    keep,
    keep_certificate,
    keep_firm,
    keep_key,
    keep_withdrawal,
    known_firms,
    locked_in,
    named_in,
    public_of,
    public_text,
    read_short,
    short,
    withdrawals,
)
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.record import Key, certify, new_key, withdraw
from limen.record.certifying import certificate_of, withdrawal_of
from limen.record.keys import LEAST_PASSPHRASE, KeyRefusedError, unlocked, usable
from limen.record.sealing import SealBrokenError
from limen.words import say

PASSPHRASE_FILE = "LIMEN_PASSPHRASE_FILE"  # noqa: S105 - the name of a file
MOST_NAME = 200

Ask = Callable[[Message], str]
"""Asks a person for a passphrase; the message says for what."""


@dataclass(frozen=True, slots=True)
class Vouched:
    """A device as its firm speaks of it.

    Attributes:
        public: public half of its key.
        name: as the firm calls it.
        firm, firm_name: whose it is.
        since: from which day on.
        here: whether its private half lies here, so that it seals from here.
        withdrawn: from which day on the firm no longer answers for it.
        because: why not.
    """

    public: str
    name: str
    firm: str
    firm_name: str
    since: date
    here: bool = False
    withdrawn: date | None = None
    because: str = ""


@dataclass(frozen=True, slots=True)
class Ring:
    """All that lies in a folder of keys.

    Attributes:
        folder: where.
        firm: the firm whose private key lies here; None if none does.
        device: the device that seals from here; None if none does.
        devices: every device that a firm vouched for, the newest first.
        known: the firms that are known here.
    """

    folder: Path
    firm: Named | None
    device: Named | None
    devices: tuple[Vouched, ...]
    known: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class Hand:
    """What seals: a device's key, opened, and what its firm says of it."""

    key: Key
    certificate: bytes


@dataclass(frozen=True, slots=True)
class Trusted:
    """Whom a check of a seal knows.

    Attributes:
        firms: public halves of firms' keys.
        withdrawn: withdrawals of devices, as sealed.
    """

    firms: tuple[str, ...] = ()
    withdrawn: tuple[bytes, ...] = ()


# Passphrases --------------------------------------------------------------------


def passphrase(
    ask: Ask, what: Message, environ: Mapping[str, str] | None = None
) -> str:
    """The passphrase: from the file that LIMEN_PASSPHRASE_FILE names, else asked for.

    It is never taken from an argument or from the environment itself: other programs
    can read both.

    Args:
        ask: asks a person.
        what: for what it is.
        environ: the environment.

    Raises:
        Refusal: the file cannot be read, or is empty.
    """
    named = (environ or os.environ).get(PASSPHRASE_FILE, "")
    if not named:
        return ask(what)
    read = read_short(Path(named)).decode("utf-8", "replace")
    found = read.removesuffix("\n").removesuffix("\r")
    if not found:
        raise Refusal([_said("passphrase_empty", file=named)])
    return found


# Looking ------------------------------------------------------------------------


def ring(folder: Path) -> Ring:
    """What lies in a folder of keys; nothing is opened.

    Raises:
        Refusal: something in it cannot be read.
    """
    device = named_in(folder, DEVICE)
    return Ring(
        folder,
        named_in(folder, FIRM),
        device,
        tuple(_devices(folder, device.public if device else "")),
        tuple(known_firms(folder)),
    )


def _devices(folder: Path, here: str) -> list[Vouched]:
    back = {(one.device, one.firm): one for one, _ in withdrawals(folder)}
    found: list[Vouched] = []
    for one, _ in certificates(folder):
        gone = back.get((one.device, one.firm))
        found.append(
            Vouched(
                one.device,
                one.name,
                one.firm,
                one.firm_name,
                one.since,
                one.device == here,
                gone and gone.since,
                gone.because if gone else "",
            )
        )
    return sorted(found, key=lambda one: (-one.since.toordinal(), one.name, one.public))


def trusted(folder: Path | None, more: tuple[Path, ...] = ()) -> Trusted:
    """Whom a check knows: the firms of a folder of keys, and those of further files.

    Args:
        folder: of keys; it need not exist.
        more: files that firms handed out, public keys or withdrawals.

    Raises:
        Refusal: a file is neither.
    """
    there = folder if folder and folder.is_dir() else None
    firms = [one.public for one in known_firms(there)] if there else []
    gone = [sealed for _, sealed in withdrawals(there)] if there else []
    for path in more:
        said = _handed(path)
        if isinstance(said, Named):
            firms.append(said.public)
        else:
            gone.append(said)
    return Trusted(tuple(firms), tuple(gone))


def _handed(path: Path) -> Named | bytes:
    """What a firm handed out: its key, or a withdrawal."""
    read = read_short(path)
    firm = public_of(read.decode("utf-8", "replace"))
    if firm:
        return firm
    try:
        withdrawal_of(read)
    except SealBrokenError:
        raise Refusal([_said("not_handed", file=str(path))]) from None
    return read


# Making -------------------------------------------------------------------------


def begin(folder: Path, firm: str, device: str, ask: Ask) -> Ring:
    """Make a firm's key and that of the device that seals from here.

    Args:
        folder: where they are laid; made if need be.
        firm: the firm's name.
        device: the device's name.
        ask: asks a person for the passphrase.

    Raises:
        Refusal: there is such a key already, a name is unusable, or nothing can be
            written.
    """
    _nameable(firm)
    _nameable(device)
    _none_yet(folder, FIRM)
    _none_yet(folder, DEVICE)
    secret = passphrase(ask, _asked("new"))
    key = new_key()
    _keep(folder, FIRM, key, firm, secret)
    keep(folder / PUBLIC, public_text(Named(key.public, firm)).encode())
    _begin_device(folder, device, secret, (key, firm))
    return ring(folder)


def begin_device(folder: Path, device: str, ask: Ask) -> Ring:
    """Make only the key of the device that seals from here; its firm vouches later.

    Raises:
        Refusal: there is one already, the name is unusable, or nothing can be written.
    """
    _nameable(device)
    _none_yet(folder, DEVICE)
    _begin_device(folder, device, passphrase(ask, _asked("new")), None)
    return ring(folder)


def _begin_device(
    folder: Path, name: str, secret: str, firm: tuple[Key, str] | None
) -> None:
    """What the firm says goes first: a key is never there without it."""
    key = new_key()
    if firm:
        said = certify(firm[0], firm[1], key.public, name, since=today())
        keep_certificate(folder, said)
    _keep(folder, DEVICE, key, name, secret)


def rotate(folder: Path, name: str | None, ask: Ask) -> Ring:
    """Give the device that seals from here a new key; the old private half is gone.

    What the old one sealed stays as it was, and its firm still answers for it.

    Args:
        folder: of keys.
        name: of the device; as before if None.
        ask: asks a person for the passphrase.

    Raises:
        Refusal: there is no such device, or nothing can be written.
    """
    old = named_in(folder, DEVICE)
    if old is None:
        raise Refusal([_said("no_device", file=str(folder / DEVICE))])
    called = name or old.name
    _nameable(called)
    firm = named_in(folder, FIRM)
    secret = passphrase(ask, _asked("open"))
    opened = (_opened(folder, FIRM, secret), firm.name) if firm else None
    _begin_device(folder, called, secret, opened)
    return ring(folder)


# What a firm says ---------------------------------------------------------------


def vouch(folder: Path, public: str, name: str, ask: Ask) -> Path:
    """Let the firm answer for a device: a phone, or a desk elsewhere.

    Args:
        folder: where the firm's key lies.
        public: public half of the device's key.
        name: of the device.
        ask: asks a person for the passphrase.

    Returns:
        The file of what the firm said, to be handed to the device.

    Raises:
        Refusal: the firm's key does not lie here, or that is no such key.
    """
    _nameable(name)
    digits = "".join(public.split()).lower()
    if not usable(digits):
        raise Refusal([_said("not_public", found=public)])
    if any(one.device == digits for one, _ in withdrawals(folder)):
        raise Refusal([_said("was_withdrawn", key=short(digits))])
    firm, key = _firm(folder, ask)
    said = certify(key, firm.name, digits, name, since=today())
    return keep_certificate(folder, said)


def take_back(folder: Path, device: str, because: str, ask: Ask) -> Path:
    """Let the firm no longer answer for a device: lost, stolen, given away.

    Args:
        folder: where the firm's key lies.
        device: its name, or the first digits of its key.
        because: why.
        ask: asks a person for the passphrase.

    Returns:
        The file of what the firm said, to be handed to whoever checks its records.

    Raises:
        Refusal: there is no such device, or several; or the firm's key is elsewhere.
    """
    found = _device(folder, device)
    _, key = _firm(folder, ask)
    return keep_withdrawal(
        folder, withdraw(key, found.public, because.strip(), since=today())
    )


def take_in(folder: Path, path: Path) -> Named | Vouched | str:
    """Lay into the folder what a firm handed out: key, certificate or withdrawal.

    Args:
        folder: of keys; made if need be.
        path: the file.

    Returns:
        The firm that is now known, or the device of which it speaks: only its key
        where no firm says its name.

    Raises:
        Refusal: the file is nothing of the kind.
    """
    read = read_short(path)
    firm = public_of(read.decode("utf-8", "replace"))
    if firm:
        keep_firm(folder, firm)
        return firm
    for kept, of in (
        (keep_certificate, certificate_of),
        (keep_withdrawal, withdrawal_of),
    ):
        try:
            device = of(read).device
        except SealBrokenError:
            continue
        kept(folder, read)
        return _spoken_of(folder, device)
    raise Refusal([_said("not_handed", file=str(path))])


def _spoken_of(folder: Path, public: str) -> Vouched | str:
    """A device with what is known of it; a withdrawal may be all there is."""
    every = ring(folder).devices
    return next((one for one in every if one.public == public), public)


def _device(folder: Path, asked: str) -> Vouched:
    """The one device of a name or of first digits."""
    every = ring(folder).devices
    digits = asked.replace(" ", "").lower()
    found = [
        one
        for one in every
        if one.name == asked or (len(digits) >= SHORT and one.public.startswith(digits))
    ]
    standing = [one for one in found if one.withdrawn is None]
    if len(standing) == 1:
        return standing[0]
    names = "; ".join(f"{one.name} ({short(one.public)})" for one in found or every)
    key = "several" if len(standing) > 1 else "gone" if found else "none"
    raise Refusal([_said(f"device_{key}", found=asked, there=names or "–")])


# Opening ------------------------------------------------------------------------


def hand(folder: Path, ask: Ask) -> Hand:
    """The key that seals from here, opened, with what its firm says of it.

    Raises:
        Refusal: there is none yet, no firm answers for it, or the passphrase is wrong;
            each with what to do.
    """
    there = ring(folder)
    if there.device is None:
        raise Refusal([_said("begin", folder=str(folder))])
    mine = _answered(there)
    if mine is None:
        told = {"key": there.device.public, "name": there.device.name}
        raise Refusal([_said("not_vouched", **told)])
    if mine.withdrawn:
        raise Refusal([_said("withdrawn", name=mine.name)])
    key = _opened(folder, DEVICE, passphrase(ask, _asked("open")))
    said = (mine.public, mine.firm)
    every = certificates(folder)
    found = (sealed for one, sealed in every if (one.device, one.firm) == said)
    return Hand(key, next(found))


def _answered(there: Ring) -> Vouched | None:
    """What is said of the device that seals: by one's own firm, else by a known one.

    Anybody can vouch for a key; a stranger who does takes nobody's place.
    """
    firms = [one.public for one in there.known]

    def worth(one: Vouched) -> int:
        return firms.index(one.firm) if one.firm in firms else len(firms)

    return min((one for one in there.devices if one.here), key=worth, default=None)


def _firm(folder: Path, ask: Ask) -> tuple[Named, Key]:
    firm = named_in(folder, FIRM)
    if firm is None:
        raise Refusal([_said("no_firm", file=str(folder / FIRM))])
    return firm, _opened(folder, FIRM, passphrase(ask, _asked("open")))


def _opened(folder: Path, name: str, secret: str) -> Key:
    """A private key, opened; it must be the one that its file says it is."""
    told = {"file": str(folder / name)}
    try:
        key = unlocked(locked_in(folder, name), secret)
    except KeyRefusedError:
        raise Refusal([_said("wrong_passphrase", **told)]) from None
    said = named_in(folder, name)
    if said is None or said.public != key.public:
        raise Refusal([_said("no_key_file", **told)])
    return key


def _keep(folder: Path, name: str, key: Key, called: str, secret: str) -> None:
    try:
        keep_key(folder, name, key, called, secret)
    except KeyRefusedError:
        raise Refusal([_said("short", least=LEAST_PASSPHRASE)]) from None


def _none_yet(folder: Path, name: str) -> None:
    there = named_in(folder, name)
    if there:
        told = {"file": str(folder / name), "name": there.name}
        raise Refusal([_said("there", **told)])


def _nameable(name: str) -> None:
    """A name that stands in one line and can be read."""
    if not name.strip() or len(name) > MOST_NAME or not name.isprintable():
        raise Refusal([_said("no_name", most=MOST_NAME)])


def _asked(key: str) -> Message:
    return Message(f"record.keys.ask.{key}")


def _said(key: str, /, **values: str | int) -> str:
    return say(Message(f"record.keys.{key}", values))
