"""Sites of a library are tried out and saved; what is refused leaves no trace."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from limen.desk import library_lines as lines
from limen.desk import library_sites as sites
from limen.desk.library import (
    Clash,
    Desk,
    FileFaults,
    NothingToUndoError,
    Stored,
    open_desk,
    open_site,
    preview,
    save_edits,
    study_of,
)
from limen.desk.refusal import Refusal
from limen.store.starter import starter_text

DAY = date(2026, 11, 25)
TILT = "fitting[outside].settings.tilt"


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One desk for all: rulebooks and studies are read once."""
    desk = open_desk(tmp_path_factory.mktemp("desk") / "library.db", today=lambda: DAY)
    yield desk
    desk.library.close()


@pytest.fixture
def site(shared: Desk) -> Stored:
    return sites.import_text(shared, starter_text())


def _door(desk: Desk, site: Stored) -> str:
    return open_site(desk, site.id).site.doorway[0].id


def test_a_file_comes_out_as_it_went_in(shared: Desk) -> None:
    data = starter_text().replace("\n", "\r\n").encode()
    kept = sites.import_text(shared, data, "door.toml")
    name, out = sites.export_text(shared, kept.id)
    assert out == data
    assert name.endswith(".toml")


def test_a_text_with_faults_is_refused_with_all_of_them(shared: Desk) -> None:
    before = shared.library.sites()
    with pytest.raises(FileFaults) as refused:
        sites.import_text(shared, "name = 3\nplace = 4\n")
    assert [line for line, _ in sites.fault_lines(refused.value)][:2] == [1, 2]
    assert shared.library.sites() == before


def test_a_preview_saves_nothing(shared: Desk, site: Stored) -> None:
    door = _door(shared, site)
    tried = preview(shared, site.id, door, {TILT: "-2 deg"}, glance=True)
    assert not tried.whole
    unit = next(one for one in tried.study.doorway.fitting if one.id == "outside")
    assert unit.settings.tilt is not None
    assert shared.library.read(site.id) == site


def test_what_was_tried_and_saved_is_the_same_doorway(
    shared: Desk, site: Stored
) -> None:
    door = _door(shared, site)
    edits = {TILT: "-2 deg", "fitting[outside].settings.rows_on": "1"}
    tried = preview(shared, site.id, door, edits, glance=True)
    saved = save_edits(shared, site.id, door, edits, site.version)
    assert isinstance(saved, Stored)
    assert open_site(shared, site.id).doorway(door) == tried.study.doorway


def test_a_saved_edit_changes_its_line_and_no_other(shared: Desk, site: Stored) -> None:
    saved = save_edits(shared, site.id, _door(shared, site), {TILT: "-2 deg"}, 1)
    assert isinstance(saved, Stored)
    pairs = zip(site.text.splitlines(), saved.text.splitlines(), strict=True)
    changed = [(old, new) for old, new in pairs if old != new]
    assert len(changed) == 1
    assert '"-2 deg"' in changed[0][1]


def test_an_edit_of_an_old_version_is_shown_both_texts(
    shared: Desk, site: Stored
) -> None:
    door = _door(shared, site)
    save_edits(shared, site.id, door, {TILT: "-2 deg"}, 1)
    late = save_edits(shared, site.id, door, {TILT: "-1 deg"}, 1)
    assert isinstance(late, Clash)
    assert '"-1 deg"' in late.mine
    assert '"-2 deg"' in late.theirs.text


@pytest.mark.parametrize(
    "key",
    [
        "",
        "fitting[nobody].settings.tilt",
        "clear_width.value.more",
        "fitting.settings",
        "../name",
        ".".join(["a"] * 50),
    ],
)
def test_a_key_that_leads_nowhere_is_refused(
    shared: Desk, site: Stored, key: str
) -> None:
    with pytest.raises((Refusal, FileFaults)):
        preview(shared, site.id, _door(shared, site), {key: "1 mm"}, glance=True)


def test_a_value_that_is_none_is_told_with_what_is_accepted(
    shared: Desk, site: Stored
) -> None:
    door = _door(shared, site)
    with pytest.raises(FileFaults) as refused:
        preview(shared, site.id, door, {TILT: "steep"}, glance=True)
    (fault,) = refused.value.faults
    assert "angle" in fault.accepted
    with pytest.raises(FileFaults):
        save_edits(shared, site.id, door, {TILT: "steep"}, 1)


def test_a_list_says_what_is_to_be_done_once_a_site_was_studied(
    shared: Desk, site: Stored
) -> None:
    shown = {one.stored.id: one for one in lines.overview(shared)}
    study_of(shared, open_site(shared, site.id), _door(shared, site))
    known = lines.tallied(shared, site.id)
    assert known.tally is not None
    assert lines.glanced(shared, site.id) == known
    assert site.id in shown


def test_a_copy_has_a_name_of_its_own_and_else_the_same_text(
    shared: Desk, site: Stored
) -> None:
    first, second = sites.copy(shared, site.id), sites.copy(shared, site.id)
    assert len({site.name, first.name, second.name}) == 3
    assert open_site(shared, first.id).site.name == first.name
    assert first.text.count("\n") == site.text.count("\n")


def test_another_name_can_be_undone(shared: Desk, site: Stored) -> None:
    renamed = sites.rename(shared, site.id, "  Harbour office ")
    assert isinstance(renamed, Stored)
    assert renamed.name == open_site(shared, site.id).site.name == "Harbour office"
    back = sites.step(shared, site.id, "undo", renamed.version)
    assert isinstance(back, Stored)
    assert (back.name, back.text) == (site.name, site.text)
    with pytest.raises(NothingToUndoError):
        sites.step(shared, site.id, "undo", back.version)


@pytest.mark.parametrize("name", ["", "  ", "two\nlines", "x" * 201])
def test_what_can_be_no_name_is_refused(shared: Desk, site: Stored, name: str) -> None:
    with pytest.raises(Refusal):
        sites.rename(shared, site.id, name)


def test_a_sheet_that_was_taken_away_leaves_the_site_readable_as_text(
    shared: Desk, site: Stored
) -> None:
    own = shared.sheets / "own-unit.toml"
    own.parent.mkdir(exist_ok=True)
    shipped = Path(__file__).parents[2] / "src/limen/sheets/two-row.toml"
    own.write_text(
        shipped.read_text("utf-8").replace('"two-row"', '"own-unit"'), "utf-8"
    )
    text = site.text.replace('sheet = "two-row"', 'sheet = "own-unit"')
    kept = sites.import_text(shared, text)
    own.unlink()
    line = lines.glanced(shared, kept.id)
    assert line.faults
    assert sites.export_text(shared, kept.id)[1] == text.encode()
