"""A text with its seal: ``{"record":…,"seal":"<key><signature>"}``, all canonical.

The key and the signature are the last digits of the text, at places that are known
without reading it.  What is signed is the text without them, ``{"record":…}``.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256

from limen.record.canonical import (
    NotCanonicalError,
    Plain,
    Table,
    as_table,
    canonical,
    read,
)
from limen.record.keys import KEY_DIGITS, SEAL_DIGITS, Key, signed

_OPEN, _CLOSE = b',"seal":"', b'"}'
_TAIL = len(_OPEN) + KEY_DIGITS + SEAL_DIGITS + len(_CLOSE)


class SealBrokenError(ValueError):
    """A text that is not what was sealed.

    Attributes:
        where: ``form`` if there is no seal where one stands, ``seal`` if the text and
            its seal are not of each other, ``text`` if the text is not canonical.
    """

    def __init__(self, where: str) -> None:
        """The place at which it is broken."""
        super().__init__(where)
        self.where = where


@dataclass(frozen=True, slots=True)
class Sealed:
    """What was sealed, and by which key (its public half)."""

    record: Table
    key: str


def seal(record: Mapping[str, Plain], key: Key) -> bytes:
    """A table, sealed.

    Raises:
        NotCanonicalError: it has no canonical text.
    """
    plain = canonical({"record": record})
    sealed = key.public + key.sign(plain)
    return plain[:-1] + _OPEN + sealed.encode("ascii") + _CLOSE


def opened(text: bytes) -> Sealed:
    """What a sealed text says, once its seal has been checked.

    The signature is checked on the raw bytes before they are parsed.

    Raises:
        SealBrokenError: the text is not what was sealed.
    """
    body, tail = text[:-_TAIL], text[-_TAIL:]
    if not (tail.startswith(_OPEN) and tail.endswith(_CLOSE)):
        raise SealBrokenError("form")
    try:
        digits = tail[len(_OPEN) : -len(_CLOSE)].decode("ascii")
    except UnicodeDecodeError as error:
        raise SealBrokenError("seal") from error
    key, signature = digits[:KEY_DIGITS], digits[KEY_DIGITS:]
    if not signed(key, signature, body + b"}"):
        raise SealBrokenError("seal")
    try:
        return Sealed(as_table(read(body + b"}").get("record")), key)
    except NotCanonicalError as error:
        raise SealBrokenError("text") from error


def seal_record(record: Mapping[str, Plain], key: Key, certificate: bytes) -> bytes:
    """A record, sealed by a device.

    Args:
        record: what was done and found.
        key: of the device.
        certificate: sealed by the firm; see `limen.record.certifying`.

    Raises:
        NotCanonicalError: the record has no canonical text.
    """
    return seal({**record, "by": certificate.decode("utf-8")}, key)


def digest_of(sealed: bytes) -> str:
    """What names a sealed text: the SHA-256 of all its bytes, in hexadecimal."""
    return sha256(sealed).hexdigest()
