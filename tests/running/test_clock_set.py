"""The computer's clock is set in the midst of a day: no process ends by its hands."""

import datetime as dt
import sys
from functools import partial

import pytest

from stillroom.refusal import NotNow, Refused, Unreadable
from stillroom.running.clock import (
    WatchedClock,
    name_of_start,
    since_switched_on_s,
)
from stillroom.running.commands import (
    BeginDay,
    FinishStep,
    LiftLoad,
    MarkFullBoil,
    NoteClockSet,
)
from stillroom.running.fold import RunState
from stillroom.running.handle import handle, note_clock_set, state_of
from stillroom.running.load_run import Phase
from stillroom.running.lots_made import lots_made
from stillroom.running.power_gone import may_have_been_off
from stillroom.running.stood import stood_too_long
from stillroom.stock.handle import stock_of
from tests.running.a_run import LOADS, RUN, START, ZONE, batch

HOUR = dt.timedelta(hours=1)
MINUTE = dt.timedelta(minutes=1)


class Hours:
    """A clock that shows one hour after the other."""

    def __init__(self, hours) -> None:
        self.hours = hours

    def now(self) -> dt.datetime:
        return next(self.hours)


class Computer:
    """Its clock can be set; the seconds since it was switched on cannot."""

    def __init__(self, ledger) -> None:
        self.ledger = ledger
        self.at = START
        self.runs_s = 7200.0
        self.boot = "first"
        self.clock = self.program()

    def program(self) -> WatchedClock:
        """One more that looks at the same record."""
        return WatchedClock(self, lambda: self.runs_s, self.boot)

    def now(self) -> dt.datetime:
        return self.at

    def later(self, minutes: float) -> "Computer":
        self.at += minutes * MINUTE
        self.runs_s += minutes * 60
        return self

    def set_on(self, by: dt.timedelta) -> "Computer":
        self.at += by
        return self

    def heed(self, program: WatchedClock | None = None) -> "Computer":
        (program or self.clock).heed(partial(note_clock_set, ledger=self.ledger))
        return self

    def cut_off(self, starts_at: dt.datetime) -> "Computer":
        """The power goes; it comes again, and the clock starts at that hour."""
        self.at, self.runs_s, self.boot = starts_at, 0.0, self.boot + " again"
        self.clock = self.program()
        return self

    def begin(self) -> "Computer":
        at, on = self.clock.look()
        loads, made = LOADS, (batch(1, 8), batch(2, 7))
        asked = BeginDay(
            loads=loads, batches=made, at=at, switched_on=on, boot=self.boot
        )
        handle(asked, RUN, ledger=self.ledger)
        return self

    def do(self, ask, **what) -> "Computer":
        handle(ask(at=self.at, **what), RUN, ledger=self.ledger)
        return self

    @property
    def state(self) -> RunState:
        return state_of(RUN, ledger=self.ledger)

    @property
    def kinds(self) -> list[str]:
        return [entry.kind for entry in self.ledger.read(RUN)]


@pytest.fixture
def computer(records) -> Computer:
    """Load 1 reached its full boil at 9:30; it takes 10 min, and 5 of rest."""
    computer = Computer(records.ledger)
    computer.do(BeginDay, loads=LOADS, batches=(batch(1, 8), batch(2, 7)))
    computer.later(20).do(FinishStep, batch="plum jelly 1", step="wipe_and_lid")
    return computer.later(10).do(MarkFullBoil, load="canner/1")


@pytest.mark.parametrize("by", [HOUR, -HOUR, 40 * MINUTE, dt.timedelta(days=200)])
def test_a_load_has_its_whole_time_however_the_clock_is_set(computer, by):
    """4 of its 10 min have gone by: 6 are left, by whatever clock."""
    computer.later(4).set_on(by).heed()
    run = computer.state.load("canner/1")
    assert run.phase(computer.at) is Phase.BOILING
    assert run.deadline == computer.at + 6 * MINUTE
    with pytest.raises(Refused, match=r"has had 4 min 00 s of 10 min"):
        computer.do(LiftLoad, load="canner/1")
    computer.later(11).do(LiftLoad, load="canner/1")
    assert computer.state.load("canner/1").lifted_at == computer.at


def test_what_was_tapped_before_is_told_by_the_new_clock_too(computer):
    computer.later(4).set_on(-HOUR).heed()
    state = computer.state
    assert state.begun_at == START - HOUR
    assert [at for *_, at in state.done_at] == [START + 20 * MINUTE - HOUR]
    assert state.last_at == computer.at
    # no refusal that the clock was set back
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")


def test_a_clock_that_goes_on_is_not_noted(computer):
    computer.later(4).heed().later(600).set_on(dt.timedelta(seconds=1)).heed()
    assert "clock-set" not in computer.kinds


def test_it_is_noted_once(computer):
    computer.later(4).set_on(HOUR).heed().heed().later(3).heed()
    assert computer.kinds.count("clock-set") == 1


def test_a_second_program_that_notices_it_later_notes_it_no_more(computer):
    other = computer.program()
    computer.later(1).set_on(HOUR).heed().later(3).heed(other)
    assert computer.kinds.count("clock-set") == 1
    assert computer.state.load("canner/1").deadline == computer.at + 6 * MINUTE


@pytest.mark.parametrize("boot", ["named", ""])
@pytest.mark.parametrize(
    ("first", "then"),
    [
        (10 * MINUTE, 30 * MINUTE),
        (-10 * MINUTE, -30 * MINUTE),
        (60 * MINUTE, 30 * MINUTE),
    ],
)
def test_what_one_program_told_is_not_told_again_by_one_that_looks_late(
    computer, first, then, boot
):
    """The late one notices both settings as one; 3 min have gone by, and no more."""
    computer.boot = boot
    early, late, later_still = (computer.program() for _ in range(3))
    computer.later(1).set_on(first).heed(early)
    computer.later(2).set_on(then).heed(late).heed(early).heed(later_still)
    assert computer.kinds.count("clock-set") == 2
    assert computer.state.clock_set.by == then
    assert computer.state.load("canner/1").deadline == computer.at + 7 * MINUTE


@pytest.mark.parametrize("order", [(0, 1, 2), (2, 1, 0), (1, 0, 2), (2, 0, 1)])
def test_three_programs_tell_three_settings_in_any_order(computer, order):
    """The clock is set on too far, back too far, and right; each looks once first."""
    programs = [computer.program() for _ in range(3)]
    for by, one in zip((HOUR, -90 * MINUTE, 20 * MINUTE), order, strict=True):
        computer.later(1).set_on(by).heed(programs[one])
        assert computer.state.load("canner/1").boiling_since is not None
    for program in programs:
        computer.heed(program)
    assert computer.state.load("canner/1").deadline == computer.at + 7 * MINUTE


def test_what_was_told_before_the_power_went_is_no_part_of_a_setting(computer):
    """
    A small computer is set on, loses its power, and starts at the hour it kept.

    When it was switched on first lies between the two hours of the second start.
    """
    computer.cut_off(START + 30 * MINUTE).later(1).set_on(HOUR).heed().later(2)
    computer.cut_off(START + 80 * MINUTE).later(15)
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.set_on(15 * MINUTE).heed()
    closed = {name: at for name, _, at in computer.state.done_at}
    assert closed["plum jelly 2"] == computer.at


@pytest.mark.parametrize(
    ("before", "during", "boot"),
    [
        (HOUR, 0 * MINUTE, ""),
        (-HOUR, 0 * MINUTE, ""),
        (HOUR, 30 * MINUTE, ""),
        (-HOUR, -30 * MINUTE, ""),
        (HOUR, 30 * MINUTE, "named"),
        (-HOUR, -30 * MINUTE, "named"),
        # told only where a computer names its starts
        (HOUR, -30 * MINUTE, "named"),
        (-HOUR, 30 * MINUTE, "named"),
    ],
)
def test_a_setting_of_before_the_day_is_no_part_of_it(records, before, during, boot):
    """
    Of two programs one is idle: it notices what went before only once a load boils.

    4 of its 10 min have gone by.
    """
    computer = Computer(records.ledger)
    computer.boot = boot
    used, idle = computer.program(), computer.program()
    computer.later(1).set_on(before).heed(used).begin()
    computer.later(30).do(MarkFullBoil, load="canner/1").later(4)
    computer.set_on(during)
    for program in (idle, used, idle):
        computer.heed(program)
    assert computer.state.load("canner/1").deadline == computer.at + 6 * MINUTE
    assert computer.kinds.count("clock-set") == (during != 0 * MINUTE)


@pytest.mark.parametrize("by", [HOUR, -HOUR, 0 * MINUTE])
def test_it_is_set_while_no_program_looks(records, by):
    """The pages are ended, the clock is set, and they are served again."""
    computer = Computer(records.ledger).begin()
    computer.later(30).do(MarkFullBoil, load="canner/1").later(4)
    computer.set_on(by).later(1)
    computer.clock = computer.program()
    for _ in range(2):
        computer.clock.begin(partial(note_clock_set, ledger=computer.ledger))
        computer.heed()
    assert computer.state.load("canner/1").deadline == computer.at + 5 * MINUTE
    assert computer.kinds.count("clock-set") == (by != 0 * MINUTE)


def busy(*_: object) -> None:
    raise NotNow("the record is busy")


def unreadable(*_: object) -> None:
    raise Unreadable("an entry of a later version")


@pytest.mark.parametrize("meanwhile", [0 * MINUTE, HOUR, -HOUR])
def test_what_was_set_while_no_program_looked_is_told_as_soon_as_it_can_be(
    records, meanwhile
):
    """The record is busy as the pages are served again, and at the first look too."""
    computer = Computer(records.ledger).begin()
    computer.later(30).do(MarkFullBoil, load="canner/1").later(4)
    computer.set_on(HOUR).later(1)
    clock = computer.clock = computer.program()
    for attempt in (clock.begin, clock.heed):
        with pytest.raises(NotNow):
            attempt(busy)
    computer.set_on(meanwhile).heed().heed()
    assert computer.state.load("canner/1").deadline == computer.at + 5 * MINUTE
    assert computer.kinds.count("clock-set") == (meanwhile != -HOUR)


def test_what_cannot_be_read_at_all_is_not_tried_at_every_page(computer):
    clock = computer.program()
    with pytest.raises(Unreadable):
        clock.begin(unreadable)
    clock.heed(unreadable)


def test_it_is_not_known_how_far_it_was_set_while_the_power_was_off(records):
    """Its hours of before went by another start: they stay as they are."""
    computer = Computer(records.ledger).begin()
    computer.later(30).do(MarkFullBoil, load="canner/1").later(4)
    computer.cut_off(computer.at + HOUR)
    computer.clock.begin(partial(note_clock_set, ledger=computer.ledger))
    assert "clock-set" not in computer.kinds


def asked_about(computer) -> list[str]:
    """The loads that it is asked of whether their fire was out."""
    at, on = computer.clock.look()
    asked = may_have_been_off(computer.state, at, on, computer.boot)
    return [run.load.id for run in asked]


@pytest.mark.parametrize("boot", ["named", ""])
@pytest.mark.parametrize("starts", [-30 * MINUTE, 30 * MINUTE])
def test_whether_a_fire_was_out_is_asked_wherever_the_clock_starts(
    records, starts, boot
):
    """A clock without a battery starts behind the boil: it hides the power cut."""
    computer = Computer(records.ledger)
    computer.boot = boot
    computer.clock = computer.program()
    computer.begin().later(30)
    computer.do(MarkFullBoil, load="canner/1", boot=boot).later(4)
    assert asked_about(computer) == []
    computer.cut_off(computer.at + starts)
    if not boot:
        computer.boot = ""
    assert asked_about(computer) == ["canner/1"]


def test_it_is_asked_when_a_clock_that_was_behind_comes_to_the_hour_of_the_boil(
    records,
):
    """Its start has another name than that of the tap."""
    computer = Computer(records.ledger).begin().later(30)
    computer.do(MarkFullBoil, load="canner/1", boot=computer.boot).later(4)
    computer.cut_off(computer.at - 30 * MINUTE).later(50)
    assert asked_about(computer) == ["canner/1"]


def test_of_one_start_nothing_is_asked_however_its_clock_was_set(records):
    computer = Computer(records.ledger).begin().later(30)
    computer.do(MarkFullBoil, load="canner/1", boot=computer.boot).later(4)
    computer.set_on(-3 * HOUR).heed()
    assert asked_about(computer) == []


def test_set_on_and_back_again_is_as_if_it_never_was(computer):
    before = computer.state.load("canner/1").deadline
    computer.later(1).set_on(HOUR).heed().later(1).set_on(-HOUR).heed()
    assert computer.kinds.count("clock-set") == 2
    assert computer.state.load("canner/1").deadline == before


def test_what_was_tapped_before_the_power_went_keeps_its_hour(computer):
    """
    A small computer without a clock of its own starts where it was cut off.

    The jars were closed at 9:20. The power goes at 9:31 and comes an hour later; the
    computer believes that it is 9:32 until it hears the time from the network.
    """
    computer.at = START + 32 * MINUTE
    computer.runs_s = 30.0
    computer.clock = computer.program()
    computer.later(2).do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.set_on(HOUR).heed()
    closed = {name: at for name, _, at in computer.state.done_at}
    assert closed["plum jelly 1"] == START + 20 * MINUTE
    assert closed["plum jelly 2"] == computer.at


def test_an_hour_of_another_machine_that_was_right_all_along_stays(computer):
    """Told an hour later it would lie ahead of the clock that is right now."""
    computer.at -= HOUR  # this one begins an hour behind
    computer.clock = computer.program()
    computer.later(4).set_on(HOUR).heed()
    assert computer.state.begun_at == START
    assert computer.state.load("canner/1").boiling_since == START + 30 * MINUTE


@pytest.mark.parametrize(("by", "stood"), [(2 * HOUR, 130), (-2 * HOUR, 10)])
def test_closed_jars_may_have_stood_as_long_as_either_clock_says(computer, by, stood):
    """
    Closed 10 min ago, or before the machine round this computer slept for two hours.

    Their process is never begun sooner for it, and the jars are asked about.
    """
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.later(10).set_on(by).heed()
    state = computer.state
    run = state.load("canner/2")
    since = {name: at for name, _, at in state.done_at}["plum jelly 2"]
    assert since == computer.at - 10 * MINUTE
    told = stood_too_long(state, run, computer.at)
    assert (told.minutes if told else 10) == stood


def may_have_stood(computer) -> dt.timedelta:
    """The longest that the jars of the second batch may have stood closed."""
    state = computer.state
    closed = {name: at for name, _, at in state.done_at}["plum jelly 2"]
    return computer.at - state.earliest(closed)


@pytest.mark.parametrize(
    ("settings", "stood"),
    [
        ((HOUR, HOUR), 142),  # it slept twice
        ((HOUR, -5 * MINUTE), 82),  # it slept, and then it was put right
        ((-5 * MINUTE, HOUR), 82),
        ((-5 * MINUTE, -HOUR), 22),
    ],
)
def test_jars_may_have_stood_through_every_sleep_of_the_machine_round(
    computer, settings, stood
):
    """Closed 22 min ago by what ran here, and each setting on may be a sleep."""
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    for by in settings:
        computer.later(10).set_on(by).heed()
    computer.later(2)
    assert may_have_stood(computer) == stood * MINUTE


def test_jars_closed_after_the_first_setting_stood_through_the_second_alone(computer):
    computer.later(10).set_on(HOUR).heed().later(1)
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.later(10).set_on(30 * MINUTE).heed()
    assert may_have_stood(computer) == 40 * MINUTE


def test_a_setting_back_leaves_jars_told_by_the_clock_that_it_found(computer):
    """Told by the last clock they lie before it was switched on by the first."""
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.later(10).set_on(2 * HOUR).heed().later(1).set_on(-5 * HOUR).heed()
    assert may_have_stood(computer) == 131 * MINUTE


def test_a_lot_says_how_long_its_jars_may_have_stood(computer):
    computer.later(16).do(LiftLoad, load="canner/1")
    computer.do(FinishStep, batch="plum jelly 2", step="wipe_and_lid")
    computer.later(10).set_on(2 * HOUR).heed()
    computer.do(MarkFullBoil, load="canner/2").later(16)
    computer.do(LiftLoad, load="canner/2")
    stock = stock_of(computer.ledger)
    lots = [one.making.batch for one in lots_made(computer.state, RUN, stock, ZONE)]
    assert [lot.stood_min for lot in lots if lot.load == 2] == [130]


def test_a_day_that_is_not_under_way_is_left_alone(computer):
    for load in ("canner/1", "canner/2"):
        if load != "canner/1":
            computer.do(MarkFullBoil, load=load)
        computer.later(16).do(LiftLoad, load=load)
    computer.later(24 * 60).set_on(HOUR).heed()
    assert "clock-set" not in computer.kinds


def test_what_could_not_be_noted_is_tried_again(computer):
    computer.later(4).set_on(HOUR)

    def full(*_: object) -> None:
        raise NotNow("the disk is full")

    with pytest.raises(NotNow):
        computer.clock.heed(full)
    computer.heed()
    assert computer.state.load("canner/1").deadline == computer.at + 6 * MINUTE


def test_a_sleep_between_two_looks_at_the_clocks_is_no_setting(computer):
    """The laptop is closed just between its two clocks: it looks again."""
    looks = iter([7200.0, 9999.0, 9999.0, 9999.0])
    told = []
    computer.runs_s = 7200.0
    clock = WatchedClock(computer, lambda: next(looks, computer.runs_s))
    computer.runs_s = 9999.0
    clock.heed(lambda *noted: told.append(noted))
    assert told == []


def test_the_seconds_since_it_was_switched_on_only_grow():
    first = since_switched_on_s()
    assert 0 < first <= since_switched_on_s()


@pytest.mark.skipif(sys.platform != "linux", reason="Linux names its starts")
def test_two_programs_of_one_start_call_it_by_one_name():
    told = []
    for _ in range(2):
        hours = iter([START, START + HOUR])
        program = WatchedClock(Hours(hours), lambda: 7200.0)
        program.heed(lambda at, by, on, boot: told.append(boot))
    assert told == [name_of_start()] * 2
    assert len(told[0]) == 36


def test_no_run_is_told_before_it_is_begun(records):
    noted = NoteClockSet(at=START, by=HOUR, switched_on=START - HOUR)
    handle(noted, RUN, ledger=records.ledger)
    assert records.ledger.read(RUN) == ()
