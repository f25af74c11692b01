"""Pages speak the reader's language: the one chosen, else the browser's."""

import re

import pytest
from starlette.datastructures import Headers
from starlette.testclient import TestClient

from limen.web.look import language_of
from limen.words import catalogue, languages

TITLE = "desk.help.not.title"


def _help(client: TestClient, **headers: str) -> str:
    return client.get("/help", headers=headers).text


@pytest.mark.parametrize("language", languages())
def test_a_page_says_in_which_language_it_is(client: TestClient, language: str) -> None:
    answer = client.get("/help", headers={"Accept-Language": language})
    assert f'<html lang="{language}"' in answer.text
    assert answer.headers["Content-Language"] == language
    assert catalogue(language).sentence(TITLE) in answer.text


def test_what_was_chosen_wins_over_what_the_browser_asks_for(
    client: TestClient,
) -> None:
    headers = {"Accept-Language": "fr", "Cookie": "limen_language=de"}
    assert '<html lang="de"' in client.get("/help", headers=headers).text


@pytest.mark.parametrize("cookie", ["", "xx", "../../etc", "<b>", '"de"; x'])
def test_a_cookie_that_names_no_language_counts_as_none(cookie: str) -> None:
    headers = Headers({"cookie": f"limen_language={cookie}", "accept-language": "fr"})
    assert language_of(headers) in languages()


def test_every_language_can_be_chosen_by_its_own_name(client: TestClient) -> None:
    page = _help(client)
    chosen = re.findall(r'name="language" value="(\w+)"[^>]*?(checked)?><span', page)
    assert [tag for tag, _ in chosen] == list(languages())
    assert [tag for tag, checked in chosen if checked] == ["en"]
    assert '<span lang="de">Deutsch</span>' in page


def test_refusals_speak_it_too(client: TestClient) -> None:
    headers = {"Accept-Language": "de"}
    told = client.get("/sites/nothing", headers=headers).json()
    assert told["lines"] == ["Ein solches Objekt gibt es hier nicht."]
    broken = client.get("/help", headers={**headers, "Host": "elsewhere.example"})
    assert broken.status_code == 421
    assert broken.text.startswith("Diese Adresse ist nicht die von limen.")


def test_scripts_are_told_the_decimal_sign(client: TestClient) -> None:
    page = _help(client, **{"Accept-Language": "de"})
    assert 'data-comma=","' in page
    assert 'data-comma="."' in _help(client)


def test_only_readers_of_another_language_are_told_of_the_rulebooks(
    client: TestClient,
) -> None:
    assert "look-note" not in _help(client)
    assert "look-note" in _help(client, **{"Accept-Language": "de"})
