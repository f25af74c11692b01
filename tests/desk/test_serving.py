"""The desk listens on this machine alone, and says when it cannot."""

import socket

import pytest

from limen.desk.refusal import Refusal
from limen.desk.serving import address, listening


def test_a_free_port_is_taken_on_this_machine_alone() -> None:
    with listening(0) as here:
        host, port = here.getsockname()
        assert host == "127.0.0.1"
        assert address(here) == f"http://127.0.0.1:{port}/"


def test_a_port_that_is_taken_is_told() -> None:
    with listening(0) as here, pytest.raises(Refusal, match="taken"):
        listening(here.getsockname()[1])


def test_an_answer_does_not_wait_for_more_to_be_sent_with_it() -> None:
    """Asyncio sets TCP_NODELAY only where a socket names its protocol."""
    with listening(0) as here:
        assert here.proto == socket.IPPROTO_TCP
