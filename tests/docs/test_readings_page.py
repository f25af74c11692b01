"""The page about readings lists every field, and its example is one that is read."""

import re

import pytest

from docs.fields import WHERE, tables
from health.tree import ROOT
from limen.model.readings import Readings
from limen.quantity import Grade
from limen.store.readingsfile import parse_readings
from limen.tune.fitting_given import KINDS, WITHIN

PAGE = (ROOT / "docs" / "readings.md").read_text(encoding="utf-8")


def test_the_page_names_every_part_of_a_readings_file() -> None:
    assert set(tables("readings")) == set(WHERE["readings"])


@pytest.mark.parametrize("part", WHERE["readings"])
def test_the_page_has_every_field_under_its_part(part: str) -> None:
    section = PAGE.partition(f"### `{WHERE['readings'][part]}`\n")[2]
    assert "\n".join(tables("readings")[part]) in section.partition("\n### ")[0]


def test_the_example_of_the_page_is_a_readings_file() -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    readings = parse_readings(example, name="the page")
    assert isinstance(readings, Readings)
    assert len(readings.unit[0].reading) == 4


@pytest.mark.parametrize("name", KINDS)
def test_the_page_says_within_what_each_kind_is_taken_to_be_read(name: str) -> None:
    within = WITHIN[KINDS[name]]
    row = next(line for line in PAGE.splitlines() if line.startswith(f"| `{name}` |"))
    assert f"{within.value * 1000:.0f} mm, *{within.grade}*" in row
    assert within.grade in (Grade.PRACTICE, Grade.ESTIMATE)
