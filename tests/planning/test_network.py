"""Links of a batch closed under their longest paths, on networks worked out by hand."""

from __future__ import annotations

import pytest
from planning.small_days import step, work

from stillroom.planning.network import UNTIED, Chain, CircularLinks, network_of
from stillroom.planning.problem import Batch, Link


def link(before: str, after: str, least: int = 0, most: int | None = None) -> Link:
    return Link(before=before, after=after, at_least_min=least, at_most_min=most)


def three(*links: Link, a: int = 10, b: int = 5, c: int = 20) -> Batch:
    return work("it", step("a", a, 0), step("b", b, 0), step("c", c, 0), links=links)


def test_a_step_follows_what_is_before_it_by_its_minutes_and_the_wait() -> None:
    """b is 10 + 2 after a, and c is 5 + 3 after b: 20 after a. The whole takes 40."""
    net = network_of(three(link("a", "b", 2), link("b", "c", 3)))
    assert net.lag == ((0, 12, 20), (UNTIED, 0, 8), (UNTIED, UNTIED, 0))
    assert net.earliest == (0, 12, 20)
    assert net.tail == (40, 28, 20)
    assert [chain.members for chain in net.chains] == [((n, 0),) for n in range(3)]
    assert (net.chain_of, net.offset) == ((0, 1, 2), (0, 0, 0))


def test_what_follows_at_a_fixed_distance_is_one_chain() -> None:
    """b at once after a; c, which may wait, is a chain of its own."""
    net = network_of(three(link("a", "b", 0, 0), link("b", "c", 0, 7)))
    assert net.chains == (Chain(((0, 0), (1, 10)), 15), Chain(((2, 0),), 20))
    assert (net.chain_of, net.offset) == ((0, 0, 1), (0, 10, 0))
    assert net.lag[1][0] == -10
    assert net.lag[2][1] == -(5 + 7)


def test_a_chain_is_told_from_its_first_step_however_it_is_listed() -> None:
    """c and then a at once, and b two minutes after a: 20, and 10 + 2 more."""
    net = network_of(three(link("c", "a", 0, 0), link("a", "b", 2, 2)))
    assert net.chains == (Chain(((2, 0), (0, 20), (1, 32)), 37),)
    assert (net.chain_of, net.offset) == ((0, 0, 0), (20, 32, 0))


def test_the_length_of_a_chain_is_that_of_its_last_end() -> None:
    """c of 20 begins with a, and b of 5 comes after a: the chain is c's 20 long."""
    begins = link("a", "c", -10, -10)
    assert network_of(three(begins, link("a", "b", 0, 0))).chains[0].length_min == 20


def test_of_two_links_the_tighter_counts() -> None:
    net = network_of(three(link("a", "b", 1, 9), link("a", "b", 4, 6)))
    assert (net.lag[0][1], net.lag[1][0]) == (10 + 4, -(10 + 6))


def test_what_may_not_wait_long_begins_no_sooner_than_the_rest_is_there() -> None:
    """c at once after a of 10, and after b of 30: a begins at 20."""
    net = network_of(three(link("a", "c", 0, 0), link("b", "c"), b=30))
    assert net.earliest == (20, 0, 30)
    assert net.tail[0] == 30


@pytest.mark.parametrize(
    ("links", "named"),
    [
        ((link("a", "b"), link("b", "a")), ("a", "b")),
        # c comes 5 after a at the latest, but waits for b, which takes 6 between
        ((link("a", "c", 0, 5), link("a", "b"), link("b", "c", 1)), ("a", "b", "c")),
    ],
)
def test_what_would_start_after_itself_is_named(
    links: tuple[Link, ...], named: tuple[str, ...]
) -> None:
    with pytest.raises(CircularLinks) as told:
        network_of(three(*links))
    assert told.value.steps == named


def test_a_wait_that_just_does_is_no_circle() -> None:
    links = (link("a", "c", 0, 6), link("a", "b"), link("b", "c", 1))
    assert network_of(three(*links)).chains[0].members == ((0, 0), (1, 10), (2, 16))
