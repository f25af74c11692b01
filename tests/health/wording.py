"""Words that the product must not say, and traces that must not stay."""

import re
from collections.abc import Iterator

BANNED = re.compile(r"\b(?:safe|compliant|certified)\b|\bOK\b", re.IGNORECASE)
# "limen never says safe" is what we want to say; "fail-safe" is the trade's word.
_DENIED = re.compile(r"\b(?:never|not|no|nor|nobody|without)\b", re.IGNORECASE)
_TRADE = re.compile(r"\bfail[- ]safe\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.!?;:])\s+|\n\s*\n")

# Put together from parts, so that this file does not hold what it looks for.
_PLACES = ("/wor" + "k/", "/far" + "m/", "/tm" + "p/", "/roo" + "t/", "/hom" + "e/")
_HOSTS = ("pypi" + ".org", "python" + "hosted", "registry.npm" + "js")
_TALK = ("chat" + "bot", "TO" + "DO", "FIX" + "ME", "X" * 3)
# A web client is one, and so is a walker of the simulator that tests ask.
_AGENT = re.compile(
    r"(?<!user )(?<!user-)(?<!simulation\.)\b(?:sub-?)?agen[t]s?\b", re.IGNORECASE
)
_TICKET = re.compile(r"\b(?:issue|ticket|pull request) ?#?\d+\b", re.IGNORECASE)


def promises(text: str) -> Iterator[str]:
    """Sentences that say more than limen can know."""
    for sentence in _SENTENCE.split(_TRADE.sub("", text)):
        if BANNED.search(sentence) and not _DENIED.search(sentence):
            yield " ".join(sentence.split())


def traces(text: str) -> Iterator[str]:
    """Machine paths, package hosts and talk about how the work was done."""
    for number, line in enumerate(text.splitlines(), 1):
        plain = any(part in line for part in (*_PLACES, *_HOSTS, *_TALK))
        if plain or _AGENT.search(line) or _TICKET.search(line):
            yield f"{number} {line.strip()}"
