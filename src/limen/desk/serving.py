"""A port of this machine's own, for the planning desk."""

import errno
import socket

from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

HERE = "127.0.0.1"
PORT = 8765


def listening(port: int) -> socket.socket:
    """A socket that only this machine reaches; port 0 takes any that is free.

    Raises:
        Refusal: the port is taken, or may not be used.
    """
    # Named as TCP, or asyncio does not know it for one and lets each answer wait 40 ms
    # for more to send with it (Nagle's algorithm against delayed acknowledgement).
    here = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    here.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        here.bind((HERE, port))
        here.listen()
    except OSError as error:
        here.close()
        known = error.errno in {errno.EADDRINUSE, errno.EACCES}
        why = Message("desk.serve.port", {"port": port})
        raise Refusal([say(why) if known else str(error)]) from error
    return here


def address(here: socket.socket) -> str:
    """What to type into a browser."""
    return f"http://{HERE}:{here.getsockname()[1]}/"
