"""The server: what is settled before the first answer."""

import gc
import socket
from pathlib import Path

import pytest
import uvicorn

from limen.web.app import create_app
from limen.web.serving import until_ended


def test_what_stays_is_not_looked_through_for_garbage_while_it_answers(
    static: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept: list[tuple[int, int]] = []

    def answer(*_: object, **__: object) -> None:
        kept.append((gc.get_freeze_count(), len(gc.get_objects())))

    monkeypatch.setattr(uvicorn.Server, "run", answer)
    app = create_app(tmp_path / "library.db", static=static)
    before = gc.get_freeze_count()
    try:
        with socket.socket() as here:
            until_ended(app, here, "", show=False)
    finally:
        gc.unfreeze()
    ((frozen, others),) = kept
    assert frozen - before > others
