"""A study in brief, as a record carries it: nothing of it is lost but words."""

import json
from collections import Counter
from hashlib import sha256
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from limen.desk.checking import Checked, check
from limen.exchange.recorded import recorded
from limen.findings import Study, Verdict

SITE = Path(str(files("limen").joinpath("demo", "alder-quay-as-found.toml")))


@pytest.fixture(scope="module")
def found() -> Checked:
    return check(SITE, "staff")


@pytest.fixture(scope="module")
def study(found: Checked) -> Study:
    return found.studies[0]


@pytest.fixture(scope="module")
def brief(found: Checked) -> tuple[dict[str, Any], str]:
    return recorded(found.studies[0], site=found.site.name)


def test_every_finding_is_in_it_once(
    study: Study, brief: tuple[dict[str, Any], str]
) -> None:
    said = Counter(
        (row["question"], row["verdict"], row["weight"], one.get("fitting"))
        for row in brief[0]["findings"]
        for one in row["cases"]
    )
    there = Counter(
        (one.question, one.verdict.value, one.weight.value, one.fitting)
        for one in study.findings
    )
    assert said == there


def test_what_does_not_hold_says_why(brief: tuple[dict[str, Any], str]) -> None:
    for row in brief[0]["findings"]:
        assert ("because" in row) == (row["verdict"] != Verdict.HOLDS)


def test_every_finding_rests_on_what_its_study_rests_on(
    study: Study, brief: tuple[dict[str, Any], str]
) -> None:
    named = {one["document"] for one in brief[0]["authorities"]}
    assert named == {a.document for one in study.findings for a in one.authority}
    for row in brief[0]["findings"]:
        assert all(0 <= at < len(brief[0]["authorities"]) for at in row["by"])


def test_a_margin_is_as_it_was_to_a_thousandth_of_a_millimetre(
    study: Study, brief: tuple[dict[str, Any], str]
) -> None:
    said = sorted(
        one["margin"]["value"]
        for row in brief[0]["findings"]
        for one in row["cases"]
        if "margin" in one
    )
    there = sorted(one.margin.value for one in study.findings if one.margin)
    assert said == pytest.approx(there, abs=5e-7)


def test_the_whole_contract_is_named_by_its_digest(
    study: Study, brief: tuple[dict[str, Any], str]
) -> None:
    said, whole = brief
    assert sha256(whole.encode()).hexdigest() == said["contract"]
    (doorway,) = json.loads(whole)["doorways"]
    assert len(doorway["findings"]) == len(study.findings)


def test_it_is_much_shorter_than_the_whole(brief: tuple[dict[str, Any], str]) -> None:
    said, whole = brief
    assert len(json.dumps(said)) < len(whole) / 4
