"""What a gauge read, said later than its jars were booked."""

import datetime as dt

import pytest

from stillroom.refusal import Refusal, Unreadable
from stillroom.stock.after import open_of
from stillroom.stock.codec import from_entry, to_entry
from stillroom.stock.commands import Process, SayGauge
from stillroom.stock.due import due_process
from stillroom.stock.events import GaugeSaid, Way
from stillroom.stock.first import use_first
from stillroom.stock.gauge import gauge_not_said
from stillroom.stock.gauge_said import may_gauge_be_said
from stillroom.stock.lacks import Lack, gauge_read_psi, lack_of
from stillroom.stock.lotcode import printed
from stillroom.stock.told import told
from tests.stock.kitchen import Farm
from tests.stock.test_gauge import _Recorded, booked, lack, late


def say(farm: Farm, gauge: str, who: str = "Ada", lot: str = "") -> Refusal | None:
    asked = SayGauge(lot=lot or farm.last, gauge=gauge, who=who, at=farm.at)
    return farm.do(asked)


@pytest.mark.parametrize(
    ("gauge", "of"), [("12 psi", None), ("13", None), ("11 psi", Lack.LOW)]
)
def test_a_reading_is_kept_later_and_held_to_what_is_published(gauge, of):
    farm = booked("")  # green beans at 2,150 ft: 20 min at 12 psi
    assert may_gauge_be_said(farm.stock, farm.last)
    farm.later(30)
    assert say(farm, gauge) is None
    assert lack(farm) is of
    assert bool(use_first(farm.stock, farm.at)) is (of is None)
    event = farm.stock.event(2)
    assert isinstance(event, GaugeSaid)
    assert event.late
    assert "Ada says" in told(farm.stock, event)
    assert from_entry(_Recorded(to_entry(event))) == event
    shown = open_of(farm.stock, farm.last, farm.at).process
    assert f"20 min at {event.gauge_psi:g} psi" in shown


def test_what_the_booking_says_of_it_leads_there():
    farm = booked("")
    said = gauge_not_said(farm.stock.made(farm.last).batch, printed(farm.last))
    assert f"stillroom stock gauge {printed(farm.last)} READING --who NAME" in said


def test_a_reading_taken_back_is_as_if_nobody_had_said_it():
    farm = booked("")
    say(farm, "9 psi")
    assert isinstance(farm.take(farm.last, "1", Way.EATEN), Refusal)
    assert farm.mend(2) is None
    assert lack(farm) is None
    assert say(farm, "12 psi") is None


@pytest.mark.parametrize(
    ("farm", "gauge", "who", "reason", "instead"),
    [
        (booked("12 psi"), "11 psi", "Ada", "in the record: at 12", "hold"),
        (booked("", minutes=None), "12 psi", "Ada", "had no process", "stock process"),
        (booked(""), " ", "Ada", "was not said what", "11 psi"),
        (booked(""), "12 psi", " ", "who read", "nobody saw"),
        (
            booked("", sentence="7 pints green beans, freezer", minutes=None),
            *("12 psi", "Ada", "no canner here", "stock made"),
        ),
        (
            booked("", canner="boiling-water", sentence="7 pints plum jam, pantry"),
            *("11 psi", "Ada", "no canner here", "stock made"),
        ),
        (
            booked("", canner="pressure canner"),
            *("11 psi", "Ada", "no canner here", "--canner CANNER"),
        ),
    ],
)
def test_what_cannot_be_said_says_what_to_do(farm, gauge, who, reason, instead):
    before = farm.stock.sequence
    no = say(farm, gauge, who)
    assert reason in no.reason
    assert instead in no.instead
    assert farm.stock.sequence == before


def test_a_word_is_no_reading():
    with pytest.raises(Unreadable, match="no gauge reading"):
        say(booked(""), "plenty")


def test_it_is_said_of_every_lot_of_the_load_that_has_none():
    farm = Farm()
    said = {
        "food": "vegetable",
        "canner": "dial-gauge",
        "elevation_ft": 500,
        "process_min": 20,
        "due_min": 20,
        "due_psi": 11.0,
        "pack": "raw",
        "load": 1,
    }
    farm.made("4 pints green beans, pantry", **said)
    one = farm.last
    farm.made("3 pints green beans, pantry", **said)
    farm.made("2 pints green beans, pantry", **{**said, "gauge_psi": 12.0})
    farm.made("2 pints green beans, pantry", **{**said, "load": 2})
    assert say(farm, "10 psi", lot=one) is None
    psi = [gauge_read_psi(farm.stock, code) for code in farm.stock.lots]
    assert psi == [10.0, 10.0, 12.0, None]


def test_the_short_minutes_of_a_high_pressure_go_with_no_lower_one():
    # crushed tomatoes to 1,000 ft, weighted gauge: 20 min at 5, 15 at 10, 10 at 15 psi
    old = {"canner": "weighted-gauge", "elevation_ft": 500, "pack": "hot"}
    for due_psi in (15.0, None):  # old entries kept no pressure
        for gauge, of in (("15 psi", None), ("14 psi", Lack.LOW), ("10 psi", Lack.LOW)):
            farm = Farm()
            due = {"process_min": 10, "due_min": 10, "due_psi": due_psi}
            farm.made("7 pints crushed tomatoes, pantry", **{**old, **due})
            assert say(farm, gauge) is None
            assert lack(farm) is of, (due_psi, gauge)


def test_those_pressures_and_minutes_are_the_printed_ones():
    said = {"elevation_ft": 500.0, "canner": "weighted-gauge", "pack": "hot"}
    dues = [
        due_process("crushed tomatoes", "pint", gauge_psi=psi, **said)
        for psi in (5.0, 10.0, 15.0)
    ]
    assert [(due.minutes, due.psi) for due in dues] == [(20, 5), (15, 10), (10, 15)]


def test_a_reading_is_of_the_process_that_it_was_said_of():
    farm = booked("", minutes=None)
    assert late(farm, "") is None
    assert say(farm, "12 psi") is None
    process = next(
        n for n, e in enumerate(farm.stock.events, 1) if e.kind == "processed"
    )
    farm.mend(process)
    assert lack(farm) is Lack.NONE
    farm.later(0.5)
    again = Process(
        lot=farm.last,
        began=farm.at - dt.timedelta(minutes=25),
        ended=farm.at - dt.timedelta(minutes=5),
        who="Ada",
        at=farm.at,
    )
    assert farm.do(again) is None
    assert gauge_read_psi(farm.stock, farm.last) is None
    assert lack_of(farm.stock, farm.last) is None
