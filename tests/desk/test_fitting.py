"""Readings on the desk: fitted, kept as one version, written beside a file."""

from collections.abc import Iterator
from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from limen.desk import fitting as verbs
from limen.desk import library_sites as sites
from limen.desk.library import Clash, Desk, FileFaults, open_desk, open_site
from limen.desk.refusal import Refusal
from limen.store.database import Stored

DAY = date(2026, 11, 25)
SITE = files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
MINIMUM = """\
site = "site.toml"
doorway = "main"

[[unit]]
fitting = "outside"

[[unit.reading]]
kind = "row line"
along = "-900 mm ± 4 mm"
out = "102 mm ± 4 mm"
row = 1

[[unit.reading]]
kind = "row line"
along = "900 mm ± 4 mm"
out = "110 mm ± 4 mm"
row = 1

[[unit.reading]]
kind = "row end"
end = "left"
along = "-1290 mm ± 8 mm"

[[unit.reading]]
kind = "row end"
end = "right"
along = "1310 mm ± 8 mm"
"""
TOO_FEW = MINIMUM.partition('[[unit.reading]]\nkind = "row end"')[0]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    own = open_desk(tmp_path_factory.mktemp("desk") / "library.db", today=lambda: DAY)
    yield own
    own.library.close()


@pytest.fixture
def site(desk: Desk) -> Stored:
    return sites.import_text(desk, SITE, "alder-quay.toml")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "site.toml").write_text(SITE, encoding="utf-8")
    (tmp_path / "readings.toml").write_text(MINIMUM, encoding="utf-8")
    return tmp_path


def test_a_fit_is_kept_as_one_version_and_can_be_undone(
    desk: Desk, site: Stored
) -> None:
    opened = open_site(desk, site.id)
    done = verbs.fit(desk, opened, "main", verbs.read_typed(MINIMUM))
    kept = verbs.write_fit(desk, site.id, "main", done.changes, site.version)
    assert isinstance(kept, Stored)
    assert kept.version == site.version + 1
    (outside, _) = open_site(desk, site.id).site.door("main").fitting
    assert outside.read.first_row
    assert outside.read.first_row.value == pytest.approx(0.106, abs=0.001)
    undone = desk.library.undo(site.id, kept.version)
    assert isinstance(undone, Stored)
    assert undone.text == site.text


def test_comments_and_everything_else_of_the_file_stay(
    desk: Desk, site: Stored
) -> None:
    done = verbs.fit(desk, open_site(desk, site.id), "main", verbs.read_typed(MINIMUM))
    kept = verbs.write_fit(desk, site.id, "main", done.changes, site.version)
    assert isinstance(kept, Stored)
    before, after = site.text.splitlines(), kept.text.splitlines()
    changed = [one for one in after if one not in before]
    assert len(before) == len(after)
    assert 0 < len(changed) <= 5


def test_somebody_elses_save_is_not_written_over(desk: Desk, site: Stored) -> None:
    opened = open_site(desk, site.id)
    done = verbs.fit(desk, opened, "main", verbs.read_typed(MINIMUM))
    other = site.text.replace("an invented", "another invented", 1)
    assert isinstance(desk.library.save(site.id, other, site.version), Stored)
    assert isinstance(
        verbs.write_fit(desk, site.id, "main", done.changes, site.version), Clash
    )


def test_what_could_not_be_fitted_is_not_written(desk: Desk, site: Stored) -> None:
    opened = open_site(desk, site.id)
    done = verbs.fit(desk, opened, "main", verbs.read_typed(TOO_FEW))
    assert done.units[0].outcome == "not determined"
    assert verbs.edits_of(done.changes) == {}
    with pytest.raises(Refusal, match="Nothing was written"):
        verbs.write_fit(desk, site.id, "main", done.changes, site.version)


def test_while_somebody_types_no_study_is_asked(desk: Desk, site: Stored) -> None:
    opened = open_site(desk, site.id)
    (quick,) = verbs.fit_at_once(opened, "main", verbs.read_typed(MINIMUM)).units
    done = verbs.fit(desk, opened, "main", verbs.read_typed(MINIMUM))
    assert quick == done.units[0]


def test_a_doorway_that_is_not_there_is_refused(desk: Desk, site: Stored) -> None:
    opened = open_site(desk, site.id)
    with pytest.raises(Refusal):
        verbs.fit(desk, opened, "none-such", verbs.read_typed(MINIMUM))


def test_a_unit_that_throws_no_rows_is_refused_by_name(
    desk: Desk, site: Stored
) -> None:
    opened = open_site(desk, site.id)
    text = MINIMUM.replace('fitting = "outside"', 'fitting = "attic"')
    with pytest.raises(FileFaults, match="attic"):
        verbs.fit(desk, opened, "main", verbs.read_typed(text))


def test_what_is_typed_is_read_as_a_file_is() -> None:
    values = {
        "site": "site.toml",
        "doorway": "main",
        "unit": [
            {
                "fitting": "outside",
                "reading": [{"kind": "row line", "along": "-900 mm", "out": "4 in"}],
            }
        ],
    }
    readings = verbs.typed(values)
    (one,) = readings.unit[0].reading
    assert one.kind == "row line"
    assert verbs.read_typed(verbs.readings_text(readings)) == readings


def test_a_reading_is_struck_and_stays_as_it_was_read() -> None:
    readings = verbs.read_typed(MINIMUM)
    struck = verbs.struck(readings, "outside", 2)
    assert [one.struck for one in struck.unit[0].reading] == [False, True, False, False]
    again = struck.unit[0].reading[1].model_copy(update={"struck": False})
    assert again == readings.unit[0].reading[1]


# Files ---------------------------------------------------------------------------


def test_a_readings_file_is_fitted_to_the_site_beside_it(folder: Path) -> None:
    done = verbs.fit_file(folder / "readings.toml", on=DAY)
    assert done.site.name == "Alder Quay Library"
    assert done.fitted.units[0].outcome == "fitted"
    assert done.on == DAY


def test_the_site_as_it_hangs_is_written_beside_and_overwrites_nothing(
    folder: Path,
) -> None:
    done = verbs.fit_file(folder / "readings.toml", on=DAY)
    out = verbs.write_file(done, folder / "hangs.toml")
    assert "first_row" in out.read_text("utf-8")
    assert (folder / "site.toml").read_text("utf-8") == SITE
    with pytest.raises(Refusal):
        verbs.write_file(done, folder / "site.toml")
    assert (folder / "site.toml").read_text("utf-8") == SITE


def test_what_was_written_studies_as_what_was_fitted(folder: Path) -> None:
    from limen.desk.checking import check

    done = verbs.fit_file(folder / "readings.toml", on=DAY)
    out = verbs.write_file(done, folder / "hangs.toml")
    (study,) = check(out, "main", on=DAY).studies
    assert done.fitted.after
    told = [(one.key, one.verdict) for one in done.fitted.after.findings]
    assert [(one.key, one.verdict) for one in study.findings] == told


def test_a_site_that_is_not_there_is_told(folder: Path) -> None:
    (folder / "site.toml").unlink()
    with pytest.raises(Refusal, match=r"site\.toml"):
        verbs.fit_file(folder / "readings.toml")
