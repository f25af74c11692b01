"""The page for the technician shows what the survey asks, and what it takes."""

import re
from pathlib import Path

import pytest

from health.tree import ROOT
from limen.desk.survey import DOOR
from limen.model.taken import taken_for
from limen.quantity import Dimension, Quantity, write
from limen.store.short import CLEAR_HEIGHT, FACE
from limen.store.sitefile import parse_site
from limen.words import catalogue

PAGE = (ROOT / "docs" / "survey.md").read_text(encoding="utf-8")
TOPICS = tuple(
    dict.fromkeys(re.sub("_(outside|inside|left|right)$", "", key) for key in DOOR)
)
SIDED = re.compile(r",? ?\{side\}")


def _example() -> str:
    (found,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    return str(found)


@pytest.mark.parametrize("topic", TOPICS)
@pytest.mark.parametrize("part", ["how", "accepts", "help", "picture"])
def test_the_page_says_what_the_survey_says(topic: str, part: str) -> None:
    sentence = catalogue("en").sentences.get(f"survey.{topic}.{part}")
    if sentence is None:
        assert part == "picture"
        return
    assert SIDED.sub("", sentence) in PAGE


def test_the_example_of_the_page_can_be_read() -> None:
    door = parse_site(_example(), Path("door.toml")).site.doorway[0]
    assert len(dict(taken_for(door))) == 6


def test_the_page_says_what_is_taken() -> None:
    table = PAGE.partition("| taken | value |")[2]
    door = parse_site(_example(), Path("door.toml")).site.doorway[0]
    for value in (door.leaves.thickness, Quantity(CLEAR_HEIGHT), Quantity(FACE)):
        assert write(value, Dimension.LENGTH).partition(",")[0] in table
    for value in (door.clear_height, door.header.outside):
        assert f"± {write(Quantity(value.u), Dimension.LENGTH)}" in table


def test_another_sentence_would_be_missed() -> None:
    assert "Tape the widest free width" not in PAGE
