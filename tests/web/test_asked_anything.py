"""Every route is asked whatever its description allows, and much that it does not.

Cases are drawn by Schemathesis from /openapi.json.  Half of them name a site and a
doorway that are there.  No answer may be a mistake of the server's, and each status
must be one that the description lists.
"""

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import status_code_conformance
from starlette.testclient import TestClient

from limen.store.starter import starter_text

KNOWN = {"number": "1", "unit": "outside", "way": "undo", "If-Match": '"1"'}
SLOW_TO_MAKE = ("report.pdf", "template.pdf")


@pytest.fixture(scope="module")
def described(client: TestClient) -> Any:
    """The description, on a server that has a site."""
    kept = client.post("/sites", content=starter_text()).json()
    doors = client.get(f"/sites/{kept['id']}/doorways").json()
    known = KNOWN | {"site_id": kept["id"], "door": doors[0]["id"]}
    known["doorway"] = known["door"]
    schema = schemathesis.openapi.from_dict(client.get("/openapi.json").json())
    return schema, known


@pytest.mark.parametrize(
    "examples", [2, pytest.param(200, marks=pytest.mark.slow)], ids=str
)
def test_no_route_breaks_or_answers_what_it_does_not_say(
    client: TestClient, described: Any, examples: int
) -> None:
    schema, known = described
    asked: list[str] = []
    for found in schema.get_all_operations():
        operation = found.ok()
        few = (
            max(1, examples // 10)
            if operation.path.endswith(SLOW_TO_MAKE)
            else examples
        )
        _ask(client, operation, known, few)
        asked.append(operation.label)
    assert len(asked) == len(set(asked)) > 20


def _known(case: Any, known: dict[str, str]) -> None:
    """Put what is there in place of what was drawn."""
    for drawn in (case.path_parameters, case.query, case.headers):
        for name in drawn or {}:
            drawn[name] = known.get(name, drawn[name])
    if isinstance(case.body, dict) and "version" in case.body:
        case.body["version"] = 1


def _part(part: Any) -> Any:
    """A part of a form as bytes: what is drawn may be no file at all."""
    if isinstance(part, tuple):
        return (part[0], _part(part[1]), *part[2:])
    return part if isinstance(part, str | bytes) else str(part).encode()


def _ask(client: TestClient, operation: Any, known: dict[str, str], times: int) -> None:
    takes_text = any(one.media_type == "application/toml" for one in operation.body)

    @settings(
        max_examples=times,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
    )
    @given(case=operation.as_strategy(), there=st.booleans())
    def ask(case: Any, there: bool) -> None:
        if there:
            _known(case, known)
        sent = case.as_transport_kwargs(base_url=str(client.base_url))
        sent.pop("cookies", None)
        if isinstance(sent.get("data"), bytes | str):  # a body as it is, no form
            sent["content"] = sent.pop("data")
        if isinstance(sent.get("files"), list):
            sent["files"] = [(name, _part(part)) for name, part in sent["files"]]
        if there and takes_text:
            for name in ("data", "json", "files"):
                sent.pop(name, None)
            sent["content"] = starter_text()
            sent["headers"]["Content-Type"] = "application/toml"
        sent["headers"] = {**sent["headers"], "Origin": str(client.base_url)}
        reply = client.request(**sent)
        case.validate_response(
            reply, checks=[not_a_server_error, status_code_conformance]
        )

    ask()
