"""From what a command does, or fails to do, to an exit status."""

import functools
import os
import sys
import traceback
from collections.abc import Callable
from contextvars import copy_context
from typing import ParamSpec

import typer

REFUSED, BROKEN, INTERRUPTED, CLOSED = 2, 70, 130, 141

P = ParamSpec("P")


def guarded(work: Callable[P, int]) -> Callable[P, None]:
    """Run a command; end with its status, and never with a trace.

    Args:
        work: what the command does; returns its exit status.

    Returns:
        The command as the command line calls it.
    """

    @functools.wraps(work)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        # What a command says about its reader ends with it.
        asked = functools.partial(work, *args, **kwargs)
        raise typer.Exit(copy_context().run(_status, asked))

    return run


def _status(work: Callable[[], int]) -> int:
    from limen.desk.refusal import Refusal

    try:
        code = work()
        sys.stdout.flush()
    except Refusal as refusal:
        return _refused(refusal.lines)
    except BrokenPipeError:
        # The reader has gone; the flush at the end must not complain again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLOSED
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:  # noqa: BLE001 - whatever it is, it is ours
        return _broken(error)
    return code


def _refused(lines: tuple[str, ...]) -> int:
    """Tell what cannot be used, to the error stream."""
    for line in lines:
        print(line, file=sys.stderr)  # noqa: T201
    return REFUSED


def _broken(error: Exception) -> int:
    """Own up to a mistake of limen's, in one sentence."""
    from limen.findings import Message
    from limen.words import say

    if os.environ.get("LIMEN_DEBUG"):
        traceback.print_exception(error)
    print(say(Message("error.unexpected")), file=sys.stderr)  # noqa: T201
    return BROKEN
