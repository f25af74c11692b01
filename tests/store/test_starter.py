"""A new site file explains itself and checks as it is."""

import tomllib
from pathlib import Path

from limen.desk.checking import study
from limen.findings import Verdict
from limen.store.sitefile import parse_site
from limen.store.starter import starter_text

LONGEST = 88


def test_the_starter_reads_without_a_fault() -> None:
    read = parse_site(starter_text(), Path("new.toml"))
    assert [door.id for door in read.site.doorway] == ["main"]


def test_the_starter_gives_real_findings_at_once() -> None:
    site = parse_site(starter_text(), Path("new.toml")).site
    found = study(site.doorway[0], "en", site=site)
    verdicts = {finding.verdict for finding in found.findings}
    assert {Verdict.HOLDS, Verdict.FAILS, Verdict.NOT_SHOWN} <= verdicts


def test_what_is_commented_out_reads_too() -> None:
    text = starter_text()
    lines = [_opened(line) for line in text.splitlines()]
    both = "\n".join(lines)
    read = parse_site(both, Path("new.toml"))
    door = read.site.doorway[0]
    assert door.reduced_width is not None
    assert door.leaves.mass is not None
    assert door.fitting[0].read.first_row is not None
    assert door.motion.closing_runs
    assert door.operator.inputs
    assert door.exposure.outside is not None
    assert door.marking.signs is not None
    assert door.fitting[0].settings.radar_tilt is not None
    assert tomllib.loads(both) != tomllib.loads(text)


def test_filling_it_in_leaves_less_that_is_not_shown() -> None:
    text = starter_text()
    both = "\n".join(_opened(line) for line in text.splitlines())
    open_, filled = (_not_shown(one) for one in (text, both))
    assert filled < open_


def _not_shown(text: str) -> set[str]:
    site = parse_site(text, Path("new.toml")).site
    found = study(site.doorway[0], "en", site=site)
    return {f.question for f in found.of(Verdict.NOT_SHOWN)}


def _opened(line: str) -> str:
    """A commented-out key, opened; a sentence stays a comment."""
    bare = line.removeprefix("# ")
    return bare if " = " in bare and bare != line else line


def test_no_line_runs_off_a_narrow_screen() -> None:
    assert max(map(len, starter_text().splitlines())) <= LONGEST


def test_the_starter_says_how_feet_and_doubt_are_written() -> None:
    text = starter_text()
    assert "6 ft 8 1/2 in" in text
    assert "estimate" in text
    assert "Leave out what you do not know" in text
