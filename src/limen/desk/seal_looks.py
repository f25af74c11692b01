"""Whether a file was sealed once: then one that fails its check was changed."""

from limen.record.paper import is_paper

_START, _SEAL, _ON_PAPER = b'{"record":', b'"seal":"', (b"%limen-by ", b"%limen-seal ")
_LONGEST_END = 10_000


def looks_sealed(file: bytes) -> bool:
    """Whether a file bears what looks like a seal, whole or not."""
    end = file[-_LONGEST_END:]
    if is_paper(file):
        return any(one in end for one in _ON_PAPER)
    return file.startswith(_START) or _SEAL in end
