"""Her own figures beside the book's: those that differ, and a word on the others."""

from __future__ import annotations

from stillroom.methods.learned import Learned, Share
from stillroom.planning.day import Day, Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.learned_words import OwnFigure, apart, own_figures
from tests.kitchens import day, juice, stores

SEALS = Share(a=12.5, b=87.5, low=0.07, high=0.18, lots=9, jars=70, seen=10, book=0.04)
"""Invented: of seventy jars ten were not good, reckoned as one in eight."""


def figure(own: float, book: float) -> OwnFigure:
    return OwnFigure(
        product="plum jelly",
        what="Fill 8 jars",
        step="fill",
        own=own,
        book=book,
        unit="min",
        words="learned from 7 runs of yours",
    )


QUICKER, SLOWER, SAME = figure(4, 5), figure(6, 5), figure(5, 5)


def test_what_agrees_with_the_book_is_counted_and_not_listed():
    """Quicker than the book is as much another figure as slower."""
    assert apart([QUICKER, SAME, SLOWER]) == (
        (QUICKER, SLOWER),
        "1 more of your own figures agrees with the book's.",
    )
    assert apart([SAME, SAME]) == (
        (),
        "2 of your own figures agree with the book's.",
    )
    assert apart([SAME])[1] == "1 of your own figures agrees with the book's."
    assert apart([QUICKER]) == ((QUICKER,), "")
    assert apart([]) == ((), "")


def learned_for(today: Day) -> list[str]:
    plan = plan_the_day(today, seconds=0.0, explain=False, learned=Learned(seals=SEALS))
    assert isinstance(plan, DayPlan)
    assert plan.batches
    return [figure.sentence for figure in own_figures(plan)]


def test_her_own_seals_are_said_of_a_hundred_with_what_they_rest_on():
    jelly = Want(product="plum jelly", jars=8, jar="half-pint")
    assert learned_for(day(jelly, shelf=(juice(), *stores()))) == [
        "jars that do not seal: 12.5 of 100, learned from 70 jars of yours, 10 not "
        "good; the book says 4"
    ]


def test_no_seal_is_spoken_of_where_nothing_is_canned():
    apples = Lot(name="apples", what="apples", mass_kg=3.0)
    dried = Want(product="dried apples", jars=1, jar="pint")
    assert learned_for(day(dried, shelf=(apples, *stores()))) == []
