"""What a person asks for is done, or refused with everything that is wrong."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from builders.studies import DOORWAY, doorway, failing, finding, study
from limen.desk.checking import Checked, check
from limen.desk.checking import study as study_doorway
from limen.desk.drawing import draw, first_to_mend, first_witness
from limen.desk.explaining import proof_sheet
from limen.desk.refusal import Refusal
from limen.desk.schemas import schema
from limen.desk.sheets import sheets
from limen.desk.shelves import judging, rules, shelf
from limen.desk.sites import chosen, load_site, new
from limen.desk.warm import warm
from limen.exchange import contract, dumps, findings_schema
from limen.model.site import Site
from limen.questions import QUESTIONS
from limen.rules import Weight


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site file that a person begins with."""
    return new(tmp_path_factory.mktemp("site") / "door.toml")


@pytest.fixture(scope="module")
def checked(begun: Path) -> Checked:
    return check(begun, on=date(2026, 11, 25))


def _site(*doorways: dict[str, object]) -> Site:
    return Site.model_validate({"name": "A library", "doorway": doorways})


def test_a_new_file_is_a_site_that_can_be_read(begun: Path) -> None:
    assert load_site(begun).doorway


def test_a_new_file_never_overwrites_one(begun: Path) -> None:
    before = begun.read_bytes()
    with pytest.raises(Refusal, match=begun.name):
        new(begun)
    assert begun.read_bytes() == before


def test_a_file_that_is_not_there_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"nowhere\.toml"):
        load_site(tmp_path / "nowhere.toml")


def test_all_faults_of_a_file_are_told_together(tmp_path: Path) -> None:
    file = tmp_path / "door.toml"
    file.write_text('name = ""\nplaces = "x"\n', "utf-8")
    with pytest.raises(Refusal) as refusal:
        load_site(file)
    told = "\n".join(refusal.value.lines)
    assert all(key in told for key in ("name", "places", "doorway"))


def test_one_doorway_can_be_chosen_and_others_are_listed_if_it_is_not_there() -> None:
    site = _site({**DOORWAY}, {**DOORWAY, "id": "side"})
    assert [door.id for door in chosen(site, "side")] == ["side"]
    assert len(chosen(site, None)) == 2
    with pytest.raises(Refusal, match=r"back.*main, side"):
        chosen(site, "back")


def test_each_doorway_is_judged_by_the_edition_of_its_day() -> None:
    doors = [doorway(commissioned=date(year, 6, 1)) for year in (2015, 2025)]
    books = judging(doors, shelf(), "en", None)
    assert [one.edition for one in books] == ["2012", "2023"]


def test_every_doorway_without_a_date_is_asked_for_at_once() -> None:
    doors = [doorway(), doorway(id="side")]
    with pytest.raises(Refusal) as refusal:
        judging(doors, shelf(), "en", None)
    assert [line.split('"')[1] for line in refusal.value.lines] == ["main", "side"]
    assert all('"2012" or "2023"' in line for line in refusal.value.lines)


def test_a_chosen_edition_goes_before_the_date() -> None:
    (book,) = judging([doorway(commissioned=date(2015, 6, 1))], shelf(), "en", "2023")
    assert book.edition == "2023"


def test_an_unknown_rulebook_is_refused_with_those_there_are() -> None:
    with pytest.raises(Refusal, match=r"xx.*en.*us"):
        judging([doorway()], shelf(), "xx", None)


def test_a_values_file_that_cannot_be_used_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "values.toml"
    file.write_text('[[value]]\nrule = "en.2012.none"\n', "utf-8")
    with pytest.raises(Refusal, match=r"values\.toml"):
        shelf(file)


def test_a_site_is_checked_as_its_file_stands(checked: Checked) -> None:
    assert checked.site.name
    (one,) = checked.studies
    assert one.on == date(2026, 11, 25)
    assert {finding.question for finding in one.findings} == set(QUESTIONS)


def test_the_findings_of_a_real_study_keep_to_the_schema(checked: Checked) -> None:
    text = dumps(contract(checked.studies, site=checked.site.name))
    jsonschema.Draft202012Validator(findings_schema()).validate(json.loads(text))


def test_studying_a_doorway_at_hand_gives_what_checking_its_file_gives(
    begun: Path, checked: Checked
) -> None:
    site = load_site(begun)
    name = checked.rulebooks[0].id
    alone = study_doorway(site.doorway[0], name, on=date(2026, 11, 25), site=site)
    assert alone == checked.studies[0]


def test_drawings_are_written_one_a_doorway_and_view(
    checked: Checked, tmp_path: Path
) -> None:
    paths = draw(checked, tmp_path / "deep" / "folder", views=("plan", "front"))
    door = checked.studies[0].doorway.id
    assert [one.name for one in paths] == [f"{door}-plan.svg", f"{door}-front.svg"]
    assert all(one.read_text("utf-8").startswith("<svg") for one in paths)


def test_a_folder_that_cannot_be_made_is_refused(
    checked: Checked, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("", "utf-8")
    with pytest.raises(Refusal, match="file"):
        draw(checked, tmp_path / "file")


def test_the_witness_drawn_is_that_of_a_must_before_any_other() -> None:
    advice = failing(weight=Weight.ADVICE)
    must = failing(case="on its edge")
    assert first_witness(study(advice, finding(), must)) == must
    assert first_witness(study(finding())) is None


def test_a_drawing_shows_a_fault_and_never_advice_unasked() -> None:
    advice = failing(weight=Weight.ADVICE)
    fault = failing(weight=Weight.SHOULD)
    assert first_to_mend(study(advice)) is None
    assert first_to_mend(study(advice, fault)) == fault


@pytest.mark.parametrize("what", ["site", "sheet", "findings"])
def test_every_schema_is_a_schema(what: Any) -> None:
    jsonschema.Draft202012Validator.check_schema(schema(what))


def test_every_question_has_a_proof_sheet_that_opens_with_the_question() -> None:
    for name in QUESTIONS:
        opening = proof_sheet(name).sections[0][1].splitlines()[0]
        assert opening.endswith("?"), name


def test_an_unknown_question_is_refused_with_those_there_are() -> None:
    with pytest.raises(Refusal, match=r"presence\.leaf_path"):
        proof_sheet("presence.nothing")


def test_rulebooks_are_found_by_name_and_edition() -> None:
    assert {one.id for one in rules()} >= {"en", "us"}
    assert [one.edition for one in rules("en", "2012")] == ["2012"]
    with pytest.raises(Refusal, match="1900"):
        rules("en", "1900")


def test_sheets_are_listed_and_each_can_be_read() -> None:
    every = sheets()
    assert len(every) > 2
    assert sheets(every[0].name) == every[:1]
    with pytest.raises(Refusal, match=every[0].name):
        sheets("nothing-of-the-kind")


def test_warming_up_proves_something() -> None:
    assert warm() == "holds"
