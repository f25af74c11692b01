"""RFC 8032, Edwards-Curve Digital Signature Algorithm (EdDSA), January 2017.

Section 7.1, Ed25519, tests 1 to 3; section 5.1.7, a signature whose second half is not
below the group's order is refused.
"""

import pytest

from limen.record.keys import from_seed, signed

SECTION_7_1 = (
    (
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bac"
        "c61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ),
    (
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e"
        "458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ),
    (
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290"
        "ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ),
)
ORDER = 2**252 + 27742317777372353535851937790883648493
"""Of the group, section 5.1."""


@pytest.mark.parametrize(("secret", "public", "message", "signature"), SECTION_7_1)
def test_keys_sign_as_in_section_7_1(
    secret: str, public: str, message: str, signature: str
) -> None:
    key = from_seed(bytes.fromhex(secret))
    assert key.public == public
    assert key.sign(bytes.fromhex(message)) == signature
    assert signed(public, signature, bytes.fromhex(message))


@pytest.mark.parametrize(("secret", "public", "message", "signature"), SECTION_7_1)
def test_a_second_signature_of_the_same_is_refused(
    secret: str, public: str, message: str, signature: str
) -> None:
    half = int.from_bytes(bytes.fromhex(signature[64:]), "little") + ORDER
    other = signature[:64] + half.to_bytes(32, "little").hex()
    assert secret
    assert not signed(public, other, bytes.fromhex(message))
