"""
The judge on which limits give way where some of the day has begun, and which do not.

A limit gives way by as many minutes as are said, whether it hangs on something begun or
lies before everybody: the day that holds, the minute at which it does not, and the
whole answer.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from planning.small_days import day, person
from planning.small_days import step as a_step
from planning.written_out import (
    LID,
    Part,
    at,
    batch,
    closed,
    labour,
    load,
    said_again,
)

from stillroom.methods.step import Link
from stillroom.planning.judge.check_waits import CLOSED
from stillroom.planning.problem import Batch, Counter, Window

# --- minutes ---


def test_what_has_begun_takes_its_true_minutes() -> None:
    problem = day(batch("a", labour(10)), batch("b", labour(10)))
    begun = Part(steps=[at("a", "do", 0, 14, "p1")])  # said to take 10

    def then(end: int) -> tuple[str, ...]:
        later = Part(steps=[at("b", "do", 20, end, "p1")])
        return said_again(problem, 20, begun, later)

    assert then(30) == ()
    assert then(34) == ("do of b lasts 14 min; it takes 10",)


def test_a_rinse_that_has_begun_takes_its_true_minutes() -> None:
    # a wash takes 5 and a rinse 2; this rinse took 3, and the same goes in next
    wash = a_step("wash", 5, 0, in_pot=True, rinse_min=2)
    a, b = (batch(name, wash, pots=("big",), product="jelly") for name in "ab")
    begun = Part(steps=[at("a", "wash", 0, 3, pot="big-1", rinsed=True)])

    def then(end: int, *, rinsed: bool) -> tuple[str, ...]:
        later = at("b", "wash", 10, end, pot="big-1", rinsed=rinsed)
        return said_again(day(a, b), 10, begun, Part(steps=[later]))

    assert then(15, rinsed=False) == ()
    assert then(13, rinsed=False) == ("wash of b lasts 3 min; it takes 5",)
    assert then(13, rinsed=True)[0] == "wash of b lasts 3 min; it takes 2"


# --- links ---

LINK = Link(before="boil", after="fill", at_least_min=3, at_most_min=5)
"""Boiled from 0 to 10, filled from 13 to 15 at the latest."""


def linked(link: Link = LINK) -> Batch:
    return batch("a", a_step("boil", 10, 0), a_step("fill", 4, 0), links=(link,))


def filled(
    start: int, boiled: int = 0, begun: int = 0, **given: object
) -> tuple[str, ...]:
    """Boiled from `boiled` and filled from `start`; so many of the two have begun."""
    steps = [
        at("a", "boil", boiled, boiled + 10),
        at("a", "fill", start, start + 4),
    ]
    now = (min(boiled, start), 11, 60)[begun]
    return said_again(
        day(linked()),
        now,
        Part(steps=steps[:begun]),
        Part(steps=steps[begun:]),
        **given,
    )


TOO_SOON = "fill of a starts 2 min after boil; at least 3"
TOO_LATE = "fill of a starts 6 min after boil; at most 5"


def test_between_two_to_come_a_link_holds() -> None:
    assert filled(13) == filled(15) == ()
    assert filled(12) == (TOO_SOON,)
    assert filled(16) == (TOO_LATE,)


def test_after_what_has_begun_a_link_holds_as_before() -> None:
    assert filled(13, begun=1) == filled(15, begun=1) == ()
    assert filled(16, begun=1) == (TOO_LATE,)
    assert filled(12, begun=1) == (TOO_SOON,)


def test_between_two_that_have_begun_a_link_is_past() -> None:
    assert filled(12, begun=2) == filled(16, begun=2) == ()


def test_a_longest_wait_that_is_said_to_give_way_does() -> None:
    for begun in (0, 1):
        said = {("a", "boil", "fill"): 1}
        assert filled(16, begun=begun, given_way=said) == ()
        assert filled(12, begun=begun, given_way=said) == (TOO_SOON,)
        # and by no more minutes than are said
        assert filled(17, begun=begun, given_way=said) == (
            "fill of a starts 7 min after boil; at most 6",
        )
    # it is said of both its ends, in its own batch, and of no other
    for other in (("a", "", "fill"), ("a", "boil", ""), ("b", "boil", "fill")):
        assert filled(16, given_way={other: 1}) == (TOO_LATE,)


def test_what_has_begun_out_of_turn_waits_for_nothing() -> None:
    """She filled before it boiled; what else has begun out of turn is hers to say."""
    fill, boil = at("a", "fill", 0, 4), at("a", "boil", 10, 20)
    later = Part(steps=[boil])
    assert said_again(day(linked()), 5, Part(steps=[fill]), later) == ()


def test_what_has_begun_of_another_batch_frees_no_step_of_the_same_name() -> None:
    """Of two jellies one is filled; the other has boiled, and waits for its jars."""
    hour = Window(step="fill", earliest_min=0, latest_min=40)
    two = [replace(linked(), id=name, windows=(hour,)) for name in "ab"]
    begun = Part(steps=[at("a", "boil", 0, 10), at("a", "fill", 13, 17)])
    boiled = at("b", "boil", 30, 40)

    def then(start: int) -> tuple[str, ...]:
        steps = [*begun.steps, boiled]
        later = Part(steps=[at("b", "fill", start, start + 4)])
        return said_again(day(*two), 41, Part(steps=steps), later)

    assert then(46) == (
        "fill of b starts 6 min after boil; at most 5",
        "fill of b starts at minute 46; at the latest minute 40",
    )
    assert then(44) == ("fill of b starts at minute 44; at the latest minute 40",)


def test_a_link_without_a_longest_wait_has_none_after_the_past_either() -> None:
    open_end = linked(Link(before="boil", after="fill", at_least_min=3))
    begun = Part(steps=[at("a", "boil", 0, 10)])

    def then(start: int) -> tuple[str, ...]:
        later = Part(steps=[at("a", "fill", start, start + 4)])
        return said_again(day(open_end), 11, begun, later)

    assert then(99) == ()
    assert then(12) == (TOO_SOON,)


def test_what_is_forgotten_after_what_has_begun_is_said() -> None:
    begun = Part(steps=[at("a", "boil", 0, 10)])
    assert said_again(day(linked()), 11, begun) == (
        "fill of a is planned 0 times, not once",
    )


# --- windows ---


def dripped(start: int, now: int = 0, **given: object) -> tuple[str, ...]:
    """What drips is ready at 30 and spoils at 60."""
    window = Window(step="do", earliest_min=30, latest_min=60)
    problem = day(batch("a", labour(10, 0), windows=(window,)))
    part = Part(steps=[at("a", "do", start, start + 10)])
    if start < now:
        return said_again(problem, now, part, **given)
    return said_again(problem, now, later=part, **given)


SPOILT = "do of a starts at minute 61; at the latest minute 60"
NOT_READY = "do of a starts at minute 29; not before minute 30"


def test_what_is_to_come_is_begun_in_its_window() -> None:
    assert dripped(30) == dripped(60) == ()
    assert dripped(61) == (SPOILT,)
    assert dripped(29) == (NOT_READY,)


def test_a_latest_start_gives_way_where_it_is_said_and_no_earliest() -> None:
    said = {("a", "", "do"): 1}
    assert dripped(61, given_way=said) == ()
    assert dripped(62, given_way=said) == (
        "do of a starts at minute 62; at the latest minute 61",
    )
    assert dripped(29, given_way=said) == (NOT_READY,)
    assert dripped(61, given_way={("b", "", "do"): 1}) == (SPOILT,)


def test_what_has_begun_outside_its_window_is_past() -> None:
    assert dripped(61, now=100) == dripped(29, now=100) == ()


# --- jars that wait closed ---


def waits(lower: int, now: int = 0, **given: object) -> tuple[str, ...]:
    """Closed at 30, and at most 20 min closed before they are lowered."""
    begun, later = ([LID], []) if now > 25 else ([], [LID])
    return said_again(
        day(closed()),
        now,
        Part(steps=begun),
        Part(steps=later, loads=[load(lower)]),
        **given,
    )


TOO_LONG = "jars of a wait closed 21 min for load L1; at most 20"


def test_jars_that_are_to_be_closed_wait_so_long() -> None:
    assert waits(50) == ()
    assert waits(51) == (TOO_LONG,)
    assert waits(51, given_way={("b", CLOSED, ""): 1}) == (TOO_LONG,)
    assert waits(51, given_way={("a", CLOSED, ""): 1}) == ()
    assert waits(52, given_way={("a", CLOSED, ""): 1}) == (
        "jars of a wait closed 22 min for load L1; at most 21",
    )


def test_jars_that_are_being_closed_wait_as_long_as_is_said() -> None:
    assert waits(50, now=26) == waits(50, now=40) == ()
    assert waits(51, now=26) == waits(51, now=40) == (TOO_LONG,)
    assert waits(99, now=40, given_way={("a", CLOSED, ""): 49}) == ()
    # and are not lowered before; its water would be heated from 29 - 30
    assert waits(29, now=26) == (
        "load L1 starts 1 min before a is closed",
        "load L1 is heated 1 min before the day",
    )


def test_jars_are_closed_when_all_of_them_are() -> None:
    # without a closing step of a name all steps close: one has begun and one has not
    two = batch(
        "a", a_step("lid", 5, 0), a_step("wipe", 5, 0), jars=5, process="half-pint-10"
    )
    lid, wipe = at("a", "lid", 0, 5), at("a", "wipe", 25, 30)

    def lowered(minute: int, **given: object) -> tuple[str, ...]:
        later = Part(steps=[wipe], loads=[load(minute)])
        return said_again(day(two), 10, Part(steps=[lid]), later, **given)

    assert lowered(50) == ()
    assert lowered(51) == (TOO_LONG,)
    assert lowered(51, given_way={("a", CLOSED, ""): 1}) == ()
    both = Part(steps=[lid, wipe])
    assert said_again(day(two), 40, both, Part(loads=[load(51)])) == (TOO_LONG,)


def test_what_is_done_after_the_closing_is_no_part_of_it() -> None:
    # closed by the lid, at 5; that they are still to be wiped at 200 sets no limit
    two = batch(
        "a",
        a_step("lid", 5, 0),
        a_step("wipe", 5, 0),
        jars=5,
        process="half-pint-10",
        ready_after="lid",
    )
    lid, wipe = at("a", "lid", 0, 5), at("a", "wipe", 200, 205)
    later = Part(steps=[wipe], loads=[load(60)])
    assert (
        said_again(
            day(two), 10, Part(steps=[lid]), later, given_way={("a", CLOSED, ""): 35}
        )
        == ()
    )


def test_jars_of_two_batches_in_one_load_wait_each_by_its_own_limit() -> None:
    # a was closed at 30 and waits as is said; b is to be closed, and waits 20 at most
    mixed = load(100, jars=(("a", 5), ("b", 5)))

    def closed_at(minute: int) -> tuple[str, ...]:
        later = Part(steps=[at("b", "lid", minute - 5, minute)], loads=[mixed])
        problem = day(closed("a"), closed("b"))
        said = {("a", CLOSED, ""): 50}
        return said_again(problem, 40, Part(steps=[LID]), later, given_way=said)

    assert closed_at(80) == ()
    assert closed_at(79) == ("jars of b wait closed 21 min for load L1; at most 20",)


def test_a_batch_without_a_step_is_closed_by_none() -> None:
    problem = day(batch("b"), closed())
    assert said_again(problem, 40, Part(steps=[LID]), Part(loads=[load(40)])) == ()


# --- what is said to give ---


def ends(minute: int, who: int = 960, **given: object) -> tuple[str, ...]:
    """Ten minutes of work until a minute of the day, which has 480."""
    problem = day(batch("a", labour(10)), people=(person("p1", leaves_min=who),))
    later = Part(steps=[at("a", "do", minute - 10, minute, "p1")])
    return said_again(problem, 0, later=later, **given)


def test_the_day_ends_so_much_later_as_is_said() -> None:
    assert ends(480) == ends(490, ends_later_min=10) == ()
    assert ends(481) == ("do of a ends 1 min after the day",)
    assert ends(491, ends_later_min=10) == ("do of a ends 1 min after the day",)


def test_who_stays_to_the_end_stays_to_the_new_end() -> None:
    assert ends(490, who=480, ends_later_min=10) == ()
    for leaves in (479, 470):
        assert ends(490, who=leaves, ends_later_min=10) == (
            f"do of a ends {490 - leaves} min after p1 leaves",
        )


def test_a_person_stays_as_long_as_is_said() -> None:
    assert ends(100, who=100) == ends(110, who=100, longer_min={"p1": 10}) == ()
    assert ends(101, who=100) == ("do of a ends 1 min after p1 leaves",)
    assert ends(111, who=100, longer_min={"p1": 10}) == (
        "do of a ends 1 min after p1 leaves",
    )
    assert ends(110, who=100, longer_min={"p2": 10}) == (
        "do of a ends 10 min after p1 leaves",
    )


def test_who_stays_on_to_the_old_end_does_not_stay_to_the_new_one() -> None:
    # leaves at 470 and is said to stay 10 more: until 480, where the day was to end
    given = {"longer_min": {"p1": 10}, "ends_later_min": 60}
    assert ends(480, who=470, **given) == ()
    assert ends(481, who=470, **given) == ("do of a ends 1 min after p1 leaves",)


@pytest.mark.parametrize(
    ("places", "more", "full"),
    [(5, None, False), (4, None, True), (4, 1, False), (3, 1, True)],
)
def test_so_many_places_are_found_as_is_said(
    places: int, more: int | None, full: bool
) -> None:
    problem = day(closed(), counter=Counter(places=places, cooling_min=1440))
    given = {} if more is None else {"more_places": more}
    later = Part(steps=[LID], loads=[load()])
    room = places + (more or 0)
    answer = f"5 jars cool on the counter at minute 65; it has room for {room}"
    assert said_again(problem, 0, later=later, **given) == ((answer,) if full else ())


def test_a_load_is_lifted_too_late_only_where_it_is_said() -> None:
    # at the boil until 56, 5 of rest, lifted by 71 at the latest
    def lifted(rested: int, *late: str) -> tuple[str, ...]:
        one = load(lift_min=56 + rested, out_min=60 + rested)
        begun = Part(steps=[LID], loads=[one])
        return said_again(day(closed()), 40, begun, lifted_late=late)

    assert lifted(15) == lifted(16, "L1") == lifted(99, "L1", "L2") == ()
    for said in ((), ("L2",)):
        assert lifted(16, *said) == (
            "load L1 is lifted 16 min after its process ends; 5 to 15 are allowed",
        )


def test_a_load_that_may_be_lifted_late_is_not_lifted_too_soon_or_by_anybody() -> None:
    child = person("child", skills=frozenset())
    problem = day(closed(), people=(person("p1"), child))

    def lifted(rested: int, **changes: object) -> tuple[str, ...]:
        one = load(lift_min=56 + rested, out_min=60 + rested, **changes)
        later = Part(steps=[LID], loads=[one])
        return said_again(problem, 0, later=later, lifted_late=["L1"])

    assert lifted(5) == lifted(16) == ()
    assert lifted(4) == (
        "load L1 is lifted 4 min after its process ends; 5 to 15 are allowed",
    )
    assert lifted(16, lifted_by="child") == (
        "load L1 is lifted by child, who does not lift hot jars",
    )
