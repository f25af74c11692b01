"""Readings on a page: what was typed, field by field, and what becomes of it."""

import re
from typing import TYPE_CHECKING, Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient

from browsing import demo_text
from limen.desk.fitting import FileFaults, read_typed, readings_text, typed
from limen.findings import Lack, Message
from limen.web import readings_found
from limen.web.plain_form import plain_form
from limen.web.readings_form import KINDS, Filled, by_field, filled, refilled, sent

if TYPE_CHECKING:
    from collections.abc import Mapping

TAPED = {
    "units": "metric",
    "u0.fitting": "outside",
    "u0.lens.height": "2200 ± 3",
    "u0.lens.from_leaf": "155 ± 3",
    "u0.lens.along": "0",
    **{
        f"u0.r{name}.{part}": value
        for name, parts in {
            "1": {"kind": "row line", "from": "from_left", "out": "106"},
            "2": {"kind": "row line", "from": "from_right", "out": "108"},
            "3": {"kind": "row end", "from": "from_left", "end": "left"},
            "4": {"kind": "row end", "from": "from_right", "end": "right"},
            "5": {"kind": "spot centre", "from": "from_left", "out": "107"},
        }.items()
        for part, value in {**parts, "row": "1"}.items()
    },
    "u0.r1.place": "100",
    "u0.r2.place": "100",
    "u0.r3.place": "−300",
    "u0.r4.place": "-296",
    "u0.r5.place": "943",
}
ONE = {"u0.fitting": "inside", "u0.r4.kind": "row line", "u0.r4.from": "from_left"}


def _values(form: "Mapping[str, str]") -> dict[str, Any]:
    return cast("dict[str, Any]", sent(filled(form, "metric"), "a", "main").values)


def _readings(form: "Mapping[str, str]") -> list[dict[str, Any]]:
    (unit,) = _values(form)["unit"]
    return unit["reading"]


def _post(client: TestClient, site: str, **more: str) -> Any:
    path = f"/sites/{site}/doorways/main/readings"
    return client.post(path, data=TAPED | more)


@pytest.fixture
def site(client: TestClient) -> str:
    """The invented building, as found."""
    kind = {"Content-Type": "application/toml"}
    reply = client.post("/sites", content=demo_text(), headers=kind)
    return str(reply.json()["id"])


# The form ------------------------------------------------------------------------


def test_a_bare_number_has_the_unit_of_its_field() -> None:
    form = filled({**ONE, "u0.r4.out": "78 ± 3", "u0.r4.place": "−40"}, "metric")
    (read,) = _readings(form.fields)
    assert read["out"] == "78 mm ± 3 mm"
    assert read["from_left"] == "-40 mm"
    feet = filled({**ONE, "u0.r4.out": "3 1/8", "u0.r4.place": "-1 1/2"}, "feet")
    told = cast("dict[str, Any]", sent(feet, "a", "main").values)
    (read,) = told["unit"][0]["reading"]
    assert (read["out"], read["from_left"]) == ("3 1/8 in", "-1 1/2 in")


def test_nothing_typed_is_no_reading_and_half_of_one_says_what_it_lacks() -> None:
    assert sent(filled(ONE, "metric"), "a", "main").values == {}
    half = sent(filled({**ONE, "u0.r4.out": "78"}, "metric"), "a", "main")
    assert half.values == {}
    assert half.open == {"u0.r4.place": "say where along the opening, too"}


def test_a_row_that_is_not_known_is_left_open() -> None:
    known = {**ONE, "u0.r4.out": "78", "u0.r4.place": "100"}
    assert "row" not in _readings({**known, "u0.r4.row": "?"})[0]
    assert _readings({**known, "u0.r4.row": "2"})[0]["row"] == 2


def test_what_is_wrong_is_told_at_its_field_though_readings_before_are_empty() -> None:
    wrong = {**ONE, "u0.r4.out": "7 kg", "u0.r4.place": "5", "u0.lens.height": "99 m"}
    form = sent(filled(wrong, "metric"), "a", "main")
    with pytest.raises(FileFaults) as refused:
        typed(form.values)
    told = by_field(refused.value, form)
    assert told.keys() == {"u0.r4.out", "u0.lens.height"}
    assert "kg measures mass" in told["u0.r4.out"]


def test_fields_that_the_page_does_not_have_are_not_read() -> None:
    form = filled({**ONE, "u0.r4.evil": "x", "doorway": "other", "u0": "y"}, "metric")
    assert form.fields.keys() == ONE.keys()


KIND = st.sampled_from(KINDS)
FAR = st.integers(0, 4000)


@given(KIND, FAR, FAR, st.booleans(), st.sampled_from(("?", "1", "2")))
def test_a_file_of_readings_fills_the_form_that_gives_it_back(
    kind: str, out: int, place: int, struck: bool, row: str
) -> None:
    form = {
        "u0.fitting": "inside",
        "u0.lens.height": "2203 mm ± 3 mm",
        "u0.r1.kind": kind,
        "u0.r1.from": "from_right",
        "u0.r1.place": f"{place} mm",
        "u0.r1.row": row,
        "u0.r1.end": "right",
        "u0.r1.out": f"{out} mm",
        "u0.r1.height": "700 mm",
        "u0.r1.struck": "yes" if struck else "",
    }
    readings = typed(_values(filled(form, "metric").fields))
    again = refilled(read_typed(readings_text(readings)), {"inside": 3}, "metric")
    moved = {key.replace("u3.", "u0."): one for key, one in again.fields.items()}
    assert typed(_values(filled(moved, "metric").fields)) == readings


# What is said --------------------------------------------------------------------


def test_readings_are_called_as_in_the_form_whatever_their_place_in_the_file() -> None:
    said = Message(
        "readings.and",
        {
            "first": Message("x", {"number": 2}),
            "second": Message("y", {"numbers": "1, 2"}),
        },
    )
    told = readings_found._renumbered(said, ("3", "7"))
    first, second = told.values["first"], told.values["second"]
    assert isinstance(first, Message)
    assert isinstance(second, Message)
    assert first.values["number"] == "7"
    assert second.values["numbers"] == "3, 7"


@pytest.mark.parametrize(
    ("key", "field"),
    [
        ("unit[inside].lens.height", "u1.lens.height"),
        ("unit[inside].reading.end.right", "u1.r4.place"),
        ("unit[inside].reading.line.left", "u1.r1.out"),
        ("unit[inside].reading[2]", "u1.r7.place"),
        ("unit[inside].reading[1].row", "u1.r3.row"),
    ],
)
def test_what_is_lacking_leads_to_the_field_it_is_typed_in(
    key: str, field: str
) -> None:
    lack = Lack(Message("readings.lack.height", {"fitting": "inside"}), key)
    assert readings_found._wanted(lack.key, "u1", ("3", "7")) == field


# The page ------------------------------------------------------------------------


def test_a_look_answers_with_what_was_found_and_keeps_nothing(
    client: TestClient, site: str
) -> None:
    reply = _post(client, site, act="look")
    body = reply.json()
    assert reply.headers["ETag"] == '"1"'
    assert body["outcomes"] == {"outside": "fitted"}
    assert body["faults"] == {}
    assert body["later"]
    assert client.get(f"/sites/{site}/text").status_code in {200, 405}


def test_writing_wants_the_version_that_was_read(client: TestClient, site: str) -> None:
    assert _post(client, site, act="write").status_code == 428


def test_nothing_is_written_while_a_reading_is_not_finished(
    client: TestClient, site: str
) -> None:
    path = f"/sites/{site}/doorways/main/readings"
    half = TAPED | {"act": "write", "u0.r5.place": ""}
    reply = client.post(path, data=half, headers={"If-Match": '"1"'})
    assert reply.status_code == 422
    assert "u0.r5.place" in reply.json()["open"]


def test_what_is_written_is_one_version_with_what_the_tape_showed(
    client: TestClient, site: str
) -> None:
    path, first = f"/sites/{site}/doorways/main/readings", {"If-Match": '"1"'}
    form = TAPED | {"act": "write"}
    reply = client.post(path, data=form, headers=first)
    assert reply.status_code == 200, reply.text
    assert reply.json()["version"] == 2
    text = client.get(f"/sites/{site}/site.toml").text
    assert re.search(r"first_row = \"10\d", text)
    late = client.post(path, data=form | {"u0.r1.out": "112"}, headers=first)
    assert late.status_code == 412
    assert late.json()["version"] == 2
    assert client.get(f"/sites/{site}/site.toml").text == text


def test_writing_asks_no_study(
    client: TestClient, site: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page that follows asks for its own; two of one door would be one too many."""

    def asked(*_: object, **__: object) -> None:
        pytest.fail("a study was asked")

    monkeypatch.setattr("limen.tune.fitting.study", asked)
    monkeypatch.setattr("limen.desk.fitting.study_of", asked)
    path = f"/sites/{site}/doorways/main/readings"
    form, first = TAPED | {"act": "write"}, {"If-Match": '"1"'}
    assert client.post(path, data=form, headers=first).status_code == 200


def test_readings_of_another_door_are_not_taken_in(
    client: TestClient, site: str
) -> None:
    path = f"/sites/{site}/doorways/main/readings"
    text = readings_text(typed(_values(TAPED))).replace('"main"', '"staff"')
    reply = client.post(path, data={"act": "take", "text": text})
    assert reply.status_code == 422
    assert "staff" in reply.json()["lines"][0]
    broken = client.post(path, data={"act": "take", "text": "unit = ["})
    assert broken.status_code == 422
    assert broken.json()["lines"][0]


def test_the_sheet_to_print_is_a_pdf_of_either_paper(
    client: TestClient, site: str
) -> None:
    for paper in ("a4", "letter"):
        path = f"/sites/{site}/doorways/main/readings.pdf"
        reply = client.get(path, params={"paper": paper})
        assert reply.content.startswith(b"%PDF")
    assert client.get(f"/sites/{site}/doorways/nowhere/readings.pdf").status_code == 422


def test_a_browser_without_scripts_may_send_the_form() -> None:
    headers = {
        "content-type": "application/x-www-form-urlencoded",
        "sec-fetch-site": "same-origin",
        "origin": "http://127.0.0.1:1",
    }
    path = "/sites/abc/doorways/main/readings"
    assert plain_form(path, "POST", headers, "127.0.0.1:1")
    assert not plain_form(path + "/x", "POST", headers, "127.0.0.1:1")


def test_one_reading_more_can_be_asked_for_without_scripts(
    client: TestClient, site: str
) -> None:
    path = f"/sites/{site}/doorways/main/readings"
    form = TAPED | {"act": "add", "u0.add": "box edge in"}
    reply = client.post(path, data=form, headers={"Accept": "text/html"})
    assert 'name="u0.r6.height"' in reply.text
    assert 'value="106"' in reply.text


def test_what_is_typed_is_shown_as_text_never_as_markup(
    client: TestClient, site: str
) -> None:
    evil = '"><script>alert(1)</script>'
    path = f"/sites/{site}/doorways/main/readings"
    form = TAPED | {"u0.r1.out": evil, "u0.r2.spot": evil}
    reply = client.post(path, data=form, headers={"Accept": "text/html"})
    assert "<script>alert" not in reply.text


def test_an_empty_form_shows_nothing(client: TestClient, site: str) -> None:
    path = f"/sites/{site}/doorways/main/readings"
    body = client.post(path, data={"act": "look"}).json()
    assert body["outcomes"] == {}
    assert not body["writes"]
    assert Filled().names(0) == []


def test_more_readings_than_a_file_takes_are_told_not_cut_off(
    client: TestClient, site: str
) -> None:
    path = f"/sites/{site}/doorways/main/readings"
    many = {
        f"u0.r{number}.{part}": value
        for number in range(6, 50)
        for part, value in (("kind", "row line"), ("out", "80"), ("place", "90"))
    }
    body = client.post(path, data=TAPED | many | {"act": "look"}).json()
    assert "" in body["faults"]
    assert body["outcomes"] == {}
