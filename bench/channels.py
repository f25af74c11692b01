"""Channels of 200 doorways, against settling the same doorways once.

Chains of doorways in one wall and facing across vestibules, every unit on channel 1.
Prints the time to lay out, the time to share out, and both as a ratio to settling
all doorways, which every study does first; then the known graphs that need the
solver, each against the same settling.

    python bench/channels.py [DOORWAYS]
"""

import sys
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

import networkx as nx

from builders.doorways import a_doorway
from limen.model.doorway import Doorway
from limen.physics.channels import Units
from limen.questions.channels import layout, units_of
from limen.questions.settled import settle
from limen.tune.channels_exact import allotted

CHAIN = 10
GRAPHS = {
    "Petersen": (nx.petersen_graph(), 3),
    "Grötzsch": (nx.mycielski_graph(4), 4),
    "Myciel 5": (nx.mycielski_graph(5), 5),
}


def main(count: int) -> None:
    """Print a line a step."""
    doors = [_door(number, count) for number in range(count)]
    settled = _took(lambda: [settle(one) for one in doors])
    _told(f"{count} doorways settled once", settled, settled)
    start = perf_counter()
    found = layout(doors)
    laid = perf_counter() - start
    _told(f"laid out, {len(found.pairs)} pairs", laid, settled)
    start = perf_counter()
    shared = allotted(units_of(found))
    took = perf_counter() - start
    _told(f"shared out, harm {shared.harm}, exact {shared.exact}", took, settled)
    for name, (graph, number) in GRAPHS.items():
        units = _units(graph, number)
        took = _took(lambda units=units: allotted(units))
        _told(name, took, settled)


def _told(what: str, took: float, against: float) -> None:
    print(f"{what:36} {took:8.2f} s {took / against:7.1f} x")


def _door(number: int, count: int) -> Doorway:
    """Ten in a chain, alternately beside one another and facing; all on channel 1."""
    more: dict[str, object] = {"id": f"d{number}"}
    walls = number // CHAIN
    more["spaces"] = {"outside": f"out {walls}", "inside": f"in {walls}"}
    if number + 1 < count and (number + 1) % CHAIN:
        other = f"d{number + 1}"
        if number % 2:
            more["beside"] = [{"doorway": other, "along": "2100 mm"}]
        else:
            told = {"side": "inside", "distance": "600 mm", "shift": "0 mm"}
            more["facing"] = [{"doorway": other, **told}]
    for side in ("outside", "inside"):
        more[f"fitting[{side}].settings.channel"] = 1
    return a_doorway(more)


def _units(graph: nx.Graph, number: int) -> Units:
    nodes = {node: place for place, node in enumerate(graph.nodes)}
    ends = [(nodes[a], nodes[b]) for a, b in graph.edges]
    harm = {(min(ab), max(ab)): 1 for ab in ends}
    size = len(nodes)
    choices = (tuple(range(1, number + 1)),) * size
    return Units(choices, (None,) * size, harm, "channels")


def _took(work: object) -> float:
    start = perf_counter()
    work()  # pyright: ignore[reportCallIssue]
    return perf_counter() - start


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
