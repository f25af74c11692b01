"""Keys that seal: made here, kept encrypted, known by their public half.

Source:
    RFC 8032, Edwards-Curve Digital Signature Algorithm (2017), Ed25519.
"""

from dataclasses import dataclass, field

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import (
    Ed25519PrivateKey,
    Ed25519PublicKey,
)
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    PrivateFormat,
    load_pem_private_key,
)

KEY_DIGITS, SEAL_DIGITS = 64, 128
LEAST_PASSPHRASE = 8

_SIGN_BIT = 0x80
WEAK = frozenset(
    {
        "0000000000000000000000000000000000000000000000000000000000000000",
        "0100000000000000000000000000000000000000000000000000000000000000",
        "26e8958fc2b227b045c3f489f2ef98f0d5dfac05d3c63339b13802886d53fc05",
        "c7176a703d4dd84fba3c0b760d10670f2a2053fa2c39ccc64ec7fd7792ac037a",
        "ecffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
        "edffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
        "eeffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff7f",
    }
)
"""Points of order 1, 2, 4 and 8, and the two that are them modulo the field's prime.

Nobody has their private half, and still a signature of each can be written that fits
one message in eight or all of them.  The last bit of a key, the sign of x, is left out.
"""


class KeyRefusedError(ValueError):
    """A key that cannot be opened: a wrong passphrase, or no such key."""


@dataclass(frozen=True, slots=True)
class Key:
    """A private key.

    Attributes:
        public: its public half, 64 hexadecimal digits.
    """

    public: str
    _private: Ed25519PrivateKey = field(repr=False, compare=False)

    def sign(self, message: bytes) -> str:
        """The signature of a message, 128 hexadecimal digits."""
        return self._private.sign(message).hex()

    def locked(self, passphrase: str) -> bytes:
        """The key as it is kept: PKCS 8, encrypted.

        Args:
            passphrase: at least 8 characters.

        Raises:
            KeyRefusedError: the passphrase is shorter.
        """
        if len(passphrase) < LEAST_PASSPHRASE:
            raise KeyRefusedError("passphrase")
        lock = BestAvailableEncryption(passphrase.encode())
        return self._private.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, lock)


def new_key() -> Key:
    """A key that nobody had before."""
    return _held(Ed25519PrivateKey.generate())


def unlocked(kept: bytes, passphrase: str) -> Key:
    """A key from how it is kept.

    Args:
        kept: what `Key.locked` gave.
        passphrase: what it was locked with.

    Raises:
        KeyRefusedError: the passphrase is another one, or that is no such key.
    """
    try:
        private = load_pem_private_key(kept, passphrase.encode())
    except (ValueError, TypeError) as error:
        raise KeyRefusedError("locked") from error
    if not isinstance(private, Ed25519PrivateKey):
        raise KeyRefusedError("kind")
    return _held(private)


def from_seed(seed: bytes) -> Key:
    """The key of 32 secret bytes, as RFC 8032 names them."""
    return _held(Ed25519PrivateKey.from_private_bytes(seed))


def signed(public: str, signature: str, message: bytes) -> bool:
    """Whether a signature of a message is of a key.

    Both must be written in small hexadecimal digits of their full length: a seal that
    can be written in two ways would be two seals.

    Args:
        public: the key's public half.
        signature: of the message.
        message: raw bytes.
    """
    if not usable(public) or not _digits(signature, SEAL_DIGITS):
        return False
    try:
        key = Ed25519PublicKey.from_public_bytes(bytes.fromhex(public))
        key.verify(bytes.fromhex(signature), message)
    except (InvalidSignature, ValueError):
        return False
    return True


def usable(public: str) -> bool:
    """Whether that is a public half which only its own private half can sign for."""
    if not _digits(public, KEY_DIGITS):
        return False
    last = int(public[-2:], 16) & ~_SIGN_BIT
    return f"{public[:-2]}{last:02x}" not in WEAK


def _held(private: Ed25519PrivateKey) -> Key:
    return Key(private.public_key().public_bytes_raw().hex(), private)


def _digits(text: str, many: int) -> bool:
    return len(text) == many and not set(text) - set("0123456789abcdef")
