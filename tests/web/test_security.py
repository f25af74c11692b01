"""Only this machine's own pages are answered, and a page may do nothing it need not."""

import pytest
from starlette.testclient import TestClient

from limen.store.database import Library
from limen.web.security import MOST_BYTES, POLICY

HERE = "127.0.0.1:8765"
HOME = f"http://{HERE}"


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:80",
        f"{HERE}.evil.example",
        "",
        "[::1]:8765",
    ],
)
def test_another_name_is_not_answered(client: TestClient, host: str) -> None:
    """A name elsewhere that is made to lead here, as DNS rebinding does."""
    reply = client.get("/", headers={"Host": host})
    assert reply.status_code == 421
    assert "limen" in reply.text


@pytest.mark.parametrize("host", [HERE, "localhost:8765", "LOCALHOST:8765"])
def test_our_own_names_are_answered(client: TestClient, host: str) -> None:
    assert client.get("/sites", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:8766"},
        {"Origin": f"https://{HERE}"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
        {"Sec-Fetch-Site": "same-origin", "Origin": "http://evil.example"},
    ],
)
def test_what_another_page_sends_changes_nothing(
    client: TestClient, headers: dict[str, str]
) -> None:
    before = client.get("/sites").json()
    reply = client.post("/sites", headers=headers, data={"demo": "as-found"})
    assert reply.status_code == 403
    assert client.get("/sites").json() == before


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS"])
@pytest.mark.parametrize("lacking", ["Limen-Desk", "Origin"])
def test_without_our_header_or_an_origin_nothing_is_done(
    client: TestClient, method: str, lacking: str
) -> None:
    request = client.build_request(method, "/sites")
    del request.headers[lacking]
    assert client.send(request).status_code == 403


def test_no_answer_lets_another_page_in(client: TestClient) -> None:
    reply = client.get("/sites", headers={"Origin": "http://evil.example"})
    assert not [name for name in reply.headers if name.startswith("access-control")]


@pytest.mark.parametrize(
    "path", ["/", "/sites", "/help", "/nowhere", "/static/none.js", "/openapi.json"]
)
def test_every_answer_says_what_a_page_may_do(client: TestClient, path: str) -> None:
    headers = client.get(path).headers
    assert headers["Content-Security-Policy"] == POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cross-Origin-Opener-Policy"] == "same-origin"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "Cache-Control" in headers


def test_a_refusal_carries_the_same_headers(client: TestClient) -> None:
    reply = client.get("/", headers={"Host": "evil.example"})
    assert reply.headers["Content-Security-Policy"] == POLICY


def test_the_policy_has_no_exception() -> None:
    assert "unsafe" not in POLICY
    assert POLICY.startswith("default-src 'none'; script-src 'self'; style-src 'self';")


def test_a_body_that_is_too_large_is_refused_with_a_message(client: TestClient) -> None:
    reply = client.post("/sites", content=b"#" * (MOST_BYTES + 1))
    assert reply.status_code == 413
    assert "2 MB" in reply.text


def test_a_body_that_does_not_say_its_length_is_counted(client: TestClient) -> None:
    pieces = (b"#" * 100_000 for _ in range(30))
    assert client.post("/sites", content=pieces).status_code == 413


def test_a_site_file_at_the_limit_is_read_and_one_above_it_told(
    client: TestClient,
) -> None:
    reply = client.post("/sites", content=b"#" * 2_000_001)
    assert reply.status_code == 422
    assert "2 MB" in reply.json()["lines"][0]


@pytest.mark.parametrize(
    "path", ["/static/../app.py", "/static/%2e%2e/app.py", "/sites/..%2f..%2fetc"]
)
def test_a_way_out_of_the_folder_leads_nowhere(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_no_page_of_documentation_loads_from_elsewhere(client: TestClient) -> None:
    assert client.get("/docs").status_code == 404
    assert client.get("/redoc").status_code == 404


def test_a_mistake_of_ours_is_owned_up_to_with_the_same_headers(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(Library, "sites", broken)
    quiet = TestClient(client.app, base_url=HOME, raise_server_exceptions=False)
    reply = quiet.get("/sites")
    assert reply.status_code == 500
    assert "mistake of its own" in reply.text
    assert reply.headers["Content-Security-Policy"] == POLICY
