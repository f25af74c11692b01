"""The same doorway, rulebook and date give the same study, always."""

from health.calls import unsteady
from health.tree import parsed, room, short, sources


def test_only_the_desk_asks_what_time_it_is() -> None:
    found = {
        f"{short(path)}:{call}"
        for path in sources()
        if room(path) != "desk"
        for call in unsteady(parsed(path))
    }
    assert found == set()
