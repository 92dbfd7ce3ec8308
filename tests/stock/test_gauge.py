"""What the gauge read is kept, and held against the published pressure."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.after import day_after
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Complete, Make, Process, SayGauge
from stillroom.stock.events import Way
from stillroom.stock.first import use_first
from stillroom.stock.gauge import gauge_not_said, read_gauge
from stillroom.stock.lacks import Lack, lack_of
from stillroom.stock.making import holds
from stillroom.stock.process_words import process_words
from stillroom.stock.put_up import batch_put_up, thing_made
from stillroom.stock.unprocessed import may_be_done_again
from tests.stock.kitchen import Farm, thing

# USDA Complete Guide, Guide 4, green beans raw in pints: 20 min; dial gauge 11 psi to
# 2,000 ft, 12 psi to 4,000 ft; weighted gauge 10 psi to 1,000 ft, 15 psi above.
BEANS = "7 pints green beans, pantry"


def booked(
    gauge: str,
    *,
    canner: str = "dial-gauge",
    feet: float | None = 2150,
    minutes: int | None = 20,
    sentence: str = BEANS,
    pack: str | None = "raw",
) -> Farm:
    farm = Farm()
    put_up = thing_made(thing(sentence, as_jars=True), farm.at.date())
    batch = batch_put_up(
        put_up,
        process_min=minutes,
        canner=canner,
        elevation_ft=feet,
        pack=pack,
        gauge_psi=read_gauge(gauge, canner=canner),
    )
    on = farm.at.date()
    asked = Make(thing=put_up, inputs=(), batch=batch, on=on, at=farm.at)
    assert farm.do(asked) is None
    return farm


def lack(farm: Farm) -> Lack | None:
    return lack_of(farm.stock, farm.last)


@pytest.mark.parametrize(
    ("gauge", "canner", "feet", "is_low"),
    [
        ("12 psi", "dial-gauge", 2150, False),
        ("11 psi", "dial-gauge", 2150, True),
        ("11 psi", "dial-gauge", 2000, False),
        ("11.5 psi", "dial-gauge", 2001, True),
        ("10.5 psi", "dial-gauge", 500, True),
        ("15 lb weighted", "weighted-gauge", 2150, False),
        ("10 lb weighted", "weighted-gauge", 2150, True),
        ("10 lb weighted", "weighted-gauge", 1000, False),
        ("15 lb", "weighted-gauge", 500, False),
    ],
)
def test_a_reading_is_held_against_what_is_published_at_that_height(
    gauge, canner, feet, is_low
):
    farm = booked(gauge, canner=canner, feet=feet)
    assert lack(farm) is (Lack.LOW if is_low else None)


def test_the_hold_names_what_was_read_and_what_is_published():
    farm = booked("11 psi")
    (why,) = holds(farm.stock, farm.last)
    assert "20 min at 11 psi, and 12 psi is published for it at 2,150 ft" in why
    (load,) = day_after(farm.stock, farm.at)
    assert load.lots[0].process == "20 min at 11 psi; 20 min at 12 psi are due"
    farm.later(20)
    farm.check(farm.last, 7, seen=None)
    for way in (Way.EATEN, Way.SOLD, Way.GIVEN):  # no look at its lids lifts it
        assert isinstance(farm.take(farm.last, "1", way), Refusal)


def test_within_its_hours_a_load_under_too_low_a_pressure_may_be_done_again():
    farm = booked("9 psi")
    assert may_be_done_again(farm.stock, farm.last, farm.at)
    farm.later(30)
    assert not may_be_done_again(farm.stock, farm.last, farm.at)


def test_a_gauge_that_read_nothing_is_kept_and_counts_as_too_low():
    farm = booked("0 psi")
    assert farm.stock.made(farm.last).batch.gauge_psi == 0.0
    (why,) = holds(farm.stock, farm.last)
    assert "at 0 psi, and 12 psi is published for it" in why


def under_fifteen(farm: Farm, gauge: str) -> Refusal | None:
    """Type in late 10 min of tomatoes that were planned at 15 psi, gauge not said."""
    # crushed tomatoes to 1,000 ft, weighted gauge: 20 min at 5, 15 at 10, 10 at 15 psi
    farm.made(
        "7 pints crushed tomatoes, pantry",
        food="vegetable",
        canner="weighted-gauge",
        elevation_ft=500,
        pack="hot",
        process_min=None,
        due_psi=15.0,
        load=1,
        filled_at="08:00",
    )
    farm.later(0.5)
    return farm.do(
        Process(
            lot=farm.last,
            began=farm.at - dt.timedelta(minutes=11),
            ended=farm.at - dt.timedelta(minutes=1),
            who="Ada",
            gauge=gauge,
            at=farm.at,
        )
    )


def test_the_short_minutes_of_a_high_pressure_want_their_gauge():
    farm = Farm()
    asked = under_fifteen(farm, "")
    assert isinstance(asked, Refusal)
    assert "10 min at 15 psi are due" in asked.reason
    assert "--gauge" in asked.instead
    assert lack(farm) is Lack.NONE
    assert under_fifteen(whole := Farm(), "15 psi") is None
    assert lack(whole) is None
    assert under_fifteen(low := Farm(), "10 psi") is None
    assert lack(low) is Lack.LOW


def test_too_low_a_pressure_is_kept_and_holds_in_the_freezer_too():
    # whoever says too little is not better off than who says nothing of the gauge
    farm = booked("9 psi", sentence="7 pints green beans, freezer")
    assert farm.stock.made(farm.last).batch.gauge_psi == 9.0
    (why,) = holds(farm.stock, farm.last)
    assert "at 9 psi, and 12 psi is published for it" in why


def test_what_nobody_said_is_said_and_judged_by_the_minutes_as_before():
    farm = booked("")
    batch = farm.stock.made(farm.last).batch
    assert (batch.gauge_psi, batch.due_psi, lack(farm)) == (None, 12.0, None)
    assert "12 psi is published" in gauge_not_said(batch)
    assert gauge_not_said(booked("12 psi").stock.made(farm.last).batch) == ""
    short = booked("12 psi", minutes=15)
    assert lack(short) is Lack.SHORT


def test_of_several_printed_pressures_the_reading_says_which_is_meant():
    # Crushed tomatoes, dial gauge to 2,000 ft: 6 psi, and 11 psi for a shorter time.
    said = {"feet": 500, "pack": "hot", "sentence": "7 quarts crushed tomatoes, pantry"}
    farms = [booked(gauge, **said) for gauge in ("", "8 psi", "11 psi")]
    first, between, higher = (f.stock.made(f.last).batch for f in farms)
    assert [b.due_psi for b in (first, between, higher)] == [6.0, 6.0, 11.0]
    assert first.due_min == between.due_min > higher.due_min


def late(farm: Farm, gauge: str, canner: str = "") -> Refusal | None:
    began = farm.at + dt.timedelta(minutes=10)
    farm.later(1)
    return farm.do(
        Process(
            lot=farm.last,
            began=began,
            ended=began + dt.timedelta(minutes=20),
            who="Ada",
            canner=canner,
            gauge=gauge,
            at=farm.at,
        )
    )


@pytest.mark.parametrize(("gauge", "of"), [("12 psi", None), ("10 psi", Lack.LOW)])
def test_a_process_typed_in_late_brings_its_reading(gauge, of):
    farm = booked("", minutes=None)
    assert lack(farm) is Lack.NONE
    assert late(farm, gauge) is None
    assert lack(farm) is of
    assert process_words(farm.stock, farm.last, farm.at.tzinfo).startswith(
        f"20 min at {gauge}, typed in late"
    )


def test_another_gauge_that_is_typed_in_late_is_held_to_its_own_pressure():
    # to 1,000 ft 10 psi are printed for a weighted gauge and 11 for a dial
    farm = booked("", canner="weighted-gauge", feet=500, minutes=None)
    assert late(farm, "10 psi", "dial-gauge") is None
    assert lack(farm) is Lack.LOW


def test_a_reading_that_is_none_books_nothing():
    farm = booked("", minutes=None)
    before = farm.stock.sequence
    with pytest.raises(Unreadable, match="no gauge reading"):
        late(farm, "plenty")
    assert farm.stock.sequence == before


def test_what_was_added_later_is_judged_by_its_gauge_too():
    farm = booked("11 psi", feet=None)
    assert lack(farm) is Lack.UNKNOWN
    assert farm.do(Complete(lot=farm.last, elevation_ft=2150, at=farm.at)) is None
    assert lack(farm) is Lack.LOW


def test_entries_of_before_are_read_without_a_reading():
    farm = booked("")
    event = farm.stock.event(1)
    entry = to_entry(event)
    for new in (',"due_psi":12.0', ',"gauge_psi":null', '"due_psi":12.0,'):
        entry = type(entry)(**{**_fields(entry), "body": entry.body.replace(new, "")})
    assert "psi" not in entry.body
    old = from_entry(_Recorded(entry))
    assert (old.batch.gauge_psi, old.batch.due_psi) == (None, None)
    assert from_entry(_Recorded(to_entry(event))) == event


def _fields(entry) -> dict[str, object]:
    return {name: getattr(entry, name) for name in entry.__dataclass_fields__}


class _Recorded:
    """An entry as the ledger gives it back."""

    sequence = 1

    def __init__(self, entry) -> None:
        self.kind, self.version = entry.kind, entry.version
        self.body, self.occurred_at = entry.body, entry.occurred_at


@pytest.mark.parametrize(
    ("text", "canner", "said"),
    [
        ("75 kPa", "dial-gauge", "1 psi is 6.895 kPa"),
        ("110 psi", "dial-gauge", "outside 0 to 25 psi"),
        ("-11", "dial-gauge", "no gauge reading"),
        ("10 to 12 psi", "dial-gauge", "no gauge reading"),
        ("11 psi", "boiling-water", "boiling water has none"),
        ("15 lb weighted", "dial-gauge", "name the canner that it was, weighted-gauge"),
    ],
)
def test_a_reading_that_fits_nothing_is_refused_with_what_to_write(text, canner, said):
    with pytest.raises(Unreadable, match=said):
        read_gauge(text, canner=canner)


@pytest.mark.parametrize(
    ("text", "psi"),
    [
        *(("11", 11.0), ("11psi", 11.0), ("15 lb.", 15.0), ("12,5 psi", 12.5)),
        *(("10 pounds of pressure", 10.0), ("15 lbs (weighted gauge)", 15.0)),
        *(("11 psi, dial", 11.0), ("  ", None)),
    ],
)
def test_a_reading_as_it_is_said(text, psi):
    canner = "weighted-gauge" if "weighted" in text else "dial-gauge"
    assert read_gauge(text, canner=canner) == psi


@pytest.mark.parametrize(("gauge", "is_asked"), [("", True), ("12 psi", False)])
def test_the_list_to_eat_says_that_nobody_wrote_down_the_gauge(gauge, is_asked):
    """It had the date of best alone, and the caution only where it was booked."""
    farm = booked(gauge)
    (row,) = use_first(farm.stock, farm.at)
    unread = "what its gauge read is not in the record, and 12 psi is published"
    assert any(unread in words for words in row.remarks) is is_asked
    if is_asked:
        said = SayGauge(lot=farm.last, gauge="12 psi", who="Sefa", at=farm.at)
        assert farm.do(said) is None
        (row,) = use_first(farm.stock, farm.at)
        assert not any("gauge" in words for words in row.remarks)
