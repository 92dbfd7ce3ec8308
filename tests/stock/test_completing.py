"""What was not said of jars at their booking is added; the hold ends by it, or not."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal
from stillroom.stock.commands import Complete, Process
from stillroom.stock.events import Completed, Seen, Way
from stillroom.stock.fold import fold
from stillroom.stock.lacking import lacking
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.lotcode import printed
from stillroom.stock.making import holds
from stillroom.stock.told import told
from tests.stock.kitchen import Farm
from tests.stock.test_lacks import put_up

PRESSURE = {"canner": "dial-gauge", "minutes": 25}
EARLY = {"filled_at": "07:00"}


def say(farm: Farm, **said: object) -> Refusal | None:
    return farm.do(Complete(lot=farm.last, at=farm.at, **said))


def test_a_hold_for_a_height_that_was_not_said_ends_when_it_is():
    farm = put_up("figs", minutes=55, elevation_ft=None, food="fruit", **EARLY)
    (why, *_) = holds(farm.stock, farm.last)
    code = printed(farm.last)
    assert f"its height above the sea with stillroom stock complete {code}" in why
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    assert say(farm, elevation_ft=1017) is None
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None
    assert holds(farm.stock, farm.last) == ("its seals have not been looked at",)
    event = farm.stock.event(farm.stock.begun(farm.last))
    assert event.batch.elevation_ft is None  # what was booked stays as it was


def test_a_hold_stays_where_the_process_was_shorter_than_is_then_due():
    farm = put_up("figs", minutes=50, elevation_ft=None, food="fruit", **EARLY)
    assert say(farm, elevation_ft=6000) is None
    assert lack_of(farm.stock, farm.last) is Lack.SHORT
    assert holds(farm.stock, farm.last) == (
        "its process was 50 min, and 60 min are due",
    )
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    no = say(farm, elevation_ft=0)  # a height that suits is not said after that
    assert "is known: 60 min" in no.reason


@pytest.mark.parametrize(
    ("what", "batch", "said", "lacks"),
    [
        ("green beans", PRESSURE, {"pack": "raw"}, "its pack"),
        (
            "tomatoes",
            {"minutes": 50, **EARLY},
            {"which": "crushed tomatoes"},
            "which of them it is",
        ),
        (
            "green beans",
            {"canner": "the pressure canner", "minutes": 25, "pack": "raw"},
            {"canner": "dial-gauge"},
            "its canner and gauge",
        ),
    ],
)
def test_what_lacks_is_named_and_is_all_that_is_asked(what, batch, said, lacks):
    farm = put_up(what, **batch)
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN
    assert lacks in lacking(farm.stock, farm.last).words
    nothing = say(farm)
    assert "still not known" in nothing.reason
    assert say(farm, **said) is None
    assert lack_of(farm.stock, farm.last) is None
    assert farm.take(farm.last, "1", Way.EATEN) is None


def test_jars_of_no_size_are_held_until_it_is_said():
    farm = Farm()
    batch = {"food": "fruit", "process_min": 47, "due_min": None, "elevation_ft": 900}
    farm.made("8 jars figs, pantry", due_source="no such jar", **batch)
    assert "its jar" in lacking(farm.stock, farm.last).words
    assert say(farm, jar="quart") is None
    assert lack_of(farm.stock, farm.last) is Lack.SHORT  # 47 of 50 min
    farm.mend(farm.stock.sequence, "they were pints")
    assert say(farm, jar="pint") is None
    assert lack_of(farm.stock, farm.last) is None


@pytest.mark.parametrize(
    ("said", "reason"),
    [
        ({"elevation_ft": 0}, "its height is in the record: 1,017 ft"),
        ({"pack": "hot"}, "its pack is in the record: raw"),
        ({"jar": "pint"}, "its jar is in the record: quart"),
        ({"canner": "boiling-water"}, "its canner is in the record"),
        ({"which": "plum jelly"}, "not booked under a name that may mean plum jelly"),
    ],
)
def test_what_was_said_is_not_said_otherwise(said, reason):
    farm = put_up("beans", pack="raw", **PRESSURE)
    assert reason in say(farm, **said).reason
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN


def test_nothing_turns_boiling_water_into_a_process_of_low_acid_food():
    farm = put_up("green beans", minutes=60, elevation_ft=None, **EARLY)
    no = say(farm, elevation_ft=0, pack="raw", canner="dial-gauge")
    assert isinstance(no, Refusal)
    assert lack_of(farm.stock, farm.last) is Lack.REFUSED
    stew = put_up("bean stew")
    assert "leads to a published process" in say(stew, elevation_ft=0).reason
    assert "complete" not in holds(stew.stock, stew.last)[0]


def test_a_process_that_was_typed_in_late_is_held_against_what_is_said_after_it():
    farm = put_up("green beans", minutes=None, canner="pressure pot", pack="raw")
    began = farm.at - dt.timedelta(minutes=60)
    end = began + dt.timedelta(minutes=25)
    canner = "weighted-gauge"
    farm.do(
        Process(
            lot=farm.last, began=began, ended=end, who="A", canner=canner, at=farm.at
        )
    )
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN
    assert "its canner is in the record" in say(farm, canner="dial-gauge").reason
    assert say(farm) is None
    assert lack_of(farm.stock, farm.last) is None


def test_it_is_taken_back_as_any_entry_is_and_the_hold_comes_again():
    farm = put_up("figs", minutes=55, elevation_ft=None, food="fruit", **EARLY)
    say(farm, elevation_ft=1017)
    event = farm.stock.event(farm.stock.sequence)
    assert isinstance(event, Completed)
    assert told(farm.stock, event) == (
        f"said of figs {printed(farm.last)}: at 1,017 ft (310 m), canner: "
        "boiling-water; 55 min are due"
    )
    farm.mend(farm.stock.sequence)
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN
    assert lack_of(fold(farm.stock.events), farm.last) is Lack.UNKNOWN


def test_jelly_of_an_unsaid_height_goes_to_the_stand_once_it_is_said():
    farm = put_up("plum jelly", jar="half-pint", minutes=10, elevation_ft=None)
    farm.later(24)
    farm.check(farm.last, 8, seen=Seen.SET)
    assert "stock complete" in farm.take(farm.last, "1", Way.SOLD).instead
    assert say(farm, elevation_ft=2150) is None
    assert farm.take(farm.last, "1", Way.SOLD) is None


@pytest.mark.parametrize("pot", ["waterbath", "big water kettle", "stock pot"])
def test_a_pot_of_water_does_not_become_a_pressure_canner(pot):
    farm = put_up("green beans", minutes=40, pack="raw", canner=pot)
    assert isinstance(say(farm, canner="dial-gauge"), Refusal)
    assert lack_of(farm.stock, farm.last) is Lack.UNKNOWN


def test_a_jar_is_not_said_to_be_smaller_than_what_it_holds():
    farm = Farm()
    batch = {"food": "fruit", "process_min": 47, "due_min": None, "elevation_ft": 900}
    farm.made("8 jars figs, 1 quart each, pantry", due_source="no such jar", **batch)
    assert "its jar is in the record" in say(farm, jar="pint").reason
    assert say(farm, jar="quart") is None
    assert lack_of(farm.stock, farm.last) is Lack.SHORT
    bottles = Farm()
    bottles.made("8 bottles figs, pantry", due_source="no such jar", **batch)
    assert isinstance(say(bottles, jar="pint"), Refusal)


@pytest.mark.parametrize("which", ["plum jam", "fig jam"])
def test_jam_of_no_named_fruit_is_on_hold_until_it_is_said_of_which_it_is(which):
    """It was good stock after 10 min, and nobody asked whether it was of melons."""
    farm = put_up("jam", jar="pint", minutes=10, elevation_ft=1017, food="jam", **EARLY)
    (why, *_) = holds(farm.stock, farm.last)
    assert "jam may be of any fruit" in why
    assert "add which of them it is with stillroom stock complete" in why
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    assert "may mean melon jam" in say(farm, which="melon jam").reason
    assert say(farm, which=which) is None
    assert lack_of(farm.stock, farm.last) is None
