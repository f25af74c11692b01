"""What was handed to a journal is there again, wherever its writer was killed."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.store.journal import JournalHeldError, keep_only, open_journal

Fresh = Callable[[], Path]
KEPT = {"one-0": "first", "one-1": 'said "so"', "two-0": "é ✕"}


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Fresh:
    """A new folder whenever it is asked."""
    return lambda: tmp_path_factory.mktemp("journal")


def _written(folder: Path, name: str = "journal.txt") -> Path:
    path = folder / name
    journal = open_journal(path)
    journal.add(KEPT.items())
    journal.close()
    return path


def _read(path: Path) -> dict[str, str]:
    journal = open_journal(path)
    try:
        return {key: journal.said(key) for key in journal.places}
    finally:
        journal.close()


def test_what_was_added_is_found_when_it_is_opened_again(tmp_path: Path) -> None:
    assert _read(_written(tmp_path)) == KEPT


def test_the_last_line_under_a_key_counts(tmp_path: Path) -> None:
    path = _written(tmp_path)
    journal = open_journal(path)
    journal.add([("one-0", "second")])
    assert journal.said("one-0") == "second"
    journal.close()
    assert _read(path) == {**KEPT, "one-0": "second"}


@settings(max_examples=40)
@given(data=st.data())
def test_a_writer_killed_at_any_byte_loses_the_line_it_was_at(
    data: st.DataObject, fresh: Fresh
) -> None:
    path = _written(fresh())
    whole = path.read_bytes()
    cut = data.draw(st.integers(0, len(whole)))
    path.write_bytes(whole[:cut])
    ends = [at + 1 for at, byte in enumerate(whole) if byte == 0x0A]
    left = dict(list(KEPT.items())[: sum(end <= cut for end in ends)])
    assert _read(path) == left
    journal = open_journal(path)
    journal.add([("three-0", "after")])
    journal.close()
    assert _read(path) == {**left, "three-0": "after"}


@settings(max_examples=40)
@given(data=st.data())
def test_a_byte_that_changed_loses_its_line_and_is_never_another_text(
    data: st.DataObject, fresh: Fresh
) -> None:
    path = _written(fresh())
    whole = bytearray(path.read_bytes())
    at = data.draw(st.integers(0, len(whole) - 1))
    whole[at] ^= data.draw(st.integers(1, 255))
    path.write_bytes(whole)
    read = _read(path)
    assert read.items() <= KEPT.items()
    assert len(read) >= len(KEPT) - 2  # two where the end of a line was changed


def test_two_do_not_write_at_once(tmp_path: Path) -> None:
    pytest.importorskip("fcntl")
    path = _written(tmp_path)
    journal = open_journal(path)
    with pytest.raises(JournalHeldError):
        open_journal(path)
    journal.close()
    assert _read(path) == KEPT


def test_what_nobody_needs_is_forgotten(tmp_path: Path) -> None:
    path = _written(tmp_path)
    keep_only(open_journal(path), ["two-0", "one-1"])
    assert _read(path) == {"two-0": KEPT["two-0"], "one-1": KEPT["one-1"]}
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
