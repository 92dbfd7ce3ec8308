"""What is said of a lot goes by one clock, also far from the kitchen that made it."""

import datetime as dt
from dataclasses import replace

import pytest

from stillroom.stock.after import day_after
from stillroom.stock.clock_here import filled_here
from stillroom.stock.commands import Process
from stillroom.stock.how_long_ago import moment_words
from stillroom.stock.process_words import process_words
from tests.stock.kitchen import Farm

KITCHEN = dt.timezone(dt.timedelta(hours=-6))
TOKYO = dt.timezone(dt.timedelta(hours=9))


def made_at_noon(**batch: object) -> Farm:
    farm = Farm()
    farm.at = dt.datetime(2026, 8, 8, 13, 0, tzinfo=KITCHEN)
    said = {"process_began": "11:45", "filled_at": "11:35", "out_at": "11:57"}
    farm.made("8 half-pints plum jelly, pantry", load=1, **{**said, **batch})
    return farm


@pytest.mark.parametrize(
    ("zone", "out", "began", "filled"),
    [
        (KITCHEN, "11:57", "from 11:45;", "11:35"),
        (
            TOKYO,
            "2:57 on Sun 9 August",
            "from 2:45 of 9 August 2026;",
            "2:35 of 9 August 2026",
        ),
    ],
)
def test_a_process_is_told_by_the_clock_by_which_jars_came_out(
    zone, out, began, filled
):
    farm = made_at_noon()
    now = farm.at.astimezone(zone) + dt.timedelta(hours=23)
    (load,) = day_after(farm.stock, now)
    assert moment_words(load.out_at, now).startswith(out)
    assert began in load.lots[0].process
    assert filled_here(load.lots[0].made, zone) == filled


def test_a_process_that_was_typed_in_late_is_told_by_that_clock_too():
    farm = made_at_noon(process_min=None, process_began="", canned=True)
    began = dt.datetime(2026, 8, 8, 11, 45, tzinfo=KITCHEN)
    asked = Process(
        lot=farm.last,
        began=began,
        ended=began + dt.timedelta(minutes=10),
        who="Ida",
        at=farm.at,
    )
    assert farm.do(asked) is None
    assert "typed in late: 2:45 to 2:55 of 9 August 2026, seen by Ida" in process_words(
        farm.stock, farm.last, TOKYO
    )
    assert "typed in late: 11:45 to 11:55, seen by Ida" in process_words(
        farm.stock, farm.last, KITCHEN
    )


def test_an_old_entry_that_kept_no_offset_keeps_its_clock_times():
    farm = made_at_noon()
    made = farm.stock.made(farm.last)
    assert made is not None
    old = replace(made, batch=replace(made.batch, utc_offset_min=None))
    assert filled_here(old, TOKYO) == "11:35"
    assert filled_here(made, None) == "11:35"
