"""A site file is read with its sheets; its text is the truth."""

import pickle
from pathlib import Path

import pytest

from limen.model.sheet import FanByAngle
from limen.quantity import Grade
from limen.store.editing import save, set_value
from limen.store.sheetfile import parse_sheet, read_sheet, sheet_names
from limen.store.sitefile import SiteFaults, parse_site, read_site

SHIPPED = Path(__file__).parents[2] / "src" / "limen"
FOUND = SHIPPED / "demo" / "alder-quay-as-found.toml"
GENERIC = (
    "edge-barrier",
    "four-row",
    "old-single-row",
    "radar-only",
    "reference-two-row",
    "two-row",
)
OWN_SHEET = """
name = "Ours"

[presence]
rows = [{ angle = "0 deg", spots = 30 }]
fan = { form = "angles", choices = { only = "25 deg" } }
tilt = { least = "-9 deg", most = "9 deg" }
"""


def _site(folder: Path, sheet: str = "own") -> Path:
    path = folder / "site.toml"
    path.write_text(
        f"""
name = "Ours" # a comment

[[doorway]]
id = "main"
name = "Main"
clear_height = "2100 mm" # before the width, on purpose
clear_width = "6 ft 8 1/2 in"
leaves = {{ kind = "bi-parting", thickness = "40 mm, estimate" }}
header = {{ outside = "100 mm", inside = "100 mm" }}
reveal = {{ outside = "0 mm", inside = "0 mm" }}

[[doorway.fitting]]
id = "outside"
sheet = "{sheet}"
side = "outside"
lens = {{ from_leaf = "120 mm", height = "2200 mm ± 4 mm" }}
""",
        encoding="utf-8",
    )
    return path


def _beside(path: Path, text: str, name: str = "own") -> None:
    folder = path.parent / "sheets"
    folder.mkdir(exist_ok=True)
    (folder / f"{name}.toml").write_text(text, encoding="utf-8")


def test_the_text_is_that_of_the_file_to_the_last_sign() -> None:
    read = read_site(FOUND)
    assert read.text.encode("utf-8") == FOUND.read_bytes()
    assert read.path == FOUND


def test_what_is_saved_unchanged_reads_as_the_same(tmp_path: Path) -> None:
    read = read_site(FOUND)
    copy = tmp_path / "copy.toml"
    save(copy, read.text, expected=None)
    again = read_site(copy)
    assert copy.read_bytes() == FOUND.read_bytes()
    assert (again.text, again.digest, again.site) == (read.text, read.digest, read.site)


def test_an_edit_keeps_every_other_line_comments_and_order(tmp_path: Path) -> None:
    copy = tmp_path / "copy.toml"
    read = read_site(FOUND)
    save(copy, read.text, expected=None)
    edited = set_value(read.text, ("doorway", 0, "clear_width"), "2100 mm")
    save(copy, edited, expected=read.digest)
    again = read_site(copy)
    before, after = read.text.splitlines(), again.text.splitlines()
    changed = [new for old, new in zip(before, after, strict=True) if old != new]
    assert changed == ['clear_width = "2100 mm"']
    assert again.site.doorway[0].clear_width.value == pytest.approx(2.1)


def test_every_fitting_has_its_sheet_hung_on() -> None:
    read = read_site(FOUND)
    names = {file.name: file.sheet for file in read.sheets}
    for door in read.site.doorway:
        for fitting in door.fitting:
            assert fitting.unit == names[fitting.sheet]


def test_a_number_of_the_site_is_measured_and_one_of_a_sheet_is_the_sheets() -> None:
    door = read_site(FOUND).site.door("main")
    unit = door.fitting[0].unit
    assert door.clear_width.grade is Grade.MEASURED
    assert unit is not None
    assert unit.presence is not None
    assert unit.presence.tilt.least.grade is Grade.SHEET


def test_a_grade_that_is_written_goes_before(tmp_path: Path) -> None:
    path = _site(tmp_path, "two-row")
    door = read_site(path).site.doorway[0]
    assert door.leaves.thickness.grade is Grade.ESTIMATE
    assert door.clear_width.value == pytest.approx(80.5 * 0.0254)


def test_a_sheet_beside_the_file_goes_before_a_generic_one(tmp_path: Path) -> None:
    path = _site(tmp_path, "two-row")
    _beside(path, OWN_SHEET, "two-row")
    (sheet,) = read_site(path).sheets
    assert sheet.sheet.name == "Ours"
    assert sheet.path == str(tmp_path / "sheets" / "two-row.toml")


def test_a_folder_of_the_firms_comes_between_the_two(tmp_path: Path) -> None:
    firm = tmp_path / "firm"
    firm.mkdir()
    (firm / "own.toml").write_text(OWN_SHEET, encoding="utf-8")
    (firm / "four-row.toml").write_text(OWN_SHEET, encoding="utf-8")
    here = tmp_path / "here"
    here.mkdir()
    path = _site(here)
    assert read_site(path, sheet_folders=[firm]).sheets[0].sheet.name == "Ours"
    _beside(path, OWN_SHEET.replace("Ours", "Nearer"))
    assert read_site(path, sheet_folders=[firm]).sheets[0].sheet.name == "Nearer"
    found = read_sheet("four-row", [firm])
    assert found is not None
    assert found.sheet.name == "Ours"


def test_a_sheet_that_is_missing_names_those_that_are_there(tmp_path: Path) -> None:
    with pytest.raises(SiteFaults) as caught:
        read_site(_site(tmp_path))
    (fault,) = caught.value.faults
    assert fault.key == 'doorway "main" · fitting "outside" · sheet'
    assert "sheets/own.toml" in fault.accepted
    assert all(name in fault.accepted for name in GENERIC)


def test_a_file_named_sheets_is_no_folder_of_sheets(tmp_path: Path) -> None:
    (tmp_path / "sheets").write_text("", encoding="utf-8")
    assert read_site(_site(tmp_path, "two-row")).sheets[0].name == "two-row"


def test_a_text_is_read_as_its_file_would_be() -> None:
    text = FOUND.read_text("utf-8")
    assert parse_site(text, FOUND) == read_site(FOUND)


def test_faults_cross_a_process_border_whole(tmp_path: Path) -> None:
    with pytest.raises(SiteFaults) as caught:
        read_site(_site(tmp_path))
    again = pickle.loads(pickle.dumps(caught.value))  # noqa: S301  # our own bytes
    assert again.lines() == caught.value.lines()


def test_the_generic_sheets_are_these() -> None:
    assert sheet_names() == GENERIC


@pytest.mark.parametrize("name", GENERIC)
def test_a_generic_sheet_says_that_it_is_invented(name: str) -> None:
    found = read_sheet(name)
    assert found is not None
    assert "nvented" in found.sheet.note
    assert parse_sheet(found.text, name=name) == found.sheet


def test_generic_units_differ_in_every_figure_that_matters() -> None:
    parts = [
        read.sheet.presence
        for name in ("two-row", "four-row", "old-single-row")
        if (read := read_sheet(name)) is not None and read.sheet.presence is not None
    ]
    assert [len(part.rows) for part in parts] == [2, 4, 1]
    assert [part.rows[0].spots for part in parts] == [24, 20, 40]
    assert [part.fan.form for part in parts] == ["width", "angles", "unknown"]
    lowest = {part.lowest_height.value for part in parts if part.lowest_height}
    assert len(lowest) == len(parts)


def test_a_list_in_a_file_is_as_good_as_a_list_of_tables() -> None:
    sheet = parse_sheet(OWN_SHEET, name="own")
    assert sheet.presence is not None
    assert isinstance(sheet.presence.rows, tuple)
    assert isinstance(sheet.presence.fan, FanByAngle)
