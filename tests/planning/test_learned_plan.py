"""A plan takes in what was learned, says so, and never touches a printed time."""

import pickle
from collections import Counter
from dataclasses import replace

import pytest

from stillroom.methods.in_halves import whole_step
from stillroom.methods.learned import (
    AS_PUBLISHED,
    Factor,
    Learned,
    Share,
    may_be_learned,
)
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.day_odds.odds import odds_of
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.learned_words import own_figures
from stillroom.running.loads import steps_of


def factor(middle: float, runs: int = 7, **more: object) -> Factor:
    return Factor(
        middle=middle,
        low=middle * 0.8,
        high=middle * 1.3,
        surely_above=middle * 0.95,
        surely_below=middle * 1.05,
        runs=runs,
        **more,
    )


# Every step is said to take nine tenths: what may not be learned shows.
WORK = """
wash_jars heat_jars measure_sugar to_boil sugar_in hard_boil skim fill wipe_and_lid
wash_pot cut soften mill wash_mill cook_down thicken measure_pulp cook stand blanch
"""
ALL_QUICK = Learned(any_product={step: factor(0.9) for step in WORK.split()})


@pytest.fixture(scope="module")
def day():
    return read_day(demo_day_text())


def plan(day, learned=AS_PUBLISHED):
    return plan_the_day(day, seconds=0.5, workers=1, learned=learned)


@pytest.fixture(scope="module")
def by_the_book(day):
    return plan(day)


@pytest.fixture(scope="module")
def quick(day):
    return plan(day, ALL_QUICK)


def steps(planned):
    return {(b.id, s.id): s for b in planned.problem.batches for s in b.steps}


def test_learned_minutes_and_spreads_go_into_the_steps(day):
    learned = Learned(steps={("plum jelly", "fill"): factor(2.0)})
    step = steps(plan(day, learned))["plum jelly 1", "fill"]
    assert step.book_min is not None
    assert step.duration_min == 2 * step.book_min
    assert step.spread.likely == step.duration_min
    assert step.spread.low < step.duration_min < step.spread.high
    assert step.basis.startswith("learned from 7 runs of yours; the book says")


def test_what_was_learned_of_one_product_is_not_taken_for_another(day, by_the_book):
    learned = Learned(steps={("plum jelly", "fill"): factor(2.0)})
    planned, book = steps(plan(day, learned)), steps(by_the_book)
    assert planned["pear butter 1", "fill"] == book["pear butter 1", "fill"]


def test_no_printed_minute_becomes_shorter(by_the_book, quick):
    book, learned = steps(by_the_book), steps(quick)
    hard_boils = [name for name in book if name[1] == "hard_boil"]
    assert hard_boils
    for name in hard_boils:
        assert learned[name] == book[name]
    shorter = [n for n in book if learned[n].duration_min < book[n].duration_min]
    assert shorter
    for name in shorter:
        assert may_be_learned(book[name])
        assert "printed" not in book[name].basis
        assert "published" not in book[name].basis


def test_no_process_and_no_load_is_touched(by_the_book, quick):
    assert quick.problem.processes == by_the_book.problem.processes
    assert quick.problem.canners == by_the_book.problem.canners
    for batch in quick.batches:
        assert batch.process == by_the_book.batch(batch.id).process


def test_no_wait_that_is_asked_for_becomes_shorter(by_the_book, quick):
    for before, after in zip(
        by_the_book.problem.batches, quick.problem.batches, strict=True
    ):
        assert before.links == after.links


def test_jars_follow_her_own_yields(day, by_the_book):
    learned = Learned(yields={"plum jelly": factor(0.8, runs=5)})
    planned = plan(day, learned)
    book = by_the_book.batch("plum jelly 1").expected
    own = planned.batch("plum jelly 1").expected
    assert own.likely == pytest.approx(0.8 * book.likely)
    assert own.book_likely == book.likely
    assert own.source.how_known == "keeper"
    assert "learned from 5 runs of yours; the book says" in own.basis
    assert planned.batch("sour cherry jelly 1").expected.book_likely is None


SEALS = Share(a=12, b=88, low=0.07, high=0.18, lots=9, jars=70, seen=10, book=0.04)


def test_her_own_seals_decide_spare_jars_and_lids(day, by_the_book):
    planned = plan(day, Learned(seals=SEALS))
    jars = sum(batch.jars for batch in planned.batches)
    odds = odds_of(
        planned.problem, planned.answer.timetable, days=200, seals=planned.learned.seals
    )
    assert odds.spare.spare == SEALS.enough(jars)
    assert "learned from the seals of 70 jars of yours" in odds.spare.source
    plain = odds_of(by_the_book.problem, by_the_book.answer.timetable, days=200)
    assert plain.spare.spare < odds.spare.spare
    short = replace(day, shelf=tuple(lot for lot in day.shelf if lot.what != "lids"))
    lids = next(
        p for p in plan(short, Learned(seals=SEALS)).shopping if p.name == "lids"
    )
    canned = sum(b.jars for b in planned.batches)
    assert lids.buy.split()[0] == str(canned + SEALS.enough(canned))
    assert "your own seals" in lids.why
    evening = "\n".join(planned.evening_before)
    assert f"({canned} and {SEALS.enough(canned)} to spare)" in evening
    of_size = Counter[str]()
    for batch in planned.batches:
        of_size[batch.jar] += batch.jars
    for jar, many in of_size.items():
        line = f"Count out {many} {jar} jars and {SEALS.enough(many)} to spare"
        assert line in evening


def test_each_learned_figure_is_said_beside_the_books(day):
    learned = Learned(
        steps={("plum jelly", "fill"): factor(2.0)},
        yields={"plum jelly": factor(0.8, runs=5)},
        seals=SEALS,
    )
    said = [figure.sentence for figure in own_figures(plan(day, learned))]
    assert any(s.startswith("Fill 6 half-pint jars (plum jelly): 8 min") for s in said)
    assert any(
        s.startswith("jars of a batch (plum jelly): 6.2 half-pint") for s in said
    )
    assert any(s.startswith("jars that do not seal: 12 of 100") for s in said)
    assert all("the book says" in s for s in said)


def test_a_day_as_published_learns_nothing(day, by_the_book):
    planned = plan(replace(day, as_published=True), ALL_QUICK)
    assert steps(planned) == steps(by_the_book)
    assert own_figures(planned) == ()
    assert planned.learned == AS_PUBLISHED


def book_minutes(planned):
    """By (batch, step); the two halves of a step together."""
    found = Counter()
    for step in steps_of(planned):
        found[step.batch, whole_step(step.step)] += step.book_min
    return found


def test_a_run_takes_over_the_books_minutes_also_from_a_learned_plan(
    by_the_book, quick
):
    assert book_minutes(quick) == book_minutes(by_the_book)
    assert "hard_boil" not in {s.step for s in steps_of(quick)}
    follows = {(s.step, s.follows) for s in steps_of(quick)}
    assert ("sugar_in", "to_boil") in follows
    assert ("fill", "") in follows  # two minutes may lie between


def test_it_goes_through_a_pipe_to_the_planning_process():
    learned = Learned(steps={("plum jelly", "fill"): factor(2.0)}, seals=SEALS)
    assert pickle.loads(pickle.dumps(learned)) == learned
