"""Hours between the filling and the jars being out that no process accounts for."""

import datetime as dt

import pytest

from stillroom.book.keeping import canner_facts_of
from stillroom.refusal import Refusal
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.when_begun import HEATING_MIN, IN_THE_CANNER_MIN
from tests.stock.kitchen import Farm

BEANS = "8 pints green beans, pantry"
PLUMS = "8 pints plums, pantry"
UNDER_PRESSURE = {
    "food": "vegetable",
    "canner": "dial-gauge",
    "process_min": 20,
    "due_min": 20,
    "filled_at": "08:00",
}


def book(farm: Farm, sentence: str = BEANS, **batch: object):
    farm.later(12)  # 21:00
    return farm.made(sentence, **{**UNDER_PRESSURE, **batch})


def test_ten_hours_from_the_filling_to_the_jars_being_out_are_asked_after():
    farm = Farm()
    no = book(farm, out_at="18:00")
    assert "filled at 08:00 and out at 18:00 are 10 h 00 min" in no.reason
    assert "not said" in no.reason
    assert "--began" in no.instead
    assert "discard them untasted" in no.instead
    assert "no source" in no.source
    assert not farm.stock.lots  # nothing was booked


@pytest.mark.parametrize(
    ("began", "lack"), [("17:00", Lack.LATE), ("10:01", Lack.LATE), ("10:00", None)]
)
def test_when_it_began_decides(began, lack):
    farm = Farm()
    assert book(farm, out_at="18:00", process_began=began) is None
    assert lack_of(farm.stock, farm.last) is lack


def test_acid_food_is_asked_after_as_well_and_has_its_choices():
    no = book(Farm(), PLUMS, canner="boiling-water", out_at="18:00")
    assert "stood for more than 2 h" in no.reason
    assert "what is published for such jars is said" in no.instead
    assert "untasted" not in no.instead


def test_what_the_printed_minutes_account_for_is_not_asked_after():
    least = 120 + 20 + HEATING_MIN + IN_THE_CANNER_MIN
    for minutes, asked in ((least, False), (least + 1, True)):
        out = dt.datetime(2026, 11, 25, 8, tzinfo=dt.UTC) + dt.timedelta(
            minutes=minutes
        )
        said = book(Farm(), out_at=f"{out:%H:%M}")
        assert isinstance(said, Refusal) is asked


@pytest.mark.parametrize(
    ("sentence", "batch"),
    [
        (BEANS, {"canner": "boiling-water"}),  # none in any case
        (BEANS, {"process_min": None}),
        (BEANS, {"filled_at": ""}),
        (BEANS, {"run": "run/2026-11-25"}),
    ],
)
def test_it_is_asked_only_where_it_decides(sentence, batch):
    assert book(Farm(), sentence, **{"out_at": "18:00", **batch}) is None


@pytest.mark.parametrize(
    ("batch", "why"),
    [
        ({"out_at": "18:00", "process_began": "17:50"}, "20 min from 17:50 on"),
        ({"out_at": "18:00", "process_began": "07:00"}, "20 min from 07:00 on"),
        ({"out_at": "", "process_began": "08:30"}, "not when"),
    ],
)
def test_a_begin_that_cannot_be_is_refused(batch, why):
    assert why in book(Farm(), **batch).reason


def test_the_minutes_in_a_pressure_canner_are_those_of_the_book():
    facts = canner_facts_of("pressure canner")
    assert not isinstance(facts, Refusal)
    highs = {fact.what: fact.high for fact in facts}
    printed = highs["vent before closing"] + highs["come-up after closing"]
    printed += highs["pressure falls by itself, heavy-walled, quarts"]
    assert printed + 10 == IN_THE_CANNER_MIN  # the vent open: 10 min are advised
