"""Who sealed a record is what a firm says of its device, and nobody else."""

from datetime import date

import pytest

from limen.record import certify, seal_record, verify_bytes, withdraw
from limen.record.certifying import certificate_of, withdrawal_of
from limen.record.sealing import SealBrokenError
from record.signing import CERTIFICATE, DEVICE, FIRM, RECORD, SINCE, STRANGER, sealed


def test_a_certificate_says_what_the_firm_said() -> None:
    found = certificate_of(CERTIFICATE)
    assert (found.device, found.firm) == (DEVICE.public, FIRM.public)
    assert (found.name, found.since) == ("Tablet 3", SINCE)


def test_a_firm_that_is_not_known_here_is_not_trusted() -> None:
    found = verify_bytes(sealed())
    assert found.unchanged
    assert found.signer is not None
    assert not found.signer.trusted


def test_a_device_cannot_use_the_certificate_of_another() -> None:
    text = seal_record(RECORD, STRANGER, CERTIFICATE)  # pyright: ignore[reportArgumentType]
    found = verify_bytes(text, firms=[FIRM.public])
    assert (found.unchanged, found.where, found.signer) == (False, "certificate", None)


def test_a_device_that_certifies_itself_is_of_no_known_firm() -> None:
    own = certify(STRANGER, "Weir & Söhne", STRANGER.public, "Tablet 3", since=SINCE)
    found = verify_bytes(seal_record({"a": 1}, STRANGER, own), firms=[FIRM.public])
    assert found.unchanged
    assert found.signer is not None
    assert not found.signer.known


def test_a_lost_device_is_not_trusted_any_more() -> None:
    lost = withdraw(FIRM, DEVICE.public, "lost on the way", since=date(2026, 11, 26))
    found = verify_bytes(sealed(), firms=[FIRM.public], withdrawn=[lost])
    assert found.unchanged
    assert found.signer is not None
    assert found.signer.withdrawn == date(2026, 11, 26)
    assert not found.signer.trusted


def test_only_its_own_firm_can_withdraw_a_device() -> None:
    other = withdraw(STRANGER, DEVICE.public, "malice", since=date(2026, 11, 3))
    broken = withdraw(FIRM, DEVICE.public, "lost", since=SINCE)[:-3] + b'0"}'
    found = verify_bytes(sealed(), firms=[FIRM.public], withdrawn=[other, broken, b""])
    assert found.signer is not None
    assert found.signer.trusted


@pytest.mark.parametrize(
    "text", [CERTIFICATE, withdraw(FIRM, "0" * 64, "", since=SINCE)]
)
def test_what_a_firm_says_of_a_device_is_no_record(text: bytes) -> None:
    assert verify_bytes(text, firms=[FIRM.public]).where == "form"


def test_one_kind_is_not_read_as_the_other() -> None:
    with pytest.raises(SealBrokenError):
        withdrawal_of(CERTIFICATE)
    with pytest.raises(SealBrokenError):
        certificate_of(withdraw(FIRM, DEVICE.public, "lost", since=SINCE))


def test_a_record_without_a_certificate_has_no_signer() -> None:
    text = seal_record({}, DEVICE, b"")
    assert verify_bytes(text).where == "certificate"
