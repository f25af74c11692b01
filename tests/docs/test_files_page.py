"""The page about files lists every field as the published schema has it."""

import pytest

from docs.fields import WHERE, tables
from health.tree import ROOT
from limen.questions import QUESTIONS
from limen.store.schema import Kind

PAGE = ROOT / "docs" / "files.md"
KINDS: tuple[Kind, ...] = ("site", "sheet")


@pytest.mark.parametrize("kind", KINDS)
def test_the_page_names_every_part_of_a_file(kind: Kind) -> None:
    assert set(tables(kind)) == set(WHERE[kind])


@pytest.mark.parametrize("kind", KINDS)
def test_the_page_has_every_field_under_its_part(kind: Kind) -> None:
    page = PAGE.read_text(encoding="utf-8")
    missing = [
        f"{part or kind}: {lines}"
        for part, lines in tables(kind).items()
        if "\n".join(lines) not in _section(page, WHERE[kind][part])
    ]
    assert missing == []


@pytest.mark.parametrize("question", QUESTIONS)
def test_the_page_says_where_each_question_looks(question: str) -> None:
    rows = PAGE.read_text(encoding="utf-8").partition("| question |")[2]
    assert f"`{question}`" in rows.partition("\n\n")[0]


def test_a_section_of_the_page_ends_at_the_next_heading() -> None:
    assert _section("### `a`\none\n### `b`\ntwo\n", "a").strip() == "one"


def _section(page: str, title: str) -> str:
    _, _, rest = page.partition(f"### `{title}`\n")
    return rest.partition("\n### ")[0].partition("\n## ")[0]
