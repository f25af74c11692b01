"""What is shared with the page says of each file what Python says of it."""

import json

import pytest

from limen.record import verify_bytes
from record.seal_cases import FILE, Case, as_json, cases

ALL = list(cases())


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_each_file_is_found_as_it_is_said(one: Case) -> None:
    found = verify_bytes(one.file, firms=one.firms, withdrawn=one.withdrawn)
    assert found.unchanged == one.unchanged
    if one.where:
        assert found.where == one.where
    trusted = None if found.signer is None else found.signer.trusted
    assert trusted == one.trusted


def test_the_page_is_held_to_the_same_files() -> None:
    assert json.loads(FILE.read_text()) == [as_json(one) for one in ALL]


def test_no_two_are_called_alike() -> None:
    assert len({one.name for one in ALL}) == len(ALL)
