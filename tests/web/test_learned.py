"""What past days taught, on the pages."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from starlette.testclient import TestClient

from stillroom.learning.record import LearnedKept
from stillroom.learning.said import STEPS, groups
from stillroom.methods.learned import AS_PUBLISHED, Factor, Learned, Share, SlowDay
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.whole_day import plan_the_day
from stillroom.records.days import Records, open_records
from stillroom.web.app import build_app
from stillroom.web.search_on import SearchOn
from stillroom.web.shop import Shop


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with open_records(tmp_path / "stillroom.db") as opened:
        yield opened


TWICE = Learned(
    steps={
        ("plum jelly", "fill"): Factor(
            middle=2.0, low=1.5, high=3.0, surely_above=1.8, surely_below=2.2, runs=7
        )
    }
)


def pages(records: Records, plan: object) -> TestClient:
    shop = SimpleNamespace(
        day_text=lambda: "a day",
        plan=lambda: plan,
        plan_within=lambda seconds: plan,
        seconds=1.0,
        searched=lambda: None,
        longer=SearchOn(),
    )
    return TestClient(build_app(shop, records=records), base_url="http://127.0.0.1")


def test_the_day_says_which_figures_were_learned(records):
    day = read_day(demo_day_text())
    plan = plan_the_day(day, seconds=0.5, workers=1, learned=TWICE)
    with pages(records, plan) as client:
        page = client.get("/day").text
        assert "Learned from your past days" in page
        said = re.findall(
            r"<li>Fill \d+ half-pint jars \(plum jelly\): (\d+) min, learned from 7 "
            r"runs of yours; the book says (\d+)\.</li>",
            page,
        )
        assert said
        assert all(int(own) == 2 * int(book) for own, book in said)
        assert 'href="/learned"' in page
    plain = plan_the_day(
        replace(day, as_published=True), seconds=0.5, workers=1, learned=TWICE
    )
    with pages(records, plain) as client:
        assert "Learned from your" not in client.get("/day").text


def test_the_page_of_a_young_record_says_what_is_missing(records, demo_plan):
    with pages(records, demo_plan) as client:
        page = client.get("/learned").text
    assert "Not enough yet: 3 are needed." in page
    assert "Printed times are never learned" in page


def test_what_was_learned_is_said_in_the_words_of_the_stove(demo_plan):
    factor = TWICE.steps["plum jelly", "fill"]
    taught = Learned(
        steps={("plum jelly", step): factor for step in ("wipe_and_lid", "heat_jars")}
    )
    said = [line.what for line in groups(taught)[0].lines]
    assert said == ["stand the jars in hot water", "wipe the rims, lids on"]
    known = {step.id for batch in demo_plan.problem.batches for step in batch.steps}
    assert len(known & set(STEPS)) > 10  # they are steps that there are


def test_a_plan_is_made_with_what_was_known_when_its_day_was_saved(records):
    asked: list[Learned] = []

    def planner(text: str, *, seconds: float, learned: Learned) -> Learned:
        asked.append(learned)
        return learned

    taught = [TWICE, AS_PUBLISHED]
    records.days.save(demo_day_text(), "invented")
    shop = Shop(records.days, planner=planner, learner=lambda text: taught.pop(0))
    assert shop.plan_within(5.0) is TWICE
    assert shop.plan_within(5.0) is TWICE  # it does not change under her hands
    shop.save_day(demo_day_text() + "\n", "a new line", over=demo_day_text())
    assert shop.plan_within(5.0) is AS_PUBLISHED
    assert len(asked) == 2


def test_a_day_that_cannot_be_read_teaches_nothing(records):
    kept = LearnedKept(records.ledger)
    assert kept.for_day("no day") is AS_PUBLISHED
    assert kept.for_day(demo_day_text()) == AS_PUBLISHED


def test_each_figure_of_the_book_has_the_unit_of_ones_own():
    """There stood "4" beside "3.6 of 100", and "2 to 2 nine times in ten"."""
    skim = replace(TWICE.steps["plum jelly", "fill"], middle=1.0, low=0.9, high=1.1)
    seals = Share(
        a=12, b=321, low=0.022, high=0.054, lots=45, jars=310, seen=12, book=0.04
    )
    learned = replace(
        TWICE,
        steps={("plum jelly", "skim"): replace(skim, book=2.0)},
        shrink={"plum jelly": replace(skim, low=0.95)},
        seals=seals,
        slow_day=SlowDay(share=0.18, book=0.3, days=13),
    )
    lines = [line for group in groups(learned) for line in group.lines]
    said = {f"{line.of} {line.what}".strip(): (line.own, line.book) for line in lines}
    assert said["all jars"] == ("3.6 of 100 (2.2 to 5.4)", "4 of 100")
    assert ("2 min (2 nine times in ten)", "2 min") in said.values()
    assert all("of 100" in book for own, book in said.values() if "of 100" in own)
