"""Every public thing of the core says what it computes."""

from health.docstrings import faults, public
from health.tree import CORE, parsed, room, short, sources


def test_public_things_of_the_core_are_described_as_they_are() -> None:
    found = [
        f"{short(path)}:{fault}"
        for path in sources()
        if room(path) in CORE
        for node in public(parsed(path))
        for fault in faults(node)
    ]
    assert found == []
