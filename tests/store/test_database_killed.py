"""Whatever was answered is on the disk, though the process be killed at any moment."""

import random
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from time import sleep

import pytest

from limen.store.database import open_library

ROUNDS = 12
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from limen.store.database import open_library
library = open_library(Path(sys.argv[1]), lambda: datetime.now(UTC), lambda: "site")
site = library.read("site")
while True:
    number = site.version + 1
    site = library.save("site", f"text {number} " + "x" * 20_000, site.version)
    print(site.version, flush=True)
"""


@pytest.mark.slow
def test_no_answered_save_is_lost_when_the_process_is_killed(tmp_path: Path) -> None:
    path = tmp_path / "library.db"
    library = open_library(path, lambda: NOON, lambda: "site")
    library.add("A", "text 1")
    library.close()
    chance = random.Random(20261125)
    answered = 1
    for _ in range(ROUNDS):
        answered = max(answered, _killed(path, chance.uniform(0.0, 0.12)))
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        library = open_library(path, lambda: NOON, lambda: "site")
        kept = library.read("site")
        library.close()
        assert kept.version >= answered
        assert kept.text.startswith(f"text {kept.version}")
    assert answered > ROUNDS


def _killed(path: Path, after: float) -> int:
    """The last version that a writer told before it was killed."""
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(path)], stdout=subprocess.PIPE, text=True
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    sleep(after)
    writer.kill()
    told, _ = writer.communicate()
    whole = (first + told).rpartition("\n")[0]  # the last line may be cut
    return int(whole.splitlines()[-1]) if whole else 0
