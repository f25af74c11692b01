"""A form that a browser sends by itself counts as ours by two headers, both exact."""

import pytest

from limen.web.plain_form import plain_form

HOST = "127.0.0.1:8765"
SENT = {
    "content-type": "application/x-www-form-urlencoded",
    "origin": f"http://{HOST}",
    "sec-fetch-site": "same-origin",
}


@pytest.mark.parametrize(
    "path",
    [
        "/survey",
        "/sites/2a56b5b7e142/survey",
        "/sheets/new",
        "/sheets/x-1/change",
        "/sites/2a56b5b7e142/plan/name",
    ],
)
def test_the_forms_that_work_without_a_script_are_ours(path: str) -> None:
    assert plain_form(path, "POST", SENT, HOST)


@pytest.mark.parametrize("step", ["", "/add"])
def test_a_picture_of_a_plan_is_sent_without_a_script(step: str) -> None:
    sent = SENT | {"content-type": "multipart/form-data; boundary=x"}
    path = f"/sites/2a56b5b7e142/plan{step}"
    assert plain_form(path, "POST", sent, HOST)
    assert not plain_form(path, "POST", SENT, HOST)


@pytest.mark.parametrize("lacking", ["content-type", "origin", "sec-fetch-site"])
def test_one_header_missing_is_none_of_ours(lacking: str) -> None:
    less = {name: value for name, value in SENT.items() if name != lacking}
    assert not plain_form("/survey", "POST", less, HOST)


@pytest.mark.parametrize(
    "other",
    [
        {"origin": "http://evil.example"},
        {"origin": "https://127.0.0.1:8765"},
        {"origin": "http://127.0.0.1:8766"},
        {"origin": "http://localhost:8765"},
        {"origin": "null"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "none"},
        {"content-type": "text/plain"},
        {"content-type": "multipart/form-data; boundary=x"},
    ],
)
def test_one_header_that_names_another_place_or_kind_is_none_of_ours(
    other: dict[str, str],
) -> None:
    assert not plain_form("/survey", "POST", SENT | other, HOST)


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("PUT", "/survey"),
        ("DELETE", "/survey"),
        ("POST", "/sites"),
        ("POST", "/sites/2a56b5b7e142/site.toml"),
        ("POST", "/sheets/new/more"),
        ("POST", "/survey/../sites"),
        ("POST", "/sites/2a56b5b7e142/doorways/main/save"),
    ],
)
def test_no_other_address_is_asked_that_way(method: str, path: str) -> None:
    assert not plain_form(path, method, SENT, HOST)
