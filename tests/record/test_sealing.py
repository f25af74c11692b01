"""A sealed text is one text, and no byte of it can be another one."""

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.record import seal_record, verify_bytes
from limen.record.canonical import NotCanonicalError, canonical
from limen.record.keys import KeyRefusedError, unlocked
from record.signing import CERTIFICATE, DEVICE, FIRM, RECORD, STRANGER, sealed

JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53) + 1, 2**53 - 1)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["Cs"])),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(st.characters(exclude_categories=["Cs"])), inner)
    ),
    max_leaves=12,
)


def test_what_was_sealed_is_unchanged_and_says_who_sealed_it() -> None:
    found = verify_bytes(sealed(), firms=[FIRM.public])
    assert found.unchanged
    assert found.where == ""
    assert found.signer is not None
    assert found.signer.trusted
    assert (found.signer.firm, found.signer.device) == ("Weir & Söhne", "Tablet 3")
    assert found.record is not None
    assert found.record["steps"] == RECORD["steps"]


def test_a_sealed_text_is_canonical_json() -> None:
    text = sealed()
    assert canonical(json.loads(text)) == text


def test_every_single_byte_counts() -> None:
    """Each byte of the text with one bit turned, taken out, or doubled."""
    text = sealed()
    for place, byte in enumerate(text):
        head, tail = text[:place], text[place + 1 :]
        for other in (bytes([byte ^ 1]), bytes([byte ^ 0x20]), b"", bytes([byte] * 2)):
            assert not verify_bytes(head + other + tail).unchanged, (place, other)


@pytest.mark.slow
def test_every_single_byte_counts_whatever_it_becomes() -> None:
    """Up to 20 kB: every byte of a long text as each of the 255 others would take
    hours, so every byte as eight others, one bit turned in each."""
    text = sealed(note="x" * 19_000)
    for place, byte in enumerate(text):
        for bit in range(8):
            other = text[:place] + bytes([byte ^ (1 << bit)]) + text[place + 1 :]
            assert not verify_bytes(other).unchanged, (place, bit)


@pytest.mark.parametrize(
    "dress",
    [
        lambda text: text + b"\n",
        lambda text: b" " + text,
        lambda text: b"\xef\xbb\xbf" + text,
        lambda text: text.replace(b'"doorway"', b'"doorwa\\u0079"'),
        lambda text: text.replace(b":[", b": ["),
        lambda text: text[:-2].upper()[-10:].join([text[:-12], b'"}']),
        lambda text: text + text,
        lambda text: text[: len(text) // 2],
        lambda _: b"",
    ],
)
def test_the_same_said_otherwise_is_not_what_was_sealed(dress: Any) -> None:
    text = sealed()
    other = dress(text)
    assert other != text
    assert not verify_bytes(other).unchanged


def test_a_text_that_is_signed_and_not_canonical_is_refused() -> None:
    """The seal alone is not enough: one could sign what reads in two ways."""
    for plain in (
        b'{"record": {}}',
        b'{"record":{"a":1,"a":2}}',
        b'{"record":{"a":1.0}}',
    ):
        tail = f',"seal":"{DEVICE.public}{DEVICE.sign(plain)}"}}'.encode()
        found = verify_bytes(plain[:-1] + tail)
        assert (found.unchanged, found.where) == (False, "text")


@given(st.binary(max_size=300))
def test_any_bytes_are_answered(junk: bytes) -> None:
    assert not verify_bytes(junk).unchanged
    assert not verify_bytes(b"%PDF-1.7\n" + junk).unchanged


def test_a_text_made_to_exhaust_its_reader_is_answered() -> None:
    plain = b'{"record":' + b'{"a":' * 30_000 + b"1" + b"}" * 30_001
    tail = f',"seal":"{DEVICE.public}{DEVICE.sign(plain)}"}}'.encode()
    assert verify_bytes(plain[:-1] + tail).where == "text"


@given(st.dictionaries(st.text(st.characters(exclude_categories=["Cs"])), JSON))
def test_whatever_json_can_say_can_be_sealed(said: dict[str, Any]) -> None:
    said.pop("by", None)
    said.pop("kind", None)
    found = verify_bytes(seal_record(said, DEVICE, CERTIFICATE))
    assert found.unchanged
    assert found.record is not None
    again = {key: value for key, value in found.record.items() if key != "by"}
    assert canonical(again) == canonical(said)  # pyright: ignore[reportArgumentType]


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 2**60, "\ud800"])
def test_what_has_no_text_cannot_be_sealed(value: Any) -> None:
    with pytest.raises(NotCanonicalError):
        seal_record({"value": value}, DEVICE, CERTIFICATE)


def test_a_key_is_kept_locked() -> None:
    kept = STRANGER.locked("a long enough one")
    assert b"ENCRYPTED" in kept
    assert unlocked(kept, "a long enough one") == STRANGER
    with pytest.raises(KeyRefusedError):
        unlocked(kept, "another one")
    with pytest.raises(KeyRefusedError):
        STRANGER.locked("short")
