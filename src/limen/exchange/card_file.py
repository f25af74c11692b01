"""The job card as one page that needs nothing beside it: script, style, letters, packs.

It asks nothing of any network and runs nothing but its own script: its policy names
that script and that style by their digests.
"""

import json
from base64 import b64encode
from collections.abc import Mapping, Sequence
from hashlib import sha256
from html import escape

from limen.exchange.contract import Json

_FORBIDDEN = ("</script", "<!--", "</style")


class CardFileError(ValueError):
    """A script or a style that would end before its end, inside a page."""


def card_file(
    packs: Sequence[Json],
    *,
    words: Mapping[str, str],
    own: Mapping[str, str],
    title: str,
    no_script: str,
    language: str,
    script: str,
    style: str,
) -> str:
    """A page with cards inside.

    Args:
        packs: what each doorway is given along.
        words: the card's sentences by key.
        own: what only such a file says, by key.
        title: of the page.
        no_script: what is said where the script does not run.
        language: of all words.
        script: of the card, whole.
        style: of the card, letters inside.

    Raises:
        CardFileError: script or style cannot stand inside a page.
    """
    for text in (script, style):
        if any(one in text.lower() for one in _FORBIDDEN):
            raise CardFileError("cannot stand inside a page")
    given = _quoted({"packs": list(packs), "words": dict(words), "own": dict(own)})
    return _PAGE.format(
        language=escape(language),
        policy=_policy(script, style),
        title=escape(title),
        style=style,
        no_script=escape(no_script),
        given=given,
        script=script,
    )


def _policy(script: str, style: str) -> str:
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src '{_named(script)}'",
            f"style-src '{_named(style)}'",
            "img-src data: blob:",
            "font-src data:",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _named(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode()}"


def _quoted(value: object) -> str:
    """JSON in which nothing can be taken for the end of its element."""
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028")


_PAGE = """<!doctype html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="color-scheme" content="light dark">
<title>{title} · limen</title>
<style>{style}</style>
</head>
<body class="card-page">
<div id="card"><noscript><main>
<h1>{title}</h1>
<p>{no_script}</p>
</main></noscript></div>
<script type="application/json" id="card-given">{given}</script>
<script>{script}</script>
</body>
</html>
"""
