"""Whether a file is what was sealed, and who sealed it."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import date

from limen.record.canonical import Table
from limen.record.certifying import (
    CERTIFICATE,
    WITHDRAWAL,
    Certificate,
    Withdrawal,
    certificate_of,
    withdrawal_of,
)
from limen.record.paper import is_paper, opened_paper
from limen.record.sealing import SealBrokenError, digest_of, opened

LARGEST = 200_000_000
"""Bytes of a file that is checked."""


@dataclass(frozen=True, slots=True)
class Signer:
    """Who sealed a file, as its firm says.

    Attributes:
        device: name of the device.
        firm: name of the firm.
        key: public half of the device's key.
        firm_key: public half of the firm's key.
        known: whether the firm's key is among those that are known here.
        withdrawn: from which day on the firm no longer answers for the device.
    """

    device: str
    firm: str
    key: str
    firm_key: str
    known: bool = False
    withdrawn: date | None = None

    @property
    def trusted(self) -> bool:
        """Whether a firm that is known here answers for the device."""
        return self.known and self.withdrawn is None


@dataclass(frozen=True, slots=True)
class Verified:
    """What the check of a file found.

    Attributes:
        unchanged: whether every byte is as it was when it was sealed.
        where: at what it failed: ``form``, ``seal``, ``text``, ``certificate``, or
            ``size``; empty if it did not.
        signer: who sealed it; None if that is not shown.
        record: what a sealed text says; None of a PDF, and where something failed.
        digest: SHA-256 of the whole file.
    """

    unchanged: bool
    where: str = ""
    signer: Signer | None = None
    record: Table | None = field(default=None, repr=False)
    digest: str = ""


def verify_bytes(
    file: bytes, *, firms: Collection[str] = (), withdrawn: Iterable[bytes] = ()
) -> Verified:
    """Whether a sealed text or a sealed PDF is what was sealed.  Never raises.

    Args:
        file: its bytes.
        firms: public halves of the firms' keys that are known here.
        withdrawn: withdrawals of devices, as their firms sealed them; one that is
            broken withdraws nothing.

    Returns:
        What was found.  A device that its firm withdrew is not trusted for any day:
        when a file was sealed is the signer's claim.
    """
    try:
        return _verified(file, firms, tuple(_readable(withdrawn)))
    except SealBrokenError as broken:
        return Verified(unchanged=False, where=broken.where, digest=digest_of(file))
    except Exception:  # noqa: BLE001  # whatever a hostile file brings about
        return Verified(unchanged=False, where="form")


def _verified(
    file: bytes, firms: Collection[str], withdrawn: tuple[Withdrawal, ...]
) -> Verified:
    if len(file) > LARGEST:
        raise SealBrokenError("size")
    record: Table | None = None
    if is_paper(file):
        paper = opened_paper(file)
        key, sealed = paper.key, paper.certificate
    else:
        found = opened(file)
        key, record = found.key, found.record
        sealed = _beside(record)
    certificate = _certificate(sealed, key)
    signer = _signer(certificate, firms, withdrawn)
    return Verified(
        unchanged=True, signer=signer, record=record, digest=digest_of(file)
    )


def _beside(record: Table) -> bytes:
    """The certificate that a record carries."""
    if record.get("kind") in (CERTIFICATE, WITHDRAWAL):
        raise SealBrokenError("form")
    by = record.get("by")
    if not isinstance(by, str):
        raise SealBrokenError("certificate")
    return by.encode("utf-8")


def _certificate(sealed: bytes, key: str) -> Certificate:
    """The certificate of the very key that sealed the file."""
    try:
        found = certificate_of(sealed)
    except SealBrokenError as error:
        raise SealBrokenError("certificate") from error
    if found.device != key:
        raise SealBrokenError("certificate")
    return found


def _signer(
    one: Certificate, firms: Collection[str], withdrawn: tuple[Withdrawal, ...]
) -> Signer:
    days = [w.since for w in withdrawn if (w.device, w.firm) == (one.device, one.firm)]
    return Signer(
        one.name,
        one.firm_name,
        one.device,
        one.firm,
        one.firm in firms,
        min(days, default=None),
    )


def _readable(sealed: Iterable[bytes]) -> Iterable[Withdrawal]:
    for one in sealed:
        try:
            yield withdrawal_of(one)
        except SealBrokenError:
            continue
