"""What the report says: everything that was found, nothing that was not."""

from dataclasses import replace

import pytest

from builders.studies import doorway, failing, finding, not_shown
from draw.samples import sample
from limen.findings import Message, Verdict
from limen.quantity import Show
from limen.report import ReportError, pdf
from limen.report.office import office
from limen.report.tongue import Tongue
from limen.rules import Weight
from limen.words import catalogue, say, say_question
from report.reports import contents, found, page_of, text, usual

ASKED = (
    "presence.threshold", "presence.leaf_path", "presence.side_screen",
    "presence.self_view", "presence.neighbours", "presence.response",
    "presence.hold_time", "presence.contrast", "approach.minimum_zone",
    "approach.slow_walker", "approach.opens_in_time", "leaf.closing_energy",
    "leaf.closing_force", "leaf.stops_in_time", "leaf.gaps", "leaf.escape_opening",
    "leaf.power_loss", "leaf.modes", "leaf.mechanics", "wiring.inputs",
    "wiring.fail_safe", "wiring.voltage", "wiring.supply",
    "wiring.performance_level", "mounting.height", "mounting.position",
    "mounting.exposure", "site.obstacles", "site.marking",
)  # fmt: skip


def test_the_first_page_counts_what_is_to_be_done() -> None:
    first = text(usual(), 0)
    for words in (
        "1 to mend before use",
        "1 to measure",
        "for the office",
        "1 advised",
    ):
        assert words in first or words.split(" ", 1)[1] in first
    assert "12 November 2026" in first


def test_the_first_page_names_who_must_act_and_what_is_not_said() -> None:
    first = text(usual(), 0)
    assert "The technician, before the door is used again." in first
    assert "No door is summed up in one verdict." in first
    assert "replaces neither one nor the local code" in first


@pytest.mark.parametrize("verdict", list(Verdict))
def test_every_question_of_a_doorway_is_in_the_report(verdict: Verdict) -> None:
    findings = tuple(finding(verdict, name) for name in ASKED)
    said = text(pdf(contents(sample(*findings))))
    missing = [name for name in ASKED if say_question(name) not in said]
    assert missing == []


def test_what_holds_stands_in_brief_and_thirty_questions_fit_on_three_pages() -> None:
    findings = tuple(finding(Verdict.HOLDS, name) for name in ASKED)
    document = pdf(contents(sample(*findings)))
    pages = page_of(document, "A test body of cardboard") - 1
    assert pages <= 3


def test_a_remedy_is_printed_once_and_pointed_to_afterwards() -> None:
    study = sample(failing(), failing(question="presence.threshold"))
    said = text(pdf(contents(study)), 1).split("Taken for granted")[0]
    assert said.count(say(failing().remedy.message)) == 1  # pyright: ignore[reportOptionalMemberAccess]
    assert "The same as for: " in said


def test_what_the_office_finds_out_for_two_doorways_is_listed_once() -> None:
    key = "sheet.motion.spread"
    studies = [
        replace(sample(not_shown(key)), doorway=doorway(name=name, id=name.lower()))
        for name in ("Yard", "Quay")
    ]
    (row,) = office(studies, Tongue("en"))
    assert (row["key"], row["where"]) == (key, "all doorways")
    third = replace(sample(), doorway=doorway(name="Staff", id="staff"))
    (row,) = office([*studies, third], Tongue("en"))
    assert row["where"] == "Yard; Quay"


def test_what_settles_two_questions_is_listed_once_with_both() -> None:
    key = "fitting[out].read.first_row"
    study = sample(
        not_shown(key, question="presence.threshold"),
        not_shown(key, question="presence.leaf_path"),
    )
    said = text(pdf(contents(study)))
    assert said.count(key) == 1


def test_an_answer_on_a_figure_to_be_confirmed_bears_its_star_there_and_in_front() -> (
    None
):
    said = text(usual())
    assert say_question("leaf.gaps") + "*" in said.replace(" *", "*")
    assert "* behind an answer" in text(usual(), 0)


def test_no_star_is_explained_where_none_is_printed() -> None:
    document = pdf(contents(sample(finding(Verdict.HOLDS, "leaf.gaps"))))
    assert "* behind an answer" not in text(document, 0)


def test_weights_other_than_must_are_named() -> None:
    assert "(should)" in text(usual(), page_of(usual(), "Advised"))
    study = sample(finding(Verdict.FAILS, "leaf.gaps", Weight.ADVICE))
    assert "(advice)" in text(pdf(contents(study)))


def test_every_figure_of_the_rulebook_stands_with_its_grade_and_document() -> None:
    page = text(usual(), page_of(usual(), "Where every number came from"))
    assert "body height 700 mm EN 16005:2012, clause to be confirmed memory" in page
    assert say(Message("grade.memory")) in page


def test_the_files_stand_with_their_digests() -> None:
    said = text(usual())
    assert "made-up.toml " + "1" * 64 in said


def test_feet_are_written_where_feet_are_read() -> None:
    said = text(pdf(contents(system=Show.FEET)))
    assert "2 ft 3 9/16 in" in said  # 700 mm


def test_a_letter_that_no_font_has_is_named_and_nothing_is_made() -> None:
    with pytest.raises(ReportError, match="漢"):
        pdf(contents(site="漢"))


def test_names_in_latin_greek_and_cyrillic_script_are_printed() -> None:
    name = "Łódź, Αθήνα, Москва: 5 µm"
    assert name in text(pdf(contents(site=name)), 0)


def test_markup_in_a_name_is_printed_and_not_obeyed() -> None:
    name = '#panic("x") *a* $b$ `c` @d <e> \\ //'
    assert '#panic("x") *a* $b$' in text(pdf(contents(site=name)), 0)


def test_every_failure_has_words_for_someone_who_knows_no_door() -> None:
    known = catalogue("en").sentences
    assert [name for name in ASKED if f"report.plain.{name}" not in known] == []


@pytest.mark.slow
def test_a_site_of_many_doorways_is_listed_whole() -> None:
    names = [f"Door number {n}" for n in range(5)]
    doors = [sample(*found(), id=f"d{n}", name=name) for n, name in enumerate(names)]
    said = text(pdf(contents(*doors)))
    assert all(said.count(name) >= 2 for name in names)
