"""A firm says of a device's key that it is the firm's, and later that it no longer is.

Both are sealed texts of the firm's own key.  Who knows the firm's public key can check
every record of its devices without asking anybody.
"""

from dataclasses import dataclass
from datetime import date

from limen.record.canonical import Table
from limen.record.keys import Key, KeyRefusedError, usable
from limen.record.sealing import SealBrokenError, opened, seal

CERTIFICATE, WITHDRAWAL = "certificate", "withdrawal"


@dataclass(frozen=True, slots=True)
class Certificate:
    """What a firm says of a device.

    Attributes:
        device: public half of the device's key.
        name: of the device, as the firm calls it.
        firm: public half of the firm's key.
        firm_name: of the firm.
        since: from which day on.
    """

    device: str
    name: str
    firm: str
    firm_name: str
    since: date


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """A device that the firm no longer answers for: lost, stolen, given away.

    Attributes:
        device: public half of the device's key.
        firm: public half of the firm's key.
        since: from which day on.
        because: why, in the firm's words.
    """

    device: str
    firm: str
    since: date
    because: str


def certify(firm: Key, firm_name: str, device: str, name: str, *, since: date) -> bytes:
    """A device's certificate, sealed by its firm.

    Args:
        firm: the firm's key.
        firm_name: its name.
        device: public half of the device's key.
        name: of the device.
        since: from which day on.

    Raises:
        KeyRefusedError: that is no public half of a key, or one that anybody can sign
            for.
    """
    if not usable(device):
        raise KeyRefusedError("device")
    return seal(
        {
            "kind": CERTIFICATE,
            "device": device,
            "name": name,
            "firm_name": firm_name,
            "since": since.isoformat(),
        },
        firm,
    )


def withdraw(firm: Key, device: str, because: str, *, since: date) -> bytes:
    """The withdrawal of a device, sealed by its firm."""
    return seal(
        {
            "kind": WITHDRAWAL,
            "device": device,
            "because": because,
            "since": since.isoformat(),
        },
        firm,
    )


def certificate_of(sealed: bytes) -> Certificate:
    """What a certificate says, its seal checked.

    Raises:
        SealBrokenError: it is not what was sealed, or no certificate.
    """
    said, firm = _of_kind(sealed, CERTIFICATE)
    return Certificate(
        _word(said, "device"),
        _word(said, "name"),
        firm,
        _word(said, "firm_name"),
        _day(said),
    )


def withdrawal_of(sealed: bytes) -> Withdrawal:
    """What a withdrawal says, its seal checked.

    Raises:
        SealBrokenError: it is not what was sealed, or no withdrawal.
    """
    said, firm = _of_kind(sealed, WITHDRAWAL)
    return Withdrawal(_word(said, "device"), firm, _day(said), _word(said, "because"))


def _of_kind(sealed: bytes, kind: str) -> tuple[Table, str]:
    found = opened(sealed)
    if found.record.get("kind") != kind:
        raise SealBrokenError("form")
    return found.record, found.key


def _word(said: Table, key: str) -> str:
    word = said.get(key)
    if not isinstance(word, str):
        raise SealBrokenError("form")
    return word


def _day(said: Table) -> date:
    """A day in the one way in which it is written here: 2026-11-02."""
    word = _word(said, "since")
    try:
        day = date.fromisoformat(word)
    except ValueError as error:
        raise SealBrokenError("form") from error
    if day.isoformat() != word:
        raise SealBrokenError("form")
    return day
