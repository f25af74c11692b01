"""The faults of a file, line by line, in the reader's language."""

from collections.abc import Iterator

from limen.findings import Message
from limen.store.faults import MOST_LISTED, Fault, FileFaults, printable
from limen.store.sitefile import SiteFaults
from limen.words import retold, say, say_count

LONGEST_NAME = 200
NAMED = 9
"""Letters that stand before what is known of a fault, at the least."""


def faults_told(faults: FileFaults) -> tuple[str, ...]:
    """All faults of a file, ready to print one below the other.

    Args:
        faults: as a reading room found them.

    Returns:
        Line by line, file by file; in English the very lines of the faults themselves.
    """
    parts = faults.parts if isinstance(faults, SiteFaults) else (faults,)
    return tuple(line for part in parts for line in _of_file(part))


def _of_file(faults: FileFaults) -> tuple[str, ...]:
    count = len(faults.faults)
    name = printable(faults.file, LONGEST_NAME)
    first = f"{name}: {say_count('file_faults.count', count)}"
    listed = [line for one in faults.faults[:MOST_LISTED] for line in _lines(one)]
    more = count - MOST_LISTED
    rest = [f"  … {_say('more', count=more)}"] if more > 0 else []
    return (first, *listed, *rest)


def _lines(fault: Fault) -> Iterator[str]:
    where = _say("line", number=fault.line) if fault.line else _say("file")
    place = f"{where} · {retold(fault.key)}" if fault.key else where
    yield "  " + _say("why", place=place, why=retold(fault.why))
    for name, text in (
        ("found", fault.found),
        ("accepted", retold(fault.accepted)),
        ("example", fault.example),
    ):
        if text:
            yield f"    {_say(name):<{NAMED}} {text}"


def _say(key: str, **values: str | int) -> str:
    return say(Message(f"file_faults.{key}", values))
