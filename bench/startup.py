"""How long the command takes to start, against ``python -c "import numpy"``.

Prints medians and ratios of one run: ``limen --help`` (aim 3) and a cold
``limen check`` of the demo site's staff door with the compiled search cached
(aim 10).

    python bench/startup.py [RUNS]
"""

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
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for run in range(runs + 1):
        for name, command in COMMANDS.items():
            start = perf_counter()
            subprocess.run(  # noqa: S603  # our own command
                [sys.executable, *command], capture_output=True, check=False
            )
            if run:
                times[name].append(perf_counter() - start)
    floor = median(next(iter(times.values())))
    for name, each in times.items():
        print(f"{name:30} {median(each) * 1e3:8.0f} ms {median(each) / floor:6.1f} x")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
