"""Units that may reach each other as a graph: groups, cliques, what a way costs."""

from itertools import combinations

import networkx as nx
import pytest

from limen.physics.channels import Units, clique, cliques, cost, least


def units(pairs: list[tuple[int, int]], *now: int | None, most: int = 3) -> Units:
    choices = (tuple(range(1, most + 1)),) * len(now)
    return Units(choices, now, dict.fromkeys(pairs, 5))


def test_what_a_way_costs_is_harm_changes_channels_and_how_late_they_stand() -> None:
    three = units([(0, 1), (1, 2)], 1, 1, 1)
    assert cost(three, (1, 1, 1)) == (10, 0, 1, 0)
    assert cost(three, (1, 2, 1)) == (0, 1, 2, 2)
    assert cost(three, (2, 1, 2)) == (0, 2, 2, 4)


def test_of_three_in_a_row_the_middle_one_is_set_anew() -> None:
    assert least(units([(0, 1), (1, 2)], 1, 1, 1)).channels == (1, 2, 1)


def test_of_two_alike_the_first_in_the_list_is_set_anew() -> None:
    assert least(units([(0, 1)], 2, 2)).channels == (1, 2)


def test_what_keeps_apart_already_is_left_as_it_is() -> None:
    assert least(units([(0, 1)], 3, 2)).channels == (3, 2)


def test_a_unit_without_channels_does_harm_whatever_the_other_takes() -> None:
    found = least(Units(((), (1, 2)), (None, 1), {(0, 1): 5}))
    assert (found.channels, found.harm, found.least_harm) == ((None, 1), 5, 5)


@pytest.mark.parametrize("seed", range(5))
def test_cliques_hold_every_pair_and_nothing_else(seed: int) -> None:
    """Against networkx: no group of ours is larger than its largest."""
    graph = nx.gnp_random_graph(14, 0.5, seed=seed)
    ours = units([(min(e), max(e)) for e in graph.edges], *[None] * 14)
    groups = cliques(ours)
    pairs = {pair for group in groups for pair in combinations(group, 2)}
    assert pairs == set(ours.harm)
    largest = max(len(one) for one in nx.find_cliques(graph))
    assert len(clique(ours)) <= largest
    assert all(len(group) <= largest for group in groups)
