"""What is far too large is refused with a message, and takes no room meanwhile."""

import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

from browsing import Desk, running

HUGE = 100_000_000
ROOM = 40_000  # kB: more than a page takes, less than half of what is sent
PIECE = b"#" * 1_000_000


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with running(tmp_path / "home") as one:
        yield one


def _head(desk: Desk, *more: str) -> bytes:
    host = desk.url.removeprefix("http://")
    lines = (
        "POST /sites HTTP/1.1",
        f"Host: {host}",
        f"Origin: {desk.url}",
        "Limen-Desk: 1",
        f"Content-Length: {HUGE}",
        *more,
    )
    return "\r\n".join((*lines, "", "")).encode()


def _connected(desk: Desk) -> socket.socket:
    host, port = desk.url.removeprefix("http://").split(":")
    return socket.create_connection((host, int(port)), timeout=60)


def _most_room(desk: Desk) -> int:
    """The most memory that the server ever had (kB); 0 where nobody says."""
    assert desk.process is not None
    said = Path(f"/proc/{desk.process.pid}/status")
    lines = said.read_text().splitlines() if said.exists() else []
    return next((int(one.split()[1]) for one in lines if one.startswith("VmHWM")), 0)


def test_a_hundred_megabytes_are_refused_and_not_kept_in_memory(desk: Desk) -> None:
    before = _most_room(desk)
    with _connected(desk) as line:
        line.sendall(_head(desk))
        for _ in range(HUGE // len(PIECE)):
            line.sendall(PIECE)
        reply = line.recv(4096)
    assert reply.startswith(b"HTTP/1.1 413 ")
    assert _most_room(desk) - before < ROOM
    assert desk.json("/sites") == []


def test_a_sender_that_asks_first_need_not_send_it(desk: Desk) -> None:
    with _connected(desk) as line:
        line.sendall(_head(desk, "Expect: 100-continue"))
        reply = line.recv(4096)
    assert reply.startswith(b"HTTP/1.1 413 ")
