"""How far a longer piece of work is, on one line that is wiped when it is done."""

import sys
from collections.abc import Callable

from limen.findings import Message
from limen.words import say

WORTH_IT = 40
"""Units below which the work is done before the line could be read."""


def progress() -> Callable[[int, int], None] | None:
    """A line on the terminal; None where nobody looks at one."""
    if not sys.stderr.isatty():
        return None

    def told(done: int, every: int) -> None:
        if every < WORTH_IT:
            return
        said = say(Message("channels.working", {"done": done, "all": every}))
        end = "\r" if done < every else "\r" + " " * len(said) + "\r"
        sys.stderr.write(("\r" + said if done < every else "") + end)
        sys.stderr.flush()

    return told
