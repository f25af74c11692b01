"""How long the command takes to start, against ``python -c "import numpy"``.

Prints medians and ratios of one run: ``limen --help`` (aim 3) and a cold
``limen check`` of the demo site's staff door with the compiled search cached
(aim 10).  Both by the clock and by the processor's time, which other work on the
machine hardly changes.  Modules must have been compiled to bytecode, as pip does:
else most of what is measured is that.

    python bench/startup.py [RUNS]
"""

import os
import subprocess
import sys
from importlib.resources import files
from statistics import median
from time import perf_counter

SITE = str(files("limen") / "demo" / "alder-quay-corrected.toml")
COMMANDS = {
    'python -c "import numpy"': ["-c", "import numpy"],
    "limen --help": ["-m", "limen", "--help"],
    "limen check, one doorway": ["-m", "limen", "check", SITE, "--doorway", "staff"],
    "limen check, five doorways": ["-m", "limen", "check", SITE],
}


def main(runs: int) -> None:
    """Print a line a command."""
    clock: dict[str, list[float]] = {name: [] for name in COMMANDS}
    worked: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for run in range(runs + 1):
        for name, command in COMMANDS.items():
            start, before = perf_counter(), os.times()
            subprocess.run(  # noqa: S603  # our own command
                [sys.executable, *command], capture_output=True, check=False
            )
            if run:
                clock[name].append(perf_counter() - start)
                worked[name].append(_worked(before, os.times()))
    for what, times in (("by the clock", clock), ("processor", worked)):
        print(what)
        floor = median(next(iter(times.values())))
        for name, each in times.items():
            ratio = median(each) / floor
            print(f"  {name:30} {median(each) * 1e3:8.0f} ms {ratio:6.1f} x")


def _worked(before: os.times_result, after: os.times_result) -> float:
    user = after.children_user - before.children_user
    return user + after.children_system - before.children_system


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
