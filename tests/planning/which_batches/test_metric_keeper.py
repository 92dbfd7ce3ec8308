"""A keeper who writes metric is told the day in litres and kilograms."""

import re

import pytest

from stillroom.planning.day_file.dayfile import new_day_text, read_day
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.whole_day import plan_the_day

US = """
[day]
name = "Plums and pears"
date = 2026-08-22
starts = "08:00"
ends = "20:00"

[kitchen]
name = "My kitchen"
elevation = "2150 ft"
stove = "gas"
counter = 60

[[kitchen.burners]]
name = "front left"
power = "3 kW"

[[kitchen.burners]]
name = "front right"
power = "3 kW"

[[kitchen.pots]]
name = "big pot"
volume = "12 qt"

[[kitchen.canners]]
name = "canner"
kind = "boiling-water"
stands_on = ["front right"]
holds = { half-pint = 9, pint = 9, quart = 7 }

[[people]]
name = "Keeper"
comes = "08:00"
goes = "20:00"
can = ["cold", "knife", "pan", "lift"]
breaks = []

[[shelf]]
is = "plum juice"
quantity = "2 bags of 1.3 l"
frozen = true

[[shelf]]
is = "pears"
quantity = "4 kg"

[[shelf]]
is = "sugar"
quantity = "1 kg"

[[wants]]
product = "plum jelly"
jars = 14
jar = "half-pint"

[[wants]]
product = "pears"
jars = 6
jar = "pint"
"""
METRIC = US.replace('"12 qt"', '"11 L"')
IN_CUPS = re.compile(r"[^;·]*\b(?:cups?|gallons?|quarts)\b[^;·]*")
IN_BOTH = re.compile(r"\d (?:mL|L|g|kg) \([^()]*(?:cups?|gallons)\)")


def all_that_is_said(plan: DayPlan) -> list[str]:
    """Every measure that she reads on the day, but for what is quoted from print."""
    return [
        *(step.note for batch in plan.problem.batches for step in batch.steps),
        *(step.verb for batch in plan.problem.batches for step in batch.steps),
        *(f"{p.need}; {p.have}; {p.buy}" for p in plan.shopping),
        *(rest.text for rest in plan.leftovers),
        *(draw.text for batch in plan.batches for draw in batch.draws),
        *plan.evening_before,
    ]


def planned(text: str) -> DayPlan:
    plan = plan_the_day(read_day(text), seconds=0.2)
    assert isinstance(plan, DayPlan)
    return plan


@pytest.mark.parametrize(
    ("was", "is_now", "metric"),
    [
        ("12 qt", "12 qt", False),
        ("12 qt", "11 L", True),
        ("12 qt", "11000 ml", True),
        ("2150 ft", "655 m", True),
        ("1.3 l", "1.3 l", False),  # the shelf decides nothing
        ("3 kW", "3000 W", False),
    ],
)
def test_her_kitchen_says_in_what_she_measures(was, is_now, metric):
    day = read_day(US.replace(f'"{was}"', f'"{is_now}"'))
    assert day.kitchen.metric is metric


def test_a_pot_bound_and_a_canner_count_too():
    text = US.replace('power = "3 kW"', 'power = "3 kW"\nlargest_pot = "16 L"', 1)
    assert read_day(text).kitchen.metric
    text = US.replace('kind = "boil', 'volume = "20 L"\nkind = "boil')
    assert read_day(text).kitchen.metric
    assert not read_day(new_day_text()).kitchen.metric


def test_no_cup_stands_alone_on_the_day_of_who_writes_metric():
    said = all_that_is_said(planned(METRIC))
    printed = [part for text in said for part in IN_CUPS.findall(text)]
    assert printed
    assert [part for part in printed if not IN_BOTH.search(part)] == []
    assert "1.18 L (5 cups) plum juice · 1 package regular powdered pectin" in said
    assert "1.4 kg (7 cups) sugar" in said
    assert any("2 of 2 bags of plum juice (the last is opened" in s for s in said)


def test_who_writes_quarts_reads_cups_as_before():
    said = all_that_is_said(planned(US))
    assert "5 cups plum juice · 1 package regular powdered pectin" in said
    assert not any(re.search(r"\d m?L\b", text) for text in said)


def test_what_is_left_and_bought_is_said_in_her_measure():
    plan = planned(METRIC)
    rests = {rest.lot: rest.text for rest in plan.leftovers}
    assert rests["plum juice"] == "234 mL, 949 mL short of another batch"
    assert re.fullmatch(r"[\d.]+ k?g \(.+ (?:oz|lb)\)", rests["pears"])
    (sugar,) = [p for p in plan.shopping if p.name == "sugar"]
    for words in (sugar.need, sugar.buy, sugar.have):
        assert re.search(r"[\d.]+ kg \(\d+ lb(?: \d+ oz)?\)", words)
    draws = {d.text for b in plan.batches for d in b.draws if d.lot == "plum juice"}
    assert draws == {"1.18 L (0.91 bags)"}
