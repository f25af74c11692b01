"""Files sealed, changed, withdrawn and unusable: the same for Python and for the page.

``python -m record.seal_cases`` from ``tests/`` writes them to ``tests/shared``; a test
holds that they are still what they were.
"""

import json
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from limen.record import certify, seal_paper, seal_record, withdraw
from limen.record.canonical import canonical
from limen.record.sealing import seal
from record.signing import CERTIFICATE, DEVICE, FIRM, SINCE, STRANGER, sealed

FILE = Path(__file__).parents[1] / "shared" / "seals.json"
PDF = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< >>\nendobj\nstartxref\n9\n%%EOF\n"
"""The least of what ends as a PDF does; no reader would show it."""
DEEP = b'{"record":' + b'{"a":' * 60 + b"1" + b"}" * 61


@dataclass(frozen=True, slots=True)
class Case:
    """A file, what is known of firms and devices, and what a check finds."""

    name: str
    file: bytes
    unchanged: bool
    where: str = ""
    trusted: bool | None = None
    firms: tuple[str, ...] = (FIRM.public,)
    withdrawn: tuple[bytes, ...] = ()


def _signed(plain: bytes) -> bytes:
    """Whatever text, sealed as if it were a good one."""
    tail = f',"seal":"{DEVICE.public}{DEVICE.sign(plain)}"}}'.encode()
    return plain[:-1] + tail


def _with(by: bytes, **more: str) -> bytes:
    return seal_record({"number": "main-0007", **more}, DEVICE, by)


def cases() -> Iterator[Case]:
    """All of them."""
    yield from _kept()
    yield from _changed()
    yield from _forms()
    yield from _texts()
    yield from _certificates()
    yield from _papers()


def _kept() -> Iterator[Case]:
    lost = withdraw(FIRM, DEVICE.public, "lost on the way", since=date(2026, 11, 26))
    stolen = withdraw(FIRM, DEVICE.public, "stolen", since=date(2026, 11, 20))
    other = withdraw(STRANGER, DEVICE.public, "malice", since=SINCE)
    broken = (lost[:-3] + b'0"}', b"", CERTIFICATE)
    one = sealed()
    yield Case("as it was sealed", one, unchanged=True, trusted=True)
    yield Case("of a firm unknown", one, unchanged=True, trusted=False, firms=())
    yield Case(
        "of a device lost", one, unchanged=True, trusted=False, withdrawn=(lost, stolen)
    )
    yield Case("called lost by another firm", one, True, "", True, withdrawn=(other,))
    yield Case("called lost by broken texts", one, True, "", True, withdrawn=broken)
    words = {"said": '€ \u2028 \x7f \U0001f600 "\\/\b\f\n\r\t \x01', "\ufb33": "1"}
    yield Case("with odd words", _with(CERTIFICATE, **words), True, "", True)


def _changed() -> Iterator[Case]:
    one = sealed()
    yield Case("one letter", one.replace(b"in use", b"in Use"), False, "seal")
    yield Case("one digit of the seal", _turned(one, len(one) - 9), False, "seal")
    yield Case("large digits in the seal", one[:-130] + one[-130:].upper(), False)
    yield Case("a byte that is no letter", one[:-9] + b"\xe9" + one[-8:], False, "seal")


def _forms() -> Iterator[Case]:
    one = sealed()
    yield Case("nothing", b"", False, "form")
    yield Case("a line more", one + b"\n", False, "form")
    yield Case("a space before", b" " + one, False, "seal")
    yield Case("a mark before", b"\xef\xbb\xbf" + one, False, "seal")
    yield Case("half of it", one[: len(one) // 2], False, "form")
    yield Case("no more than a seal", one[-205:], False, "seal")
    yield Case("any text", b"limen = 1", False, "form")
    yield Case("a certificate", CERTIFICATE, False, "form")
    lost = withdraw(FIRM, DEVICE.public, "lost", since=SINCE)
    yield Case("a withdrawal", lost, False, "form")


TEXTS = {
    "a space": b'{"record": {}}',
    "a key twice": b'{"record":{"a":1,"a":2}}',
    "a number written long": b'{"record":{"a":1.0}}',
    "minus nothing": b'{"record":{"a":-0}}',
    "a number too large": b'{"record":{"a":1e999}}',
    "a word for no number": b'{"record":{"a":NaN}}',
    "keys out of order": b'{"record":{"b":1,"a":2}}',
    "half a character": b'{"record":{"a":"\\ud800"}}',
    "no character": b'{"record":{"a":"\xff"}}',
    "a letter written long": b'{"record":{"a":"\\u0041"}}',
    "no table": b'{"record":[]}',
    "no record": b'{"other":{}}',
    "nothing between braces": b"{}",
    "a list": b"[1}",
    "too deep": DEEP,
}


def _texts() -> Iterator[Case]:
    for name, plain in TEXTS.items():
        yield Case(f"sealed with {name}", _signed(plain), False, "text")


def _certificates() -> Iterator[Case]:
    own = certify(STRANGER, "Weir & Söhne", DEVICE.public, "Tablet 3", since=SINCE)
    yield Case("of a firm that says it is another", _with(own), True, "", False)
    for name, by in _not_certificates().items():
        yield Case(f"with {name}", _with(by), False, "certificate")
    weak = "01" + "00" * 31
    said = {"kind": "certificate", "device": weak, "name": "", "firm_name": ""}
    by = seal({**said, "since": "2026-11-02"}, FIRM).decode()
    plain = canonical({"record": {"by": by, "said": "whatever"}})
    anybody = plain[:-1] + f',"seal":"{weak}{weak}{"00" * 32}"}}'.encode()
    yield Case("of a key that anybody can sign for", anybody, False, "seal")
    none = seal({"number": "main-0007"}, DEVICE)
    yield Case("without a certificate", none, False, "certificate")
    number = seal({"by": 7}, DEVICE)
    yield Case("with a number as certificate", number, False, "certificate")


def _not_certificates() -> dict[str, bytes]:
    said = {
        "kind": "certificate",
        "device": DEVICE.public,
        "name": "Tablet 3",
        "firm_name": "Weir & Söhne",
        "since": "2026-11-02",
    }
    return {
        "an empty certificate": b"",
        "the certificate of another device": certify(
            FIRM, "Weir & Söhne", STRANGER.public, "Tablet 4", since=SINCE
        ),
        "a changed certificate": CERTIFICATE.replace(b"Tablet 3", b"Tablet 4"),
        "a withdrawal as certificate": withdraw(FIRM, DEVICE.public, "", since=SINCE),
        "a certificate without a name": seal({**said, "name": None}, FIRM),
        "a certificate of no day": seal({**said, "since": "2026-02-30"}, FIRM),
        "a day written short": seal({**said, "since": "20261102"}, FIRM),
        "a day by its week": seal({**said, "since": "2026-W45-1"}, FIRM),
        "a year of nought": seal({**said, "since": "0000-01-01"}, FIRM),
    }


def _papers() -> Iterator[Case]:
    paper = seal_paper(PDF, DEVICE, CERTIFICATE)
    by, end = paper.index(b"%limen-by"), paper.index(b"startxref")
    yield Case("a sealed page", paper, True, "", True)
    yield Case("a page of lines ended twice", _paper(b"\r\n"), True, "", True)
    yield Case("a page without a seal", PDF, False, "form")
    yield Case("a page with more at its end", paper + b"\n", False, "form")
    yield Case("a page with less at its end", paper[:-1], False, "seal")
    yield Case("a page with another byte", _turned(paper, 12), False, "seal")
    yield Case("a page with another key", _turned(paper, end - 150), False)
    yield Case(
        "a page with another certificate", _turned(paper, by + 30), False, "seal"
    )
    twice = paper.replace(b"endobj\n", b"endobj\n%limen-seal \n", 1)
    yield Case("a page with two seals", twice, False, "form")
    split = paper[: by + 12] + b"\r" + paper[by + 13 :]
    yield Case("a page with a broken line", split, False, "form")
    yield Case("a page whose seal follows a word", paper[: by - 1] + paper[by:], False)
    lone = seal_paper(PDF, STRANGER, CERTIFICATE)
    yield Case("a page of another device", lone, False, "certificate")


def _paper(line: bytes) -> bytes:
    end = PDF.index(b"startxref")
    return seal_paper(PDF[:end] + PDF[end:].replace(b"\n", line), DEVICE, CERTIFICATE)


def _turned(file: bytes, at: int) -> bytes:
    return file[:at] + bytes([file[at] ^ 1]) + file[at + 1 :]


def as_json(one: Case) -> dict[str, object]:
    """A case as other programs read it."""
    return {
        "name": one.name,
        "file": b64encode(one.file).decode(),
        "firms": list(one.firms),
        "withdrawn": [b64encode(text).decode() for text in one.withdrawn],
        "unchanged": one.unchanged,
        "where": one.where,
        "trusted": one.trusted,
    }


if __name__ == "__main__":
    FILE.write_text(
        json.dumps([as_json(one) for one in cases()], indent=1, ensure_ascii=False)
        + "\n"
    )
