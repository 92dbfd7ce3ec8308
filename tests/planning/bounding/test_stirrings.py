"""What two stirrings at once spare, and a pan beside one: every way to place some."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st
from planning.pan_days import bound_min
from planning.small_days import day, step
from planning.stirring_days import cooked_and_stirred, watched_and_boiled

from stillroom.methods.step import Link
from stillroom.planning.bounding.pairs import pairs_of
from stillroom.planning.bounding.stirrings import (
    Beside,
    Stirring,
    after_long_cooking,
    beside_pans,
    stirrings,
)
from stillroom.planning.plan import plan_day
from stillroom.planning.problem import Problem
from stillroom.planning.timetable import Answer

ALONE = frozenset({"p1"})


def kitchen(
    cooked: list[tuple[int, int]], watched: list[tuple[int, int]], people: int = 1
) -> Problem:
    return day(
        *(cooked_and_stirred(f"s{n}", *c) for n, c in enumerate(cooked)),
        *(watched_and_boiled(f"w{n}", *w) for n, w in enumerate(watched)),
        people=people,
        canners=(),
    )


def every_placing(
    end: int, blocks: list[tuple[tuple[int, int], tuple[int, int]]]
) -> np.ndarray:
    """
    Most things of two quarters and more, a row for each way to place blocks in a day.

    A block is two times and the quarters that each of them takes. Labour fills whatever
    minute leaves three quarters for it.
    """
    quarters = np.zeros((1, end), dtype=np.int8)
    things = np.zeros((1, end), dtype=np.int8)
    for (first, then), (few, many) in blocks:
        ways = end - first - then + 1
        asked = np.zeros((ways, end), dtype=np.int8)
        for start in range(ways):
            asked[start, start : start + first] = few
            asked[start, start + first : start + first + then] = many
        quarters = (quarters[:, None, :] + asked).reshape(-1, end)
        things = (things[:, None, :] + (asked >= 2)).reshape(-1, end)
        fits = quarters.max(axis=1) <= 4
        quarters, things = quarters[fits], things[fits]
    return np.maximum(things, quarters <= 1)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_no_placing_spares_more_than_is_allowed(data: st.DataObject) -> None:
    end = 17
    stirred = data.draw(st.lists(st.integers(1, 3), min_size=1, max_size=3))
    boiled = data.draw(st.lists(st.integers(1, 3), max_size=2))
    least = max([*stirred, *boiled])
    cooked = [(least + data.draw(st.integers(0, 2)), s) for s in stirred]
    watched = [(b, data.draw(st.integers(1, 2))) for b in boiled]
    problem = kitchen(cooked, watched)
    assert after_long_cooking(problem)
    cleaned = 2  # after each boil, so that it ends so long before the day does
    pairs = pairs_of(problem, ALONE, end + cleaned)
    more = beside_pans(problem, ALONE, end + cleaned).minutes
    ways = every_placing(
        end, [*((c, (1, 2)) for c in cooked), *((w, (2, 4)) for w in watched)]
    )
    for steep in (False, True):
        lines = st.lists(st.integers(0, 4), min_size=end, max_size=end)
        price = np.array(data.draw(lines)) if steep else np.ones(end, dtype=np.int64)
        spent = np.concatenate([[0], np.cumsum(price)])
        pan = data.draw(st.integers(0, 4))
        by_pairs, _ = pairs.by_pairs(spent, end, pan)
        allowed = pairs.by_pans(int(price.max()), more, pan) + by_pairs
        spared = int(((ways - 1) @ price).max(initial=-99))
        event(f"{'steep' if steep else 'flat'}: {'some' if spared > 0 else 'nothing'}")
        assert spared <= allowed


@pytest.mark.parametrize(
    ("cooked", "alone", "after"),
    [
        ([(6, 3), (6, 3)], 0, 0),  # 3 spared, 6 lost, and no third to fill any of it
        ([(6, 3)] * 3, 0, 0),  # 3 spared, 6 lost but for 3
        ([(5, 3), (5, 3), (7, 4)], 0, 2),  # 3 spared, 5 lost but for 4
        # 3 spared; both cook for 4, which the third fills, stirring; but before that it
        # cooked itself, beside the one, for 3
        ([(7, 4), (5, 3), (9, 4)], 0, 0),
        # with a fourth to fill those 3, they are not counted
        ([(7, 4), (5, 3), (9, 4), (9, 4)], 0, 3),
    ],
)
def test_a_pair_loses_what_both_cooked(
    cooked: list[tuple[int, int]], alone: int, after: int
) -> None:
    end = 60
    pairs = pairs_of(kitchen(cooked, []), ALONE, end)
    found = pairs.dearest(np.arange(end + 1), end)  # each minute is worth one
    assert tuple(pair.worth for pair in found) == (alone, after)


def test_a_pan_beside_each_stirring_while_there_is_time() -> None:
    # cooking and stirring take 6 + 3, of which 3 beside the pan; each pan and boil 5:
    # both pans and one stirring fit in 2 * 5 + 6 = 16 minutes, both in 22
    problem = kitchen([(6, 3), (6, 3)], [(3, 2), (3, 2)])
    tail = 2  # the pan is cleaned after it has boiled
    assert beside_pans(problem, ALONE, 15 + tail) == Beside(0, 0)
    assert beside_pans(problem, ALONE, 16 + tail) == Beside(1, 3)
    assert beside_pans(problem, ALONE, 21 + tail) == Beside(1, 3)
    assert beside_pans(problem, ALONE, 22 + tail) == Beside(2, 6)
    assert beside_pans(problem, ALONE, 500) == Beside(2, 6)
    nobody = kitchen([(6, 3)], [(3, 2)], people=2)
    assert beside_pans(nobody, ALONE, 500) == Beside(0, 0)  # the other may do it


def test_whichever_is_done_soonest_may_come_last_and_cooking_may_come_first() -> None:
    # 16 minutes for both pans and one stirring, as above, and 2 to clean the last pan;
    # that one of them has a pan of porridge to scrub for 12 is no matter
    easy = kitchen([(6, 3), (6, 3)], [(3, 2), (3, 2)])
    hard, *others = (b for b in easy.batches if b.id.startswith("w"))
    scrubbed = tuple(
        replace(s, duration_min=12) if s.id == "clean" else s for s in hard.steps
    )
    stirred = [b for b in easy.batches if b.id.startswith("s")]
    mixed = replace(easy, batches=(*stirred, replace(hard, steps=scrubbed), *others))
    assert beside_pans(mixed, ALONE, 15 + 2) == Beside(0, 0)
    assert beside_pans(mixed, ALONE, 16 + 2) == Beside(1, 3)
    # a pan that something of 20 minutes comes before: the stirring, cooked from minute
    # 3 on, is in somebody's hands before it
    late = []
    for batch in (hard, *others):
        peeled = step("peel", 20, 0)
        link = Link(before="peel", after="watch")
        steps, links = (peeled, *batch.steps), (*batch.links, link)
        late.append(replace(batch, steps=steps, links=links))
    mixed = replace(easy, batches=(*stirred, *late))
    assert beside_pans(mixed, ALONE, 3 + 15 + 2) == Beside(0, 0)
    assert beside_pans(mixed, ALONE, 3 + 16 + 2) == Beside(1, 3)


def test_of_stirrings_and_pans_the_longest_may_be_those_beside_one_another() -> None:
    # room for one stirring beside a pan: the one of 5 minutes, and the pan of 4
    problem = kitchen([(6, 3), (6, 5)], [(4, 2), (2, 2)])
    one = next(end for end in range(100) if beside_pans(problem, ALONE, end).many == 1)
    assert beside_pans(problem, ALONE, one) == Beside(1, 4)
    longer = kitchen([(6, 3), (6, 5)], [(6, 2), (2, 2)])
    assert beside_pans(longer, ALONE, 500).minutes == 5 + 3
    assert beside_pans(longer, ALONE, one + 4) == Beside(1, 5)


def test_a_boil_that_leaves_a_quarter_is_no_boil_of_these_sums() -> None:
    easy = kitchen([(6, 3)], [(3, 2)])
    assert after_long_cooking(easy)
    boils = tuple(
        replace(
            batch,
            steps=tuple(
                replace(s, attention_quarters=3) if s.id == "boil" else s
                for s in batch.steps
            ),
        )
        for batch in easy.batches
    )
    assert not after_long_cooking(replace(easy, batches=boils))


@pytest.mark.parametrize(
    ("cooked", "watched", "held"),
    [
        ([(5, 5)], [(5, 2)], True),
        ([(4, 5)], [], False),  # no longer than the stirring
        ([(5, 4), (4, 2)], [], True),
        ([(5, 5), (4, 2)], [], False),  # shorter than the other stirring
        ([(5, 2)], [(6, 1)], False),  # shorter than the pan
        ([], [(6, 1)], True),
    ],
)
def test_what_is_long_cooking(
    cooked: list[tuple[int, int]], watched: list[tuple[int, int]], held: bool
) -> None:
    assert after_long_cooking(kitchen(cooked, watched)) is held


def test_stirrings_know_what_was_cooked_before() -> None:
    assert stirrings(kitchen([(7, 3)], []), ALONE) == [Stirring(7, 3)]


def test_one_stirring_with_a_pan_at_its_end_where_there_is_time_for_one() -> None:
    # one pair of hands: pans and boils 3 * 16, stirred 2 * 6, cut, fill and clean 16:
    # 76 one behind the other, less 6 for a pan at the end of a stirring. Two of them
    # would take 3 * 16 + 2 * 12 and cleaning, 74; to stir both at once does not help,
    # since nothing can be done while both cook
    problem = kitchen([(12, 6), (12, 6)], [(6, 10), (6, 10), (6, 10)])
    answer = plan_day(problem, seconds=2.0)
    assert isinstance(answer, Answer)
    assert bound_min(problem) == 70 <= answer.finish_min
