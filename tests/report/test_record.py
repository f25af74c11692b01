"""The paper of a record: every page in every language and on both papers."""

from dataclasses import replace
from hashlib import sha256
from io import BytesIO
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from builders.records import events
from desk.record_cases import PART, fold
from limen.findings import Message
from limen.report.record import RecordPaper, readable, record_pdf
from limen.report.record_pictures import code, photo_names, signature
from limen.report.tongue import Tongue
from limen.words import read_as, say
from limen.words.tracing import said_answer, said_cause, said_told

ROW = {
    "question": "presence.hold_time",
    "weight": "must",
    "verdict": "not shown",
    "by": [0],
    "cases": [{"fitting": "inside"}, {"fitting": "outside"}, {"case": "upright"}],
    "because": "Nobody said.",
}


def paper(visit: Any = None, **more: Any) -> RecordPaper:
    table = {**PART, "claimed": "2026-11-26T10:40:00Z", "parents": [], **more}
    return RecordPaper(
        table={**table, "visit": visit},
        sealed=b"{}",
        digest="5e" * 32,
        contract="{}",
        number=7,
        device="Desk 1",
        firm="Weir & Söhne",
    )


def said(one: RecordPaper) -> str:
    pages = PdfReader(BytesIO(record_pdf(one))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_it_is_set_in_every_language_on_both_papers(language: str, size: Any) -> None:
    one = replace(paper(fold(events())), tongue=Tongue(language), paper=size)
    wide = float(PdfReader(BytesIO(record_pdf(one))).pages[0].mediabox.width)
    assert wide == pytest.approx({"a4": 595.28, "letter": 612.0}[size], abs=0.1)


def test_the_same_record_gives_the_same_paper() -> None:
    one = paper(fold(events()))
    assert record_pdf(one) == record_pdf(one)


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("in use", "Left in use."),
        ("in use with defects", "Left in use with defects."),
        ("out of use", "Taken out of use."),
    ],
)
def test_the_persons_choice_is_said_as_it_was_chosen(state: str, words: str) -> None:
    told = said(paper(fold(events(state=state))))
    assert words in told
    assert "limen did not" in told


def test_an_answer_on_which_devices_differ_is_not_printed_as_one() -> None:
    first = events()
    other = [
        {**one, "device": "phone-b", "id": one["id"][:-4] + "b" * 4, "seq": 1}
        for one in first
        if one["kind"] == "handed_over"
    ]
    other[0]["said"] = {**other[0]["said"], "state": "out of use"}
    told = said(paper(fold([*first, *other])))
    assert "How the door was left is not settled" in told
    assert "phone-a: Left in use with defects.; phone-b: Taken out of use." in told


def test_what_is_open_is_said_with_its_reason_and_clause() -> None:
    study = {**PART["study"], "findings": [ROW, *PART["study"]["findings"]]}
    told = said(paper(study=study))
    assert "1 not shown" in told
    assert "Nobody said." in told
    assert "and 1 more case" in told
    assert "EN 16005:2012, clause 4.6.2.2" in told


def test_a_test_of_the_minimum_without_an_answer_is_listed() -> None:
    tests = [{"id": "other", "title": "A test that nobody made", "minimum": True}]
    told = said(paper(fold(events()), tests=[*PART["tests"], *tests]))
    assert "Of the tests that may not be skipped: ? A test that nobody made" in told


def test_when_the_minimum_was_answered_it_is_said() -> None:
    told = said(paper(fold(events())))
    assert "Every test that may not be skipped was answered." in told


# Why it misbehaved --------------------------------------------------------------------


def traced(*told: tuple[str, str], device: str = "phone-a") -> list[dict[str, Any]]:
    """A visit in which the fault finder was answered."""
    every = events()
    last = every[-1]["seq"]
    return every + [
        {
            **every[-1],
            "id": str(UUID(int=number, version=4)),
            "device": device,
            "seq": number,
            "at": f"2026-11-26T11:{number}:00Z",
            "kind": "traced",
            "said": {"question": question, "answer": answer},
        }
        for number, (question, answer) in enumerate(told, last + 1)
    ]


ASKED = (
    ("lamp_presence", "sees"),
    ("does", "reopens"),
    ("rows", "unknown"),
    ("lamp_presence", "flickers"),
    ("cause", "own_leaf"),
)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_what_was_answered_stands_in_its_order_the_symptom_first(language: str) -> None:
    with read_as(language):
        one = replace(paper(fold(traced(*ASKED))), owed={"own_leaf": "curtain"})
        told = said(one)
        asked = [said_told(*each) for each in (ASKED[1], *ASKED[2:4])]
        words = [" ".join(each.values()) for each in asked]
        words += [said_cause("own_leaf"), "(R. Okafor, 11:20)"]
        words += [say(Message("trace.owed.curtain"))]
        before = said_answer("lamp_presence", "sees")
    places = [told.index(" ".join(each.split())) for each in words]
    assert places == sorted(places)
    assert before not in told


def test_where_nobody_began_on_a_device_the_one_who_was_there_is_named() -> None:
    told = said(paper(fold(traced(*ASKED, device="phone-b"))))
    assert "(R. Okafor, " in told


def test_where_no_cause_was_named_nothing_is_owed_for_one() -> None:
    owed = {"none_of_these": "all"}
    none = said(replace(paper(fold(traced(ASKED[1]))), owed=owed))
    assert "Nothing was taken to be the cause." in none
    other = said(replace(paper(fold(traced(("cause", "none_of_these")))), owed=owed))
    assert "Taken to be the cause: None of these" in other
    assert "Tests owed after that" not in none + other


def test_what_the_desk_was_told_before_is_told_apart() -> None:
    every = traced(*ASKED[:2])
    every[-1]["said"]["call"] = "5f0c7a529a1e"
    told = " ".join(said(paper(fold(every))).split())
    assert "turns back while closing, again and again told at the desk" in told
    assert told.count("told at the desk") == 1


def test_what_a_later_limen_asks_is_printed_as_it_was_kept() -> None:
    told = said(paper(fold(traced(("moon", "full"), ("cause", "tide")))))
    assert "moon full" in told
    assert "Taken to be the cause: tide" in told


def test_an_answer_that_was_taken_back_is_said_and_keeps_no_visit_from_its_paper() -> (
    None
):
    every = traced(ASKED[1])
    back = {"kind": "undone", "said": {"event": every[-1]["id"]}}
    undone = {**every[-1], **back, "seq": 99, "id": str(UUID(int=99, version=4))}
    one = paper(fold([*every, undone]))
    assert readable(one.table)
    told = said(one)
    assert "answer to the fault finder: What does the door do?" in told
    assert "Why it misbehaved" not in told


def test_a_visit_without_such_answers_is_set_as_before() -> None:
    visit = fold(events())
    assert "traced" not in visit
    assert "Why it misbehaved" not in said(paper(visit))


def test_a_photo_that_cannot_be_drawn_is_no_reason_to_be_without_the_paper() -> None:
    broken = b"\xff\xd8\xff" + b"no picture"
    sha = sha256(broken).hexdigest()
    one = replace(paper(fold(events())), photos={sha: broken})
    inside = PdfReader(BytesIO(record_pdf(one))).attachments
    assert [broken] in list(inside.values())


@pytest.mark.parametrize("text", ["ཀ", "loose 👍🏽", "門に傷 – 直した", "\u0301\u0e01"])
def test_a_letter_of_no_font_keeps_no_visit_from_its_paper(text: str) -> None:
    told = events()
    told[13]["said"]["text"] = f"Header {text} loose"
    found = said(paper(fold(told), name=f"Door {text}"))
    assert "Header" in found
    assert "as they were written" in found


def test_letters_of_our_fonts_are_printed_as_they_are() -> None:
    name = "Łódź Öffnung №1 – “Ωμέγα” Київ"
    found = said(paper(fold(events()), name=name))
    assert name in found
    assert "as they were written" not in found


def test_the_code_holds_the_digest_alone() -> None:
    """Version 5 of a code of level M holds 84 bytes (ISO/IEC 18004:2015, table 7)."""
    drawn = code("5e" * 32).decode()
    assert 'viewBox="0 0 37 37"' in drawn


stroke = st.lists(st.tuples(st.floats(-1e5, 1e5), st.floats(-1e5, 1e5)), max_size=8)


@given(st.lists(stroke, max_size=5))
def test_any_hand_can_be_drawn(strokes: list[list[tuple[float, float]]]) -> None:
    told = events()
    told[-1]["said"]["signature"] = strokes
    drawn = signature({"visit": fold(told)})
    assert (drawn is None) == (not any(strokes))
    assert drawn is None or b"nan" not in drawn


def test_a_hand_becomes_a_line_on_paper() -> None:
    one = paper(fold(events()))
    assert signature(one.table)
    assert "Signed by their own hand" in said(one)


plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda one: st.lists(one, max_size=3) | st.dictionaries(st.text(max_size=5), one),
)


@given(st.sampled_from(sorted(PART)), plain)
def test_a_record_with_anything_in_a_place_is_readable_or_not(
    key: str, value: Any
) -> None:
    whole = paper(fold(events())).table
    assert readable(whole)
    assert readable({**whole, key: value}) in {True, False}
    assert not readable({key: value})


def test_photos_are_named_by_what_they_are() -> None:
    names = photo_names({"ab" * 32: b"\x89PNG\r\n\x1a\n", "cd" * 32: b"any"})
    assert names == {
        "ab" * 32: "photo-abababababababab.png",
        "cd" * 32: "photo-cdcdcdcdcdcdcdcd",
    }
