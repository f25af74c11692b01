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
SHIPPED = ("au", "de", "en", "fr", "uk", "us")
OVERLAY = """
id = "shop"
base = "house"
title = "Shop rules"
[[document]]
name = "Shop paper"
title = "Another invented paper"
"""
LAYER = """
[[rule]]
id = "shop.presence.hold_time"
question = "presence.hold_time"
over = "presence.hold_time"
limits = { hold = "40 s" }
source = { document = "Shop paper", clause = "3", grade = "memory" }
[[rule.case]]
title = "40 s"
says = "holds"
given = { limit = "hold", found = "40 s", compare = "at least" }
[[rule.case]]
title = "39 s"
says = "fails"
given = { limit = "hold", found = "39 s", compare = "at least" }
"""


@pytest.fixture
def shop(folder: Path) -> Path:
    """A folder of the user's with an overlay beside its base."""
    (folder / "shop").mkdir()
    (folder / "shop" / "overlay.toml").write_text(OVERLAY, encoding="utf-8")
    (folder / "shop" / "20-hold.toml").write_text(LAYER, encoding="utf-8")
    return folder


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
    assert shelf.names() == SHIPPED
    assert [one.edition for one in shelf.editions("en")] == ["2012", "2023"]
    assert [one.edition for one in shelf.editions("us")] == ["2005"]


def test_a_folder_of_the_users_adds_a_rulebook_without_any_code(folder: Path) -> None:
    shelf = open_shelf(folder)
    assert shelf.names() == tuple(sorted((*SHIPPED, "house")))
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
    with pytest.raises(RulebookNotFoundError, match="are: au, de, en, fr, uk, us"):
        open_shelf().editions("xx")
    with pytest.raises(RulebookNotFoundError, match="there are: 2012, 2023"):
        open_shelf().edition("en", "1999")
    with pytest.raises(RulebookNotFoundError, match="are: au, de, en, fr, uk, us"):
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
    with pytest.raises(RulebookError, match=r"stray\.toml.*: .*en\.2012, en\.2023"):
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
    assert open_shelf(folder).names() == tuple(sorted((*SHIPPED, "house")))


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


def test_an_overlay_has_the_editions_of_its_base_and_lays_its_figures_on_it(
    shop: Path,
) -> None:
    shelf = open_shelf(shop)
    assert [one.edition for one in shelf.editions("shop")] == ["1"]
    assert shelf.edition("house", "1").rules[0].unset
    (rule,) = shelf.edition("shop", "1").rules
    assert rule.id == "shop.1.presence.hold_time"
    assert rule.limit("hold").value == 40.0


@pytest.mark.parametrize("name", ["de", "uk", "fr", "au"])
def test_an_overlay_takes_its_edition_from_the_day_of_commissioning(name: str) -> None:
    shelf = open_shelf()
    for day, edition in ((date(2015, 5, 1), "2012"), (date(2024, 9, 1), "2023")):
        book = shelf.for_door(name, day)
        assert isinstance(book, Rulebook)
        assert (book.id, book.edition, book.base) == (name, edition, "en")
    asked = shelf.for_door(name, date(2024, 3, 1))
    assert isinstance(asked, AskEdition)
    assert asked.rulebook == name


def test_the_digest_of_an_overlay_changes_with_its_files_and_with_its_bases(
    shop: Path,
) -> None:
    digests = {open_shelf(shop).edition("shop", "1").digest}
    for file in ("shop/20-hold.toml", "house/1/10-presence.toml"):
        text = (shop / file).read_text(encoding="utf-8")
        (shop / file).write_text(f"{text}# seen\n", encoding="utf-8")
        digests.add(open_shelf(shop).edition("shop", "1").digest)
    assert len(digests) == 3


def test_a_firms_figure_for_the_base_counts_under_the_overlay_if_stricter(
    own: Path,
) -> None:
    book = open_shelf(values_files=[own]).edition("de", "2012")
    held = next(one for one in book.rules if one.question == "presence.hold_time")
    assert held.limit("hold").value == 60.0
    assert [one.rule for one in book.overrides] == ["en.2012.presence.hold_time"]


@pytest.mark.parametrize(
    ("file", "old", "new", "reason"),
    [
        ("overlay.toml", '"house"', '"home"', "no rulebook that stands by itself"),
        ("overlay.toml", '"house"', '"de"', "no rulebook that stands by itself"),
        ("overlay.toml", 'id = "shop"', 'id = "store"', "its folder is shop"),
        ("20-hold.toml", '"40 s"', '"40"', "a bare number has no unit"),
    ],
)
def test_what_is_wrong_with_an_overlay_is_said(
    shop: Path, file: str, old: str, new: str, reason: str
) -> None:
    path = shop / "shop" / file
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), "utf-8")
    with pytest.raises(RulebookError, match=reason):
        open_shelf(shop).edition("shop", "1")
