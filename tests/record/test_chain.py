"""Records in their order; what is missing is named as far as it can be."""

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.record.chain import ChainCircularError, chained


def test_two_records_after_one_are_both_last() -> None:
    chain = chained({"b": ("a",), "c": ("a",), "a": ()})
    assert chain.order == ("a", "b", "c")
    assert chain.heads == ("b", "c")
    assert chain.whole


def test_a_record_after_both_is_the_last() -> None:
    assert chained({"a": (), "b": ("a",), "c": ("a",), "d": ("b", "c")}).heads == ("d",)


def test_a_record_that_is_named_and_not_there_is_missing() -> None:
    chain = chained({"b": ("a",), "c": ("b",)})
    assert chain.missing == ("a",)
    assert not chain.whole
    assert chain.order == ("b", "c")


def test_the_last_link_is_not_missed_by_the_chain_itself() -> None:
    """Why the number of records and the last digests are printed elsewhere."""
    assert chained({"a": ()}).whole


def test_a_circle_is_refused() -> None:
    with pytest.raises(ChainCircularError):
        chained({"a": ("b",), "b": ("a",)})


@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=30))
def test_the_order_is_one_of_the_graphs(pairs: list[tuple[int, int]]) -> None:
    """Against networkx: the same leaves, and every parent before its children."""
    edges = {(min(p), max(p)) for p in pairs if p[0] != p[1]}
    graph = nx.DiGraph(edges)
    graph.add_nodes_from(range(10))
    parents = {str(n): tuple(str(p) for p in graph.predecessors(n)) for n in graph}
    chain = chained(parents)
    rank = {one: number for number, one in enumerate(chain.order)}
    assert all(rank[str(a)] < rank[str(b)] for a, b in edges)
    assert set(chain.heads) == {str(n) for n in graph if graph.out_degree(n) == 0}
