"""The page of each rulebook and edition says what its data say.

If not: `./run docs` writes the pages anew.
"""

from pathlib import Path

import pytest

from health.tree import ROOT
from limen.desk.rulebook_pages import pages, write
from limen.store.bookshelf import open_shelf

FOLDER = ROOT / "docs" / "rulebooks"
SHELF = open_shelf()
PAGES = pages(SHELF)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_what_the_rulebook_says_today(name: str) -> None:
    assert (FOLDER / name).read_text(encoding="utf-8") == PAGES[name]


def test_there_is_a_page_for_each_rulebook_and_edition_and_no_other() -> None:
    assert {path.name for path in FOLDER.glob("*.md")} == PAGES.keys()


def test_every_page_is_on_the_way_through_the_documentation() -> None:
    config = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    assert [name for name in PAGES if f"rulebooks/{name}" not in config] == []


@pytest.mark.parametrize("key", [book.key for book in SHELF.books], ids=" ".join)
def test_a_page_has_every_rule_limit_clause_grade_note_and_worked_example(
    key: tuple[str, str],
) -> None:
    book = SHELF.edition(*key)
    touched = {one.rule for one in book.differences}
    text = PAGES["-".join(key) + ".md"]
    for rule in (one for one in book.rules if not book.base or one.id in touched):
        _, _, rest = text.partition(f"### `{rule.name}`\n")
        section = rest.partition("\n### ")[0]
        for said in (rule.asks, *(case.title for case in rule.cases)):
            assert said in section
        for name in (*rule.limits, *rule.unset):
            assert f"| {name.replace('_', ' ')} |" in section
        for source in rule.authorities():
            assert source.document in section
            assert source.note in section
            assert not source.clause_known or source.clause in section


def test_pages_of_rulebooks_that_are_gone_are_taken_away(tmp_path: Path) -> None:
    (tmp_path / "old-1999.md").write_text("gone", encoding="utf-8")
    assert {path.name for path in write(tmp_path)} == PAGES.keys()
    assert not (tmp_path / "old-1999.md").exists()
