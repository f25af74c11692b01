"""Site files of a fleet: which there are, and what each of them rests on."""

from datetime import date
from importlib.resources import files
from pathlib import Path

import pytest

from builders.fleets import FAULTY, write_bare, write_site
from limen.desk.fleet_files import Look, files_in, look, opened
from limen.desk.fleet_tasks import Settings
from limen.desk.refusal import Refusal

SETTINGS = Settings(on=date(2026, 11, 26))
BASIS = "basis"


def _look(path: Path, settings: Settings = SETTINGS, basis: str = BASIS) -> Look:
    found = look(path.name, path, settings, basis)
    assert found is not None
    return found


def _labels(*where: Path) -> list[str]:
    return [label for label, _ in files_in(where)]


def test_a_folder_is_searched_to_the_bottom_in_the_order_of_names(
    tmp_path: Path,
) -> None:
    for name in ("b/z.toml", "a/deep/x.toml", "c.toml", ".hidden/h.toml", "a/no.txt"):
        write_bare(tmp_path / name, 1000)
    write_bare(tmp_path / "a" / "sheets" / "unit.toml", 1000)
    assert _labels(tmp_path) == ["c.toml", "a/deep/x.toml", "b/z.toml"]


def test_a_list_names_files_and_folders_beside_it(tmp_path: Path) -> None:
    write_bare(tmp_path / "one.toml", 1000)
    write_bare(tmp_path / "many" / "two.toml", 1000)
    listed = tmp_path / "doors.txt"
    listed.write_text("# ours\none.toml\n\nmany\n", encoding="utf-8")
    assert _labels(listed) == [(tmp_path / "one.toml").as_posix(), "two.toml"]


def test_what_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no such file"):
        _labels(tmp_path / "nowhere")


def test_doorways_in_full_and_in_short_are_counted(tmp_path: Path) -> None:
    path = write_bare(tmp_path / "a.toml", 1000, 1100)
    path.write_text(path.read_text() + '[[short]]\nid = "third"\n', encoding="utf-8")
    assert _look(path).names == ("door-0", "door-1", "third")


@pytest.mark.parametrize("text", ["a = 1\n", "", '[presence]\nrows = "two"\n'])
def test_toml_of_another_kind_is_no_site(text: str, tmp_path: Path) -> None:
    path = tmp_path / "other.toml"
    path.write_text(text, encoding="utf-8")
    assert look("other.toml", path, SETTINGS, BASIS) is None


@pytest.mark.parametrize("data", [b"\xff\xfea", b"a\0b", b"[[doorway\xe9]]"])
def test_what_is_no_text_is_told_and_not_left(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "binary.toml"
    path.write_bytes(data)
    found = _look(path)
    assert "UTF-8" in found.told
    assert found.doorways == 1


def test_a_file_that_is_no_toml_counts_as_one(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text('[[doorway]]\nid = "a\n[[[\n', encoding="utf-8")
    assert (_look(path).doorways, _look(path).told) == (1, "")


# What it rests on ------------------------------------------------------------------


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A site of two doorways with their own sheets, and a year of weather."""
    path = write_site(tmp_path, "site", 1, 3)
    text = path.read_text("utf-8")
    air = '[doorway.air]\nweather = "town.csv"\n\n[doorway.power_loss]'
    path.write_text(text.replace("[doorway.power_loss]", air, 1), encoding="utf-8")
    (tmp_path / "town.csv").write_text("a year", encoding="utf-8")
    return path


def test_a_site_rests_on_its_text_its_sheets_and_its_weather(site: Path) -> None:
    keys = {_look(site).key}
    assert (_look(site).sheets, _look(site).weather) == (
        ("unit-1", "unit-2"),
        ("town.csv",),
    )
    for path in (
        site,
        site.parent / "sheets" / "unit-2.toml",
        site.parent / "town.csv",
    ):
        path.write_text(path.read_text("utf-8") + "\n# more\n", encoding="utf-8")
        keys.add(_look(site).key)
    assert len(keys) == 4


def test_and_on_what_is_asked_and_by_whom(site: Path) -> None:
    others = [
        Settings(on=date(2026, 11, 27)),
        Settings(on=SETTINGS.on, rulebook="us"),
        Settings(on=SETTINGS.on, edition="2023"),
        Settings(on=SETTINGS.on, language="de"),
        Settings(on=SETTINGS.on, units="feet"),
        Settings(on=SETTINGS.on, values=("own.toml", "")),
    ]
    keys = {_look(site, one).key for one in [SETTINGS, *others]}
    assert len(keys | {_look(site, basis="other").key}) == len(others) + 2


def test_and_on_nothing_else(site: Path) -> None:
    before = _look(site)
    (site.parent / "sheets" / "other.toml").write_text("a = 1", encoding="utf-8")
    write_bare(site.parent / "neighbour.toml", 1000)
    site.touch()
    assert _look(site) == before


def test_a_generic_sheet_is_found_and_goes_along(tmp_path: Path) -> None:
    name = "reference_doorway.toml"
    text = files("limen").joinpath("rulebooks", name).read_text("utf-8")
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    given = opened(_look(path), SETTINGS, BASIS)
    assert given is not None
    assert [name for name, _, _ in given.sheets] == ["reference-two-row"]


def test_a_file_that_changed_since_it_was_looked_at_is_not_opened(site: Path) -> None:
    before = _look(site)
    assert opened(before, SETTINGS, BASIS) is not None
    site.write_text(site.read_text("utf-8") + "# more", encoding="utf-8")
    assert opened(before, SETTINGS, BASIS) is None
    site.unlink()
    assert opened(before, SETTINGS, BASIS) is None


def test_weather_goes_along_only_where_it_is_sent(site: Path) -> None:
    here, sent = (opened(_look(site), SETTINGS, BASIS, send=s) for s in (False, True))
    assert here is not None
    assert sent is not None
    assert (len(here.weather), [one.name for one in sent.weather]) == (0, ["town.csv"])


@pytest.mark.parametrize("name", ["../town.csv", "/etc/hostname", "no-such.csv"])
def test_no_weather_from_elsewhere_is_read(name: str, tmp_path: Path) -> None:
    path = tmp_path / "folder" / "a.toml"
    write_bare(path, 1000)
    (tmp_path / "town.csv").write_text("a year", encoding="utf-8")
    more = f'[doorway.air]\nweather = "{name}"\n'
    path.write_text(path.read_text() + more, encoding="utf-8")
    assert _look(path).weather == ()


def test_a_faulty_site_is_looked_at_like_any_other(tmp_path: Path) -> None:
    path = tmp_path / "faulty.toml"
    path.write_text(FAULTY, encoding="utf-8")
    assert _look(path).names == ("main",)
