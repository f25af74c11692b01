import hashlib
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from limen.quantity import Grade
from limen.rules import AskEdition, Rulebook, RulebookError
from limen.store.bookshelf import MOST_BYTES, RulebookNotFoundError, open_shelf

BOOK = """
id = "house"
edition = "1"
title = "House rules"
[[document]]
name = "House paper"
title = "An invented paper"
"""
TOPIC = """
[[rule]]
id = "house.1.presence.hold_time"
question = "presence.hold_time"
asks = "A still body stays found."
weight = "must"
limits = { hold = { unset = "nobody saw the figure" } }
source = { document = "House paper", clause = "tbc", grade = "unsure" }
"""
OWN = """
[[value]]
rule = "en.2012.presence.hold_time"
limit = "hold"
value = "60 s"
source = "own copy, page 12"
by = "R. Reader"
on = 2026-03-02
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of the user's with one rulebook."""
    house = tmp_path / "books" / "house" / "1"
    house.mkdir(parents=True)
    (house / "book.toml").write_text(BOOK, encoding="utf-8")
    (house / "10-presence.toml").write_text(TOPIC, encoding="utf-8")
    return tmp_path / "books"


@pytest.fixture
def own(tmp_path: Path) -> Path:
    file = tmp_path / "firm.toml"
    file.write_text(OWN, encoding="utf-8")
    return file


def why(folder: Path, *values_files: Path) -> str:
    with pytest.raises(RulebookError) as caught:
        open_shelf(folder, values_files).edition("house", "1")
    return str(caught.value)


def test_the_rulebooks_that_ship_are_found_by_name() -> None:
    shelf = open_shelf()
    assert shelf.names() == ("en", "us")
    assert [one.edition for one in shelf.editions("en")] == ["2012", "2023"]
    assert [one.edition for one in shelf.editions("us")] == ["2005"]


def test_a_folder_of_the_users_adds_a_rulebook_without_any_code(folder: Path) -> None:
    shelf = open_shelf(folder)
    assert shelf.names() == ("en", "house", "us")
    book = shelf.edition("house", "1")
    assert [rule.id for rule in book.rules] == ["house.1.presence.hold_time"]


def test_the_digest_is_that_of_the_files_one_after_the_other() -> None:
    place = files("limen").joinpath("rulebooks", "en", "2012")
    texts = sorted(
        (one.name, one.read_bytes())
        for one in place.iterdir()
        if one.name.endswith(".toml")
    )
    whole = b"".join(text for _, text in texts)
    digest = open_shelf().edition("en", "2012").digest
    assert digest == hashlib.sha256(whole).hexdigest()


def test_the_digest_changes_with_any_byte_of_a_file(folder: Path) -> None:
    before = open_shelf(folder).edition("house", "1").digest
    topic = folder / "house" / "1" / "10-presence.toml"
    topic.write_text(TOPIC + "# seen\n", encoding="utf-8")
    assert open_shelf(folder).edition("house", "1").digest != before


def test_what_is_not_on_the_shelf_is_said_with_what_is() -> None:
    with pytest.raises(RulebookNotFoundError, match="there are: en, us"):
        open_shelf().editions("fr")
    with pytest.raises(RulebookNotFoundError, match="there are: 2012, 2023"):
        open_shelf().edition("en", "1999")
    with pytest.raises(RulebookNotFoundError, match="there are: en, us"):
        open_shelf().for_door("../en", date(2020, 1, 1))


def test_an_edition_a_person_chose_goes_before_the_date() -> None:
    book = open_shelf().for_door("en", date(2024, 3, 1), edition="2012")
    assert isinstance(book, Rulebook)
    assert book.edition == "2012"


def test_a_date_that_does_not_settle_the_edition_is_a_question() -> None:
    assert isinstance(open_shelf().for_door("en", None), AskEdition)
    assert isinstance(open_shelf().for_door("us", date(1998, 1, 1)), AskEdition)
    assert isinstance(open_shelf().for_door("us", None), Rulebook)


def test_a_firms_figure_is_put_in_where_its_edition_is_used(own: Path) -> None:
    shelf = open_shelf(values_files=[own])
    old, new = shelf.edition("en", "2012"), shelf.edition("en", "2023")
    assert [one.new.value for one in old.overrides] == [60.0]
    assert old.overrides[0].new.grade is Grade.OWN
    assert old.digest == open_shelf().edition("en", "2012").digest
    assert not new.overrides


def test_a_figure_for_a_rulebook_that_is_not_there_is_refused(tmp_path: Path) -> None:
    stray = tmp_path / "stray.toml"
    stray.write_text(OWN.replace("en.2012", "en.2021"), encoding="utf-8")
    with pytest.raises(RulebookError, match=r"stray\.toml.*known: en\.2012, en\.2023"):
        open_shelf(values_files=[stray])


def test_a_limit_entered_in_two_files_is_refused(tmp_path: Path, own: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(OWN.replace("60 s", "30 s"), encoding="utf-8")
    with pytest.raises(RulebookError, match=r"stands in firm\.toml too"):
        open_shelf(values_files=[own, other])


def test_a_users_rulebook_may_not_hide_one_that_ships(folder: Path) -> None:
    (folder / "house").rename(folder / "en")
    (folder / "en" / "1").rename(folder / "en" / "2012")
    text = BOOK.replace('"house"', '"en"').replace('"1"', '"2012"')
    (folder / "en" / "2012" / "book.toml").write_text(text, encoding="utf-8")
    assert "en 2012: stands both in" in why(folder)


def test_a_folder_is_named_as_its_book_says(folder: Path) -> None:
    (folder / "house").rename(folder / "home")
    assert "says house/1; its folder is home/1" in why(folder)


def test_a_folder_without_a_book_is_no_rulebook(folder: Path) -> None:
    (folder / "drafts" / "1").mkdir(parents=True)
    (folder / "notes.txt").write_text("no folder", encoding="utf-8")
    assert open_shelf(folder).names() == ("en", "house", "us")


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (b"id = ", "is no TOML"),
        (b"\xff\xfe", "is no UTF-8 text"),
        (b"a = " + b"[" * 20_000, "is nested too deeply"),
        (b"a = " + b"9" * 5_000, "is no TOML"),
    ],
)
def test_a_file_that_is_no_toml_is_refused_by_name(
    folder: Path, text: bytes, reason: str
) -> None:
    (folder / "house" / "1" / "20-leaf.toml").write_bytes(text)
    assert f"20-leaf.toml: {reason}" in why(folder)


def test_all_broken_files_are_reported_at_once(folder: Path) -> None:
    for name in ("20-leaf.toml", "30-mounting.toml"):
        (folder / "house" / "1" / name).write_bytes(b"id = ")
    text = why(folder)
    assert "20-leaf.toml" in text
    assert "30-mounting.toml" in text


def test_a_file_beyond_all_size_is_refused_before_it_is_parsed(folder: Path) -> None:
    (folder / "house" / "1" / "20-leaf.toml").write_bytes(b"x" * (MOST_BYTES + 1))
    assert f"20-leaf.toml: is larger than {MOST_BYTES} bytes" in why(folder)
