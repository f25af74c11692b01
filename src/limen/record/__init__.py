"""What was done and found at a door, frozen: canonical text, seal, and its check.

A sealed text is canonical JSON (RFC 8785) with an Ed25519 signature (RFC 8032) of its
own raw bytes.  The seal is checked before anything is parsed; then the text must be
its own canonical form, so that no byte can be changed, added or left out unnoticed.

A seal shows that a text is unchanged since it was sealed, and which key sealed it.  It
does not show that what the text says is true, nor when it was sealed: its time is the
signer's claim.
"""

from limen.record.certifying import Certificate, Withdrawal, certify, withdraw
from limen.record.keys import Key, new_key
from limen.record.paper import seal_paper
from limen.record.sealing import digest_of, seal_record
from limen.record.verifying import Signer, Verified, verify_bytes

__all__ = [
    "Certificate",
    "Key",
    "Signer",
    "Verified",
    "Withdrawal",
    "certify",
    "digest_of",
    "new_key",
    "seal_paper",
    "seal_record",
    "verify_bytes",
    "withdraw",
]
