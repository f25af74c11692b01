"""The JSON that other programs read keeps to its schema, and says all there is."""

import json
from typing import Any

import jsonschema
import pytest

from builders.studies import (
    TO_BE_CONFIRMED,
    assumed,
    doorway,
    failing,
    finding,
    not_shown,
    study,
)
from limen.exchange import SCHEMA, contract, dumps, findings_schema
from limen.exchange.symbols import SI
from limen.findings import Margin, Message, Verdict
from limen.quantity import Dimension, Show

CONTRACT_KEYS = {
    "question", "fitting", "case", "weight", "stricter", "verdict", "margin",
    "needed", "found", "because", "remedy", "lacking", "authority", "witness",
    "assumed",
}  # fmt: skip
"""What the contract promises of a finding; more may be there."""


def _json(*findings: Any, **more: Any) -> Any:
    """What a reader of the JSON text gets."""
    return json.loads(dumps(contract([study(*findings, **more)], site="A library")))


def _first(*findings: Any) -> Any:
    return _json(*findings)["doorways"][0]["findings"][0]


ALL = (
    failing(),
    not_shown("fitting[in].lens"),
    finding(to_confirm=True, owed=(Message("study.caution"),)),
    finding(Verdict.NOT_ASKED, authority=()),
)


def test_every_kind_of_finding_keeps_to_the_schema() -> None:
    validator = jsonschema.Draft202012Validator(findings_schema())
    assert list(validator.iter_errors(_json(*ALL))) == []


def test_the_schema_refuses_what_the_contract_does_not_know() -> None:
    validator = jsonschema.Draft202012Validator(findings_schema())
    wrong = _json(*ALL)
    wrong["doorways"][0]["findings"][0]["verdict"] = "good"
    assert not validator.is_valid(wrong)


def test_the_schema_is_itself_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(findings_schema())


def test_the_top_says_version_schema_site_rulebook_edition_and_day() -> None:
    top = _json(*ALL)
    top.pop("doorways")
    assert top == {
        "limen": "0.1.0",
        "schema": SCHEMA,
        "site": "A library",
        "rulebook": "en",
        "edition": "2012",
        "on": "2026-11-25",
    }


def test_a_finding_has_everything_the_contract_promises() -> None:
    assert _first(failing()).keys() >= CONTRACT_KEYS


def test_doorways_of_different_editions_share_none_and_each_says_its_own() -> None:
    older = study(finding())
    newer = study(finding(), doorway=doorway(id="side"), edition="2023")
    top = contract([older, newer], site="A library")
    assert top["edition"] is None
    assert top["rulebook"] == "en"
    doors: Any = top["doorways"]
    assert [one["edition"] for one in doors] == ["2012", "2023"]


def test_a_margin_is_si_and_signed() -> None:
    assert _first(failing())["margin"] == {"value": -0.014, "unit": "m", "u": 0.0005}


def test_numbers_stay_si_whatever_the_sentences_are_written_in() -> None:
    feet = contract([study(failing())], site="A", system=Show.FEET)
    metric = contract([study(failing())], site="A")
    margins = [one["doorways"][0]["findings"][0]["margin"] for one in (feet, metric)]  # pyright: ignore[reportIndexIssue]
    assert margins[0] == margins[1]


def test_the_sentences_follow_the_reader_s_units() -> None:
    values = {"measure": failing().margin and assumed().value}
    said = finding(because=Message("finding.margin_short", values))  # pyright: ignore[reportArgumentType]
    feet: Any = contract([study(said)], site="A", system=Show.FEET)
    assert feet["doorways"][0]["findings"][0]["because"] == "1/8 in short"


def test_a_number_that_is_none_is_refused_rather_than_written() -> None:
    broken = failing(margin=Margin(float("nan"), 0.0, Dimension.LENGTH))
    with pytest.raises(ValueError, match="JSON"):
        dumps(contract([study(broken)], site="A"))


def test_a_clause_to_be_confirmed_is_null() -> None:
    (authority,) = _first(finding(authority=(TO_BE_CONFIRMED,)))["authority"]
    assert authority["clause"] is None
    assert authority["grade"] == "memory"


def test_what_is_lacking_is_a_sentence_with_the_key_that_settles_it() -> None:
    one = _first(not_shown("fitting[in].lens", "sheet.response"))
    assert len(one["lacking"]) == 2
    assert one["settled_by"] == ["fitting[in].lens", "sheet.response"]


def test_a_remedy_carries_the_settings_that_make_it_hold() -> None:
    one = _first(failing())
    expected = {"fitting": "in", "setting": "settings.tilt", "value": "1.5 deg"}
    assert one["changes"] == [expected]
    assert one["targets"][0]["best"] == 0.064


def test_a_witness_is_a_pose_in_the_doorway_s_frame() -> None:
    witness = _first(failing())["witness"]
    assert witness["kind"] == "pose"
    assert witness["pose"]["x"] == 0.54
    assert witness["printed"] == {"from left post": 0.54}


def test_what_is_not_there_is_null_or_an_empty_list() -> None:
    one = _first(finding())
    empty = {key: one[key] for key in ("margin", "remedy", "witness", "fitting")}
    assert set(empty.values()) == {None}
    assert one["changes"] == one["lacking"] == one["assumed"] == []


def test_every_dimension_has_a_symbol() -> None:
    assert set(SI) == set(Dimension)


def test_the_same_studies_give_the_same_text() -> None:
    texts = {dumps(contract([study(*ALL)], site="A")) for _ in range(2)}
    assert len(texts) == 1
