"""Where a fault is told, and what is told of it, is strict like all that is stated."""

import tomllib
from importlib.resources import files
from typing import Any

import pytest
from pydantic import ValidationError

from limen.model.telling import SYMPTOMS, FaultsTo, Reported
from limen.words.tracing import said_answer


@pytest.mark.parametrize(
    "stated",
    [
        {"mail": "doors@firm.example"},
        {"phone": "+00 (555) 01-42"},
        {"web": "https://firm.example/faults?form=3"},
        {"mail": "a.b+c@firm.example", "phone": "112"},
    ],
)
def test_an_address_that_can_be_used_is_taken(stated: dict[str, str]) -> None:
    assert FaultsTo.model_validate(stated).model_dump(exclude_none=True) == stated


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ({}, "no address"),
        ({"mail": "nobody"}, "cannot be written"),
        ({"mail": "a@b.example?bcc=x@y.example"}, "cannot be written"),
        ({"mail": "a@b.example, c@d.example"}, "cannot be written"),
        ({"phone": "call us"}, "cannot be written"),
        ({"web": "http://firm.example"}, "cannot be written"),
        ({"web": "https://firm.example/#x"}, "cannot be written"),
        ({"web": "javascript:alert(1)"}, "cannot be written"),
        ({"fax": "1"}, "Extra inputs"),
    ],
)
def test_what_nobody_can_be_reached_by_is_refused(
    stated: dict[str, str], said: str
) -> None:
    with pytest.raises(ValidationError, match=said):
        FaultsTo.model_validate(stated)


@pytest.mark.parametrize(
    "said",
    [
        {"struck": True},
        {"struck": False, "symptom": "stays-open"},
        {"struck": False, "text": "makes a noise"},
    ],
)
def test_a_report_says_something(said: dict[str, Any]) -> None:
    assert Reported.model_validate(said).struck is said["struck"]


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"struck": False},
        {"struck": "yes", "text": "x"},
        {"struck": False, "symptom": "bites"},
        {"struck": False, "text": " "},
        {"struck": False, "text": "x", "record": 0},
        {"struck": False, "text": "x" * 2001},
    ],
)
def test_a_report_that_says_nothing_or_too_much_is_refused(
    said: dict[str, Any],
) -> None:
    with pytest.raises(ValidationError):
        Reported.model_validate(said)


def test_symptoms_are_the_answers_of_the_fault_finder() -> None:
    text = files("limen").joinpath("causes", "questions.toml").read_text("utf-8")
    asked = {one["id"]: one for one in tomllib.loads(text)["question"]}
    assert set(SYMPTOMS) == set(asked["does"]["usual"])
    assert len({said_answer("does", one) for one in SYMPTOMS}) == len(SYMPTOMS)
