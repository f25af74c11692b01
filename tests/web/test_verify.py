"""The page on which sealed records are checked, and the check for old browsers."""

import io
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from browsing.node import in_node
from limen.desk.seal_checks import KnownHere, check_seal
from limen.desk.seal_looks import looks_sealed
from limen.record import withdraw
from limen.web.verify_shown import MARKS, grouped, page_of, shown
from limen.words import languages, read_as
from record.seal_cases import Case, as_json, cases
from record.signing import DEVICE, FIRM, sealed
from web.conftest import HERE

ALL = list(cases())
NOBODY = KnownHere({}, ())
STATES = {
    "as it was sealed": "unchanged",
    "of a firm unknown": "unknown",
    "of a device lost": "withdrawn",
    "one letter": "changed",
    "a line more": "changed",
    "half of it": "changed",
    "sealed with a key twice": "changed",
    "with an empty certificate": "changed",
    "a page with another byte": "changed",
    "a page with more at its end": "changed",
    "a page without a seal": "unusable",
    "any text": "unusable",
    "nothing": "unusable",
}


def _known(one: Case) -> KnownHere:
    gone = tuple(text.decode("latin-1") for text in one.withdrawn)
    return KnownHere(dict.fromkeys(one.firms, "Weir & Söhne"), gone)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_every_file_comes_to_something_that_can_be_told(one: Case) -> None:
    told = check_seal(one.file, _known(one))
    assert told.unchanged == one.unchanged
    assert told.state in MARKS
    assert told.state == STATES.get(one.name, told.state)
    assert shown(one.name, told)["says"]


def test_only_what_is_sealed_by_a_firm_known_here_gets_the_mark_of_what_holds() -> None:
    for one in ALL:
        told = check_seal(one.file, _known(one))
        marked = shown(one.name, told)["mark"] == "holds"
        assert marked == (one.unchanged and one.trusted), one.name


SAID = """
async (load, { files, words }) => {
  const { verifyBytes } = await load("record/verifying.ts");
  const { looksSealed } = await load("verify/kinds.ts");
  const { stateOf, told } = await load("verify/telling.ts");
  const bytes = (text) => new Uint8Array(Buffer.from(text, "base64"));
  const said = [];
  for (const { file, firms, withdrawn, days } of files) {
    const trust = { firms, withdrawn: withdrawn.map(bytes) };
    const found = await verifyBytes(bytes(file), trust);
    const state = stateOf(found, looksSealed(bytes(file)));
    const day = (iso) => days[iso] ?? iso;
    const none = { record: null, carried: "" };
    said.push({ state, ...told(found, state, words, none, day) });
  }
  return said;
}
"""


@pytest.mark.parametrize("language", languages())
def test_the_page_says_by_itself_what_the_desk_says(
    language: str, tmp_path: Path
) -> None:
    with read_as(language):
        words = page_of(NOBODY, [])["words"]
        mine = [_told(one) for one in ALL]
        files = [{**as_json(one), "days": _days(language)} for one in ALL]
    given = {"files": files, "words": words}
    its = in_node(SAID, given, tmp_path)
    for one, here, there in zip(ALL, mine, its, strict=True):
        facts = [(f["name"], f["value"], f["digits"]) for f in there["facts"]]
        assert there["state"] == here["state"], one.name
        assert (there["mark"], there["word"]) == (here["mark"], here["word"])
        assert (there["says"], there["todo"]) == (here["says"], here["todo"])
        assert facts == here["facts"], one.name


def _told(one: Case) -> dict[str, Any]:
    told = check_seal(one.file, _known(one))
    return {"state": told.state, **shown(one.name, told)}


def _days(language: str) -> dict[str, str]:
    from limen.words import SOURCE, say_day

    days = (date(2026, 11, 20), date(2026, 11, 25))
    if language == SOURCE:
        return {}
    return {day.isoformat(): say_day(day, language) for day in days}


def test_the_page_is_there_and_names_no_firm(client: TestClient) -> None:
    page = client.get("/verify", headers={"Accept": "text/html"})
    assert page.status_code == 200
    assert "Check a sealed record" in page.text
    assert "None. Drop a firm" in page.text


def _sent(client: TestClient, *files: bytes, accept: str, **more: Any) -> Any:
    parts = [("file", (f"{n}.json", io.BytesIO(one))) for n, one in enumerate(files)]
    headers = {"Accept": accept}
    return client.post("/verify", files=parts, data=more, headers=headers)


def test_a_browser_that_cannot_check_is_told_by_the_desk(client: TestClient) -> None:
    lost = withdraw(FIRM, DEVICE.public, "lost", since=date(2026, 11, 26)).decode()
    asked = _sent(client, sealed(), accept="application/json", firm=[FIRM.public])
    assert asked.json()["state"] == "unchanged"
    assert asked.json()["signer"]["firmKey"] == FIRM.public
    more = {"firm": [FIRM.public, "no key"], "withdrawn": [lost, "nothing"]}
    asked = _sent(client, sealed(), accept="application/json", **more)
    assert asked.json()["state"] == "withdrawn"


def test_without_a_script_each_file_is_told_of_on_the_page(client: TestClient) -> None:
    changed = sealed().replace(b"in use", b"in Use")
    page = _sent(client, sealed(), changed, accept="text/html")
    assert page.status_code == 200
    assert "Unchanged, signer not known" in page.text
    assert "Changed or damaged" in page.text


def test_a_form_of_a_page_without_a_script_may_ask(client: TestClient) -> None:
    plain = {"Sec-Fetch-Site": "same-origin", "Origin": HERE, "Accept": "text/html"}
    asked = TestClient(client.app, base_url=HERE)
    parts = {"file": ("a.json", b"x")}
    assert asked.post("/verify", files=parts, headers=plain).status_code == 200
    other = plain | {"Origin": "http://elsewhere.example"}
    assert asked.post("/verify", files=parts, headers=other).status_code == 403
    elsewhere = asked.post("/sites", files=parts, headers=plain)
    assert elsewhere.status_code == 403


def test_a_record_with_its_photos_is_taken_and_no_more_than_that(
    client: TestClient,
) -> None:
    large = b"%PDF-1.7\n" + b"x" * 5_000_000
    asked = _sent(client, large, accept="application/json")
    assert asked.json()["state"] == "unusable"
    asked = _sent(client, b"x" * 61_000_000, accept="application/json")
    assert asked.status_code == 413


def test_no_file_at_all_is_said(client: TestClient) -> None:
    asked = client.post("/verify", data={"file": "text"})
    assert asked.status_code == 422
    assert "No file was sent" in asked.json()["lines"][0]


def test_the_demo_of_a_hostile_name_is_shown_as_text(client: TestClient) -> None:
    parts = [("file", ("<script>\x07.json", io.BytesIO(b"x")))]
    page = client.post("/verify", files=parts, headers={"Accept": "text/html"})
    assert "<script>\x07" not in page.text


def test_what_looks_sealed_is_called_changed_and_not_unusable() -> None:
    assert looks_sealed(sealed()[:-3])
    assert looks_sealed(b"\n" + sealed())
    assert not looks_sealed(b'{"limen": 1}')
    assert not looks_sealed(b"%PDF-1.7\n" + sealed())


def test_digits_are_grouped_as_one_reads_them_out() -> None:
    assert grouped("0123456789") == "0123 4567 89"


def test_the_words_of_the_page_are_all_of_them() -> None:
    words = page_of(NOBODY, [])["words"]
    assert {"says.seal", "trust.taken", "paper.none"} <= set(words)
    assert json.loads(json.dumps(words)) == words
