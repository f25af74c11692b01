"""What `limen serve` does."""

from limen.cli.paper import paper
from limen.desk.serving import address, listening
from limen.findings import Message
from limen.words import say


def serve(port: int, *, show: bool) -> int:
    """Serve the planning desk until it is ended; returns the exit status."""
    from limen.web.serving import ready, until_ended

    with listening(port) as here:
        app, where = ready(), address(here)
        paper(error=True).put_text(say(Message("desk.serve.open", {"address": where})))
        until_ended(app, here, where, show=show)
    return 0
