"""FIPS 180-4, Secure Hash Standard, August 2015; NIST's example values of SHA-256."""

import pytest

from limen.record.sealing import digest_of

EXAMPLES = (
    (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
    (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
    (
        b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ),
    (
        b"a" * 1_000_000,
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
    ),
)


@pytest.mark.parametrize(("text", "digest"), EXAMPLES)
def test_a_digest_is_the_standards(text: bytes, digest: str) -> None:
    assert digest_of(text) == digest
