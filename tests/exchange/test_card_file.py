"""One page with all inside: nothing in it ends early, and it asks nobody."""

import json
import re
from base64 import b64encode
from hashlib import sha256
from html.parser import HTMLParser
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.exchange.card_file import CardFileError, card_file

SCRIPT, STYLE = "(() => { const a = 1 < 2; })();", "p{color:red}"


def _page(pack: dict[str, Any] | None = None, **more: str) -> str:
    said: dict[str, Any] = {
        "words": {"card.title": "Job card"},
        "own": {},
        "title": "Job card, Main",
        "no_script": "Open it in a browser.",
        "language": "en",
        "script": SCRIPT,
        "style": STYLE,
    }
    return card_file([pack or {}], **{**said, **more})


class _Read(HTMLParser):
    """The page as a browser cuts it."""

    def __init__(self) -> None:
        super().__init__()
        self.scripts: list[tuple[dict[str, str | None], str]] = []
        self.policy = ""
        self._in: dict[str, str | None] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "meta" and said.get("http-equiv") == "Content-Security-Policy":
            self.policy = said["content"] or ""
        if tag == "script":
            self._in = said
            self.scripts.append((said, ""))

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._in = None

    def handle_data(self, data: str) -> None:
        if self._in is not None:
            said, before = self.scripts[-1]
            self.scripts[-1] = said, before + data


def _read(page: str) -> _Read:
    read = _Read()
    read.feed(page)
    return read


HARD = st.text() | st.sampled_from(
    ["</script>", "<!--", "<script", "]]>", "\u2028", "{0}", "&amp;", "$&", "\\u003c"]
)


@given(st.dictionaries(HARD, HARD, max_size=4), HARD, HARD)
def test_whatever_a_doorway_is_called_comes_out_as_it_went_in(
    pack: dict[str, str], title: str, word: str
) -> None:
    page = _page({**pack, "name": title}, title=title, no_script=word)
    (said, given_), (_, script) = _read(page).scripts
    assert said == {"type": "application/json", "id": "card-given"}
    assert json.loads(given_)["packs"] == [{**pack, "name": title}]
    assert script == SCRIPT


def test_its_policy_names_this_script_and_this_style_and_no_address() -> None:
    policy = _read(_page()).policy
    for text in (SCRIPT, STYLE):
        digest = b64encode(sha256(text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'")
    assert not re.search(r"https?:|\*|unsafe|self", policy)


@pytest.mark.parametrize("end", ["</script>", "</SCRIPT", "<!-- ", "</style>"])
def test_a_script_or_style_that_would_end_early_is_refused(end: str) -> None:
    with pytest.raises(CardFileError):
        _page(script=f'"{end}"')
    with pytest.raises(CardFileError):
        _page(style=end)


def test_what_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match="Out of range"):
        _page({"minutes": float("nan")})
