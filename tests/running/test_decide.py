"""Each rule of the stove as a line of a table: what happened, is asked, follows."""

import csv
import datetime as dt
from dataclasses import replace
from importlib.resources import files

import pytest

from stillroom.methods.canner_water import VENT_MIN
from stillroom.refusal import Refusal
from stillroom.running.commands import (
    BeginDay,
    BeginStep,
    BreakJar,
    Command,
    FinishStep,
    LiftLoad,
    MarkBoilLost,
    MarkFullBoil,
)
from stillroom.running.decide import decide
from stillroom.running.events import (
    AnyEvent,
    BoilLost,
    DayBegun,
    FullBoilReached,
    JarBroke,
    LoadLifted,
    RunLoad,
    StepBegun,
    StepDone,
)
from stillroom.running.fold import fold
from stillroom.running.rules import (
    AT_A_FULL_BOIL,
    AT_PRESSURE,
    BOIL_LOST,
    COOL_BY_ITSELF,
    PRESSURE_LOST,
    REST_MIN,
    REST_SOURCE,
    VENT_STEAM,
)

TEN = RunLoad(
    id="load 1",
    name="load 1",
    canner="canner 1",
    process_min=10,
    source="a published table",
    jar="half-pint",
    jars=(("plum jelly 1", 8),),
)
NEXT = RunLoad(
    id="load 2",
    name="load 2",
    canner="canner 1",
    process_min=15,
    source="a published table",
    jar="pint",
    jars=(("pear butter 1", 7),),
)
ASIDE = RunLoad(
    id="load 3",
    name="load 3",
    canner="canner 2",
    process_min=10,
    source="a published table",
    jar="half-pint",
    jars=(("plum jelly 2", 8),),
)


def at(minute: int, second: int = 0) -> dt.datetime:
    """So many minutes after half past nine, in a kitchen seven hours behind UTC."""
    here = dt.timezone(dt.timedelta(hours=-7))
    return dt.datetime(2026, 9, 12, 9, 30, tzinfo=here) + dt.timedelta(
        minutes=minute, seconds=second
    )


def boil(minute: int, load: str = "load 1") -> FullBoilReached:
    return FullBoilReached(load=load, occurred_at=at(minute))


def lost(minute: int, load: str = "load 1") -> BoilLost:
    return BoilLost(load=load, occurred_at=at(minute))


def lifted(minute: int, load: str = "load 1") -> LoadLifted:
    return LoadLifted(load=load, occurred_at=at(minute))


BEGUN = DayBegun(loads=(TEN, NEXT, ASIDE), occurred_at=at(0))


def ask_boil(minute: int, seen: int | None = None, load: str = "load 1") -> Command:
    return MarkFullBoil(load=load, at=at(minute), seen=seen)


def ask_lost(minute: int, seen: int | None = None) -> Command:
    return MarkBoilLost(load="load 1", at=at(minute), seen=seen)


def ask_lift(minute: int, second: int = 0, seen: int | None = None) -> Command:
    return LiftLoad(load="load 1", at=at(minute, second), seen=seen)


ALLOWED: list[tuple[str, list[AnyEvent], Command, tuple[AnyEvent, ...]]] = [
    (
        "a day begins with its loads",
        [],
        BeginDay(loads=(TEN,), at=at(0), seen=0),
        (DayBegun(loads=(TEN,), occurred_at=at(0)),),
    ),
    (
        "a second tap on begin is harmless",
        [BEGUN],
        BeginDay(loads=(TEN,), at=at(1), seen=0),
        (),
    ),
    ("a full boil starts the clock", [BEGUN], ask_boil(5, 1), (boil(5),)),
    ("a second tap on full boil is harmless", [BEGUN, boil(5)], ask_boil(6, 1), ()),
    (
        "other canners may boil at once",
        [BEGUN, boil(5)],
        ask_boil(6, 2, "load 3"),
        (boil(6, "load 3"),),
    ),
    (
        "what happened to another load does not make the tap old",
        [BEGUN, boil(5, "load 3")],
        ask_boil(6, 1),
        (boil(6),),
    ),
    ("a boil can be lost", [BEGUN, boil(5)], ask_lost(8, 2), (lost(8),)),
    (
        "a boil may turn out lost when the time is up",
        [BEGUN, boil(5)],
        ask_lost(16, 2),
        (lost(16),),
    ),
    ("a second tap on lost is harmless", [BEGUN, boil(5), lost(8)], ask_lost(8, 2), ()),
    (
        "a lost boil can be brought back",
        [BEGUN, boil(5), lost(8)],
        ask_boil(9, 3),
        (boil(9),),
    ),
    (
        "lifted at the very second that the rest ends",
        [BEGUN, boil(5)],
        ask_lift(20),
        (lifted(20),),
    ),
    (
        "after a lost boil the whole time counts from the second one",
        [BEGUN, boil(5), lost(8), boil(9)],
        ask_lift(24),
        (lifted(24),),
    ),
    (
        "a second tap on lifted is harmless",
        [BEGUN, boil(5), lifted(20)],
        ask_lift(21, seen=2),
        (),
    ),
    (
        "the next load boils when the canner is empty",
        [BEGUN, boil(5), lifted(20)],
        ask_boil(30, 3, "load 2"),
        (boil(30, "load 2"),),
    ),
    (
        "a step is done",
        [BEGUN],
        FinishStep(batch="plum jelly 1", step="fill", at=at(3)),
        (StepDone(batch="plum jelly 1", step="fill", occurred_at=at(3)),),
    ),
    (
        "a step done twice is done once",
        [BEGUN, StepDone(batch="plum jelly 1", step="fill", occurred_at=at(3))],
        FinishStep(batch="plum jelly 1", step="fill", at=at(4)),
        (),
    ),
    (
        "a step is begun",
        [BEGUN],
        BeginStep(batch="plum jelly 1", step="fill", at=at(3)),
        (StepBegun(batch="plum jelly 1", step="fill", occurred_at=at(3)),),
    ),
    (
        "a step begun twice is begun once",
        [BEGUN, StepBegun(batch="plum jelly 1", step="fill", occurred_at=at(3))],
        BeginStep(batch="plum jelly 1", step="fill", at=at(4)),
        (),
    ),
    (
        "a step that is done is not begun behind it",
        [BEGUN, StepDone(batch="plum jelly 1", step="fill", occurred_at=at(3))],
        BeginStep(batch="plum jelly 1", step="fill", at=at(4)),
        (),
    ),
]


@pytest.mark.parametrize(
    ("happened", "asked", "follows"),
    [case[1:] for case in ALLOWED],
    ids=[case[0] for case in ALLOWED],
)
def test_what_follows(
    happened: list[AnyEvent], asked: Command, follows: tuple[AnyEvent, ...]
):
    assert decide(fold(happened), asked) == follows


REFUSED: list[tuple[str, list[AnyEvent], Command, str, str, str]] = [
    (
        "nothing before the day is begun",
        [],
        ask_boil(5),
        "has not been begun",
        "begin the day first",
        "how Stillroom keeps a run",
    ),
    (
        "a day begins once",
        [BEGUN],
        BeginDay(loads=(NEXT,), at=at(1), seen=1),
        "begun at 09:30:00",
        "its loads stay as they were",
        "how Stillroom",
    ),
    (
        "a day with nothing to do",
        [],
        BeginDay(loads=(), at=at(0)),
        "no step and no canner load",
        "say in the Kitchen what is wanted",
        "how Stillroom",
    ),
    (
        "two loads of one name",
        [],
        BeginDay(loads=(TEN, TEN), at=at(0)),
        "two loads are called 'load 1'",
        "give each load its own name",
        "how Stillroom",
    ),
    (
        "a load that the run does not have",
        [BEGUN],
        ask_boil(5, load="load 9"),
        "no load 'load 9' in this run; there are: load 1, load 2, load 3",
        "choose one of these",
        "how Stillroom",
    ),
    (
        "a running clock is not started again",
        [BEGUN, boil(5)],
        ask_boil(7, 2),
        "runs since 09:35:00",
        "if the boil was lost, say so first",
        str(BOIL_LOST),
    ),
    (
        "one canner holds one load",
        [BEGUN, boil(5)],
        ask_boil(6, 2, "load 2"),
        "canner 1 still holds load 1",
        "lift load 1 out first",
        "common practice, no source",
    ),
    (
        "an old screen does not start a clock that was stopped since",
        [BEGUN, boil(5), lost(8)],
        ask_boil(9, 1),
        "has changed since this screen was drawn",
        "look at it as it is now",
        "how Stillroom",
    ),
    (
        "an old screen does not stop a clock that was started again since",
        [BEGUN, boil(5), lost(8), boil(9)],
        ask_lost(10, 2),
        "has changed since this screen was drawn",
        "look at it as it is now",
        "how Stillroom",
    ),
    (
        "an old screen does not lift after the boil was lost and brought back",
        [BEGUN, boil(5), lost(8), boil(9)],
        ask_lift(30, seen=2),
        "has changed since this screen was drawn",
        "look at it as it is now",
        "how Stillroom",
    ),
    (
        "no boil to lose",
        [BEGUN],
        ask_lost(5, 1),
        "clock of load 1 is not running",
        "full boil with its lid on",
        str(AT_A_FULL_BOIL),
    ),
    (
        "jars not boiled at all",
        [BEGUN],
        ask_lift(40),
        "has not been processed: its clock was not started",
        "for the whole 10 min",
        f"{AT_A_FULL_BOIL}; a published table",
    ),
    (
        "jars whose boil was lost",
        [BEGUN, boil(5), lost(14)],
        ask_lift(40),
        "has not been processed: its boil was lost",
        "for the whole 10 min",
        f"{BOIL_LOST}; a published table",
    ),
    (
        "a second before the process time is up",
        [BEGUN, boil(5)],
        ask_lift(14, 59),
        "has had 9 min 59 s of 10 min at a full boil",
        "until 09:45:00, then fire off, lid off, and lift the jars at 09:50:00",
        "a published table",
    ),
    (
        "what boiled before the boil was lost does not count",
        [BEGUN, boil(5), lost(8), boil(9)],
        ask_lift(15),
        "has had 6 min 00 s of 10 min at a full boil",
        "lift the jars at 09:54:00",
        "a published table",
    ),
    (
        "a second before the rest is over",
        [BEGUN, boil(5)],
        ask_lift(19, 59),
        "has rested 4 min 59 s of 5 min",
        "lift the jars at 09:50:00",
        str(REST_SOURCE),
    ),
    (
        "a load is lifted once",
        [BEGUN, boil(5), lifted(20)],
        ask_lift(21, seen=3),
        "was lifted out at 09:50:00",
        "choose the load that is in the canner",
        "how Stillroom",
    ),
    (
        "a load that is out does not boil again",
        [BEGUN, boil(5), lifted(20)],
        ask_boil(21, 3),
        "was lifted out at 09:50:00",
        "choose the load",
        "how Stillroom",
    ),
    (
        "a boil found lost after lifting",
        [BEGUN, boil(5), lifted(20)],
        ask_lost(21, 3),
        "was lifted out at 09:50:00",
        "within two hours they may be processed again, with new lids",
        "Nebraska",
    ),
    (
        "a computer whose clock was set back",
        [BEGUN, boil(5)],
        ask_lost(4, 2),
        "set back: it shows 09:34:00, and the last entry of the run is of 09:35:00",
        "set the clock right",
        "how Stillroom",
    ),
]


@pytest.mark.parametrize(
    ("happened", "asked", "reason", "instead", "source"),
    [case[1:] for case in REFUSED],
    ids=[case[0] for case in REFUSED],
)
def test_what_is_refused(
    happened: list[AnyEvent], asked: Command, reason: str, instead: str, source: str
):
    answer = decide(fold(happened), asked)
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead
    assert source in answer.source


BEANS = replace(
    TEN, method="dial-gauge", pressure_psi=12.0, rest_min=40, process_min=25
)


@pytest.mark.parametrize(
    ("happened", "asked", "reason", "instead", "source"),
    [
        ([], ask_lift(9), "was not started", "bring it to 12 psi", "01600949"),
        ([boil(5)], ask_boil(7, 2), "runs since", "if the pressure was lost", "memory"),
        ([boil(5), lost(8)], ask_lift(90), "its pressure was lost", "12 psi", "memory"),
        (
            [boil(5)],
            ask_lift(29),
            "has had 24 min 00 s of 25 min at 12 psi",
            "until 10:00:00, then fire off, lid shut",
            "a published table",
        ),
        (
            [boil(5)],
            ask_lift(36),
            "has rested 6 min 00 s of 40 min",
            "lid shut, let it cool by itself and never with water, and lift the jars "
            "at 10:40:00, if no pressure is left and the vent has been open for 10 min",
            "PNW 421",
        ),
    ],
)
def test_a_pressure_canner_has_rules_of_its_own(
    happened: list[AnyEvent], asked: Command, reason: str, instead: str, source: str
):
    begun = DayBegun(loads=(BEANS,), occurred_at=at(0))
    answer = decide(fold([begun, *happened]), asked)
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead
    assert source in answer.source
    assert "lid off" not in str(answer)
    assert "boil" not in str(answer)


def test_a_jar_is_not_broken_by_a_page_that_did_not_see_the_last_one_break():
    """Two hands tell of one jar: the second looks again before she counts one more."""
    broke = JarBroke(
        load="load 1", batch="plum jelly 1", crack="ring", occurred_at=at(6)
    )
    asked = BreakJar(load="load 1", batch="", crack="star", at=at(7), seen=2)
    answer = decide(fold([BEGUN, boil(5), broke]), asked)
    assert isinstance(answer, Refusal)
    assert "has changed since this screen was drawn" in answer.reason
    again = replace(asked, seen=3)
    assert decide(fold([BEGUN, boil(5), broke]), again) == (
        JarBroke(load="load 1", batch="plum jelly 1", crack="star", occurred_at=at(7)),
    )


def test_a_load_of_glass_alone_is_cleared_out_at_any_hour():
    """No process of it is cut short."""
    glass = [
        JarBroke(load="load 1", batch="plum jelly 1", crack="ring", occurred_at=at(6))
    ] * 8
    assert decide(fold([BEGUN, boil(5), *glass]), ask_lift(7)) == (lifted(7),)
    assert decide(fold([BEGUN, *glass]), ask_lift(7)) == (lifted(7),)
    assert isinstance(decide(fold([BEGUN, boil(5), *glass[1:]]), ask_lift(7)), Refusal)


def test_times_are_said_as_clocks_in_the_kitchen_show_them():
    """The ledger gives UTC back; who lifts jars at 9:50 must not read 16:50."""
    in_utc = FullBoilReached(load="load 1", occurred_at=at(5).astimezone(dt.UTC))
    answer = decide(fold([BEGUN, in_utc]), ask_lift(12))
    assert isinstance(answer, Refusal)
    assert "lift the jars at 09:50:00" in answer.instead


@pytest.mark.parametrize("late_ms", [1, 2000])
def test_two_hands_that_cross_are_both_right(late_ms: int):
    """Read a moment before the other's event, written after it: it happened then."""
    asked = MarkFullBoil(load="load 3", at=at(5) - dt.timedelta(milliseconds=late_ms))
    assert decide(fold([BEGUN, boil(5)]), asked) == (boil(5, "load 3"),)


def test_a_clock_set_back_by_more_than_crossing_hands_is_refused():
    asked = MarkFullBoil(load="load 3", at=at(5) - dt.timedelta(milliseconds=2001))
    assert isinstance(decide(fold([BEGUN, boil(5)]), asked), Refusal)


def late(command: Command) -> Command:
    """The same, after it waited on a phone that was cut off."""
    return replace(command, late=True)


@pytest.mark.parametrize(
    ("happened", "asked", "follows"),
    [
        (
            [boil(9)],
            ask_boil(5, 1, "load 3"),
            FullBoilReached(load="load 3", late=True, occurred_at=at(5)),
        ),
        (
            [boil(5), boil(9, "load 3")],
            ask_lost(7, 2),
            BoilLost(load="load 1", late=True, occurred_at=at(7)),
        ),
        (
            [boil(5), boil(25, "load 3")],
            ask_lift(20, seen=2),
            LoadLifted(load="load 1", late=True, occurred_at=at(20)),
        ),
        (
            [boil(5)],
            FinishStep(batch="plum jelly 1", step="fill", at=at(3)),
            StepDone(batch="plum jelly 1", step="fill", late=True, occurred_at=at(3)),
        ),
        (
            [boil(5)],
            BeginStep(batch="plum jelly 1", step="fill", at=at(3)),
            StepBegun(batch="plum jelly 1", step="fill", late=True, occurred_at=at(3)),
        ),
    ],
)
def test_what_comes_late_has_its_own_time_though_others_came_before_it(
    happened: list[AnyEvent], asked: Command, follows: AnyEvent
):
    state = fold([BEGUN, *happened])
    assert decide(state, late(asked)) == (follows,)
    assert fold([follows], state).last_at == state.last_at  # no later clock goes back


@pytest.mark.parametrize(
    ("happened", "asked", "reason", "instead"),
    [
        ([boil(5)], ask_boil(4, 1), "", ""),
        ([boil(5), lost(8)], ask_boil(4, 1), "has changed since", "day after"),
        (
            [boil(5), lifted(20)],
            ask_boil(12, 1, "load 2"),
            "until 09:50:00",
            "day after",
        ),
        ([boil(5), lifted(20)], ask_lost(12, 2), "out at 09:50:00", "two hours"),
        ([boil(5)], ask_lift(14, 59, seen=2), "has had 9 min 59 s", "until 09:45:00"),
        ([], ask_boil(-1, 1), "tapped at 09:29:00, and the day was begun", "board"),
    ],
)
def test_what_comes_late_is_held_against_all_that_is_known_now(
    happened: list[AnyEvent], asked: Command, reason: str, instead: str
):
    answer = decide(fold([BEGUN, *happened]), late(asked))
    if not reason:
        assert answer == ()  # somebody else's clock runs on
        return
    assert isinstance(answer, Refusal)
    assert reason in answer.reason
    assert instead in answer.instead


def test_a_load_says_that_something_of_it_came_late():
    events = [BEGUN, boil(5), replace(lost(6), late=True), boil(9), lifted(30)]
    runs = fold(events).loads
    assert [run.late for run in runs] == [True, False, False]


def test_the_rules_are_those_of_the_book():
    """Source and way of knowing, word for word as in the book's own table."""
    text = files("stillroom.book").joinpath("data/canner_rules.csv").read_text()
    book = {row["rule"]: row for row in csv.DictReader(text.splitlines())}
    for rule, source in (
        ("start-the-clock", AT_A_FULL_BOIL),
        ("boil-lost", BOIL_LOST),
        ("rest", REST_SOURCE),
        ("vent", VENT_STEAM),
        ("start-at-pressure", AT_PRESSURE),
        ("pressure-lost", PRESSURE_LOST),
        ("cool-by-itself", COOL_BY_ITSELF),
    ):
        assert book[rule]["source"] == source.text
        assert book[rule]["how_known"] == source.how_known
    assert f"for {VENT_MIN} min before closing it" in book["vent"]["text"]
    assert f"{REST_MIN} min of rest" in book["rest"]["text"]
