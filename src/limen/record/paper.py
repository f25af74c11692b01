"""A printed record with a seal over the whole file, every byte of it.

The seal stands in two comments before ``startxref``, the last lines that a reader of
PDF looks for: the certificate, and the key with a hole of 128 digits.  Signed is the
whole file with zeros in the hole; so whatever is changed or appended is found, padding
included.
"""

import re
from dataclasses import dataclass

from limen.record.keys import KEY_DIGITS, SEAL_DIGITS, Key, signed
from limen.record.sealing import SealBrokenError

_BY, _SEAL = b"%limen-by ", b"%limen-seal "
_HOLE = b"0" * SEAL_DIGITS
_END = re.compile(rb"startxref\r?\n\d{1,19}\r?\n%%EOF(?:\r?\n|\r)?\Z")
_LINES = re.compile(
    rb"^%limen-by ([^\r\n]*)\n%limen-seal ([0-9a-f]{64})([0-9a-f]{128})\n\Z",
    re.MULTILINE,
)


class NoPaperError(ValueError):
    """What is to be sealed is no PDF that ends as one does."""


@dataclass(frozen=True, slots=True)
class Paper:
    """What is sealed on a file: by which key, and the certificate beside it."""

    key: str
    certificate: bytes


def is_paper(file: bytes) -> bool:
    """Whether a file says of itself that it is a PDF."""
    return file.startswith(b"%PDF-")


def seal_paper(file: bytes, key: Key, certificate: bytes) -> bytes:
    """A PDF with a seal over all of it.

    Args:
        file: the PDF, not sealed yet.
        key: of the device.
        certificate: sealed by the firm.

    Raises:
        NoPaperError: it is no PDF, or bears a seal already.
    """
    end = _END.search(file)
    if not is_paper(file) or end is None or _SEAL in file:
        raise NoPaperError("paper")
    head = file[: end.start()] + _BY + certificate + b"\n"
    head += _SEAL + key.public.encode("ascii")
    tail = b"\n" + file[end.start() :]
    signature = key.sign(head + _HOLE + tail)
    return head + signature.encode("ascii") + tail


def opened_paper(file: bytes) -> Paper:
    """What is sealed on a PDF, its seal checked.

    Raises:
        SealBrokenError: the file is not what was sealed, or was not sealed.
    """
    end = _END.search(file)
    if not is_paper(file) or end is None:
        raise SealBrokenError("form")
    found = _LINES.search(file, max(0, file.rfind(_BY)), end.start())
    if found is None or file.count(_SEAL) != 1:
        raise SealBrokenError("form")
    hole = found.start(3)
    plain = file[:hole] + _HOLE + file[hole + SEAL_DIGITS :]
    key = found[2].decode("ascii")
    assert len(key) == KEY_DIGITS  # noqa: S101  # as the pattern says
    if not signed(key, found[3].decode("ascii"), plain):
        raise SealBrokenError("seal")
    return Paper(key, found[1])
