"""Channels shared out: known graphs, and every way of small ones tried."""

from itertools import product
from random import Random

import networkx as nx
import pytest

from limen.physics.channels import Units, clique, cost, greedy, least, parts
from limen.tune.channels_exact import allotted, solved


def coloured(graph: nx.Graph, most: int) -> Units:
    nodes = {node: number for number, node in enumerate(graph.nodes)}
    pairs = ((min(p), max(p)) for p in ((nodes[a], nodes[b]) for a, b in graph.edges))
    harm = dict.fromkeys(pairs, 1)
    size = len(nodes)
    return Units((tuple(range(1, most + 1)),) * size, (None,) * size, harm, "channels")


def queens(size: int) -> nx.Graph:
    squares = [(r, c) for r in range(size) for c in range(size)]
    graph = nx.Graph()
    graph.add_nodes_from(squares)
    for a, b in product(squares, squares):
        rows, columns = a[0] - b[0], a[1] - b[1]
        if a < b and (not rows or not columns or abs(rows) == abs(columns)):
            graph.add_edge(a, b)
    return graph


KNOWN = {
    "Petersen": (nx.petersen_graph(), 10, 15, 3),
    "Grötzsch, myciel3": (nx.mycielski_graph(4), 11, 20, 4),
    "myciel4": (nx.mycielski_graph(5), 23, 71, 5),
    "queen5_5": (queens(5), 25, 160, 5),
    "ring of five": (nx.cycle_graph(5), 5, 5, 3),
    "path": (nx.path_graph(10), 10, 9, 2),
    "dodecahedron": (nx.dodecahedral_graph(), 20, 30, 3),
    "wheel": (nx.wheel_graph(6), 6, 10, 4),
    "four that all meet": (nx.complete_graph(4), 4, 6, 4),
}
"""Vertices, edges and chromatic number.

Names and numbers: the DIMACS colouring set (M. Trick, "Graph Coloring Instances",
Carnegie Mellon University, 1994-2002), whose header of queen5_5 counts each edge in
both directions; Petersen, ring, path, wheel and dodecahedron: any book on graphs.
"""


@pytest.mark.parametrize("name", KNOWN)
def test_known_graphs_take_their_chromatic_number_and_no_fewer(name: str) -> None:
    graph, vertices, edges, number = KNOWN[name]
    assert (graph.number_of_nodes(), graph.number_of_edges()) == (vertices, edges)
    for way in (solved, allotted):
        found = way(coloured(graph, number + 2))
        assert (found.harm, found.used(), found.exact) == (0, number, True)
        fewer = way(coloured(graph, number - 1))
        assert fewer.harm > 0
        assert fewer.exact
    assert len(clique(coloured(graph, number))) <= number


def any_units(draw: Random) -> Units:
    size = draw.randint(2, 6)
    most = [draw.choice((0, 1, 2, 3, 3)) for _ in range(size)]
    choices: list[tuple[int, ...]] = [tuple(range(1, one + 1)) for one in most]
    now = [draw.choice((None, *range(1, one + 1))) for one in most]
    for unit in range(size):
        fixed = now[unit]
        if fixed is not None and draw.random() < 0.15:
            choices[unit] = (fixed,)
    dense = draw.random()
    harm = {
        (one, two): draw.randint(1, 9)
        for one in range(size)
        for two in range(one + 1, size)
        if draw.random() < dense
    }
    first = draw.choice(("changes", "channels"))
    return Units(tuple(choices), tuple(now), harm, first)


def best_of_all(units: Units) -> tuple[int, int, int, int]:
    ways = product(*(choices or (None,) for choices in units.choices))
    return min(cost(units, way) for way in ways)


@pytest.mark.parametrize("seed", range(20))
def test_no_way_of_sharing_out_is_better_on_ten_graphs(seed: int) -> None:
    """Two hundred in all: number of channels, harm and changes by trying every way."""
    draw = Random(seed)
    for _ in range(10):
        units = any_units(draw)
        wanted = best_of_all(units)
        for found in (least(units), solved(units)):
            assert found.exact
            assert cost(units, found.channels) == wanted
            assert found.harm == found.least_harm == wanted[0]


@pytest.mark.parametrize("seed", range(20))
def test_groups_solved_apart_do_as_little_harm_with_as_few_changes(seed: int) -> None:
    draw = Random(1_000 + seed)
    for _ in range(10):
        units = any_units(draw)
        units = Units(units.choices, units.now, units.harm, "changes")
        wanted = best_of_all(units)
        assert cost(units, allotted(units).channels)[:2] == wanted[:2]


def test_the_quick_way_is_never_better_than_the_least() -> None:
    draw = Random(7)
    for _ in range(100):
        units = any_units(draw)
        assert cost(units, greedy(units)) >= cost(units, least(units).channels)


def test_groups_are_those_that_hang_together() -> None:
    """By networkx."""
    graph = nx.gnp_random_graph(40, 0.03, seed=3)
    ours = {frozenset(one) for one in parts(coloured(graph, 2))}
    assert ours == {frozenset(one) for one in nx.connected_components(graph)}


def test_a_search_cut_off_says_so() -> None:
    found = least(coloured(nx.mycielski_graph(5), 4), most=5)
    assert not found.exact
    assert found.least_harm <= found.harm


def test_a_large_group_keeps_within_its_limits_and_states_the_gap() -> None:
    found = allotted(coloured(nx.complete_graph(120), 4))
    assert not found.exact
    assert found.harm == 4 * 30 * 29 // 2


def test_the_same_is_answered_every_time() -> None:
    units = coloured(queens(5), 5)
    assert solved(units).channels == solved(units).channels


def test_progress_ends_with_all_units() -> None:
    said: list[tuple[int, int]] = []
    allotted(
        coloured(nx.path_graph(6), 2), lambda done, all_: said.append((done, all_))
    )
    assert said[-1] == (6, 6)
