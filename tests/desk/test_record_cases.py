"""Records that Python and the page share are still what they were."""

import pytest

from desk.record_cases import FOLDER, check_cases, texts


@pytest.mark.parametrize("name", sorted(texts()))
def test_shared_records_are_made_to_the_same_bytes(name: str) -> None:
    assert (FOLDER / name).read_text("utf-8") == texts()[name]


def test_a_changed_record_is_among_them_and_found_everywhere() -> None:
    states = {one["name"]: one["state"] for one in check_cases()}
    assert states["as it was sealed"] == "unchanged"
    assert states["of a firm unknown"] == "unknown"
    assert states["of a device withdrawn"] == "withdrawn"
    assert states["no record"] == "unusable"
    changed = {states[name] for name in states if name.startswith("changed")}
    assert changed == {"changed"}
