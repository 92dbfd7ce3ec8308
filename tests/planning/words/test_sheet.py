"""The day sheet: what is drawn and what is listed are the same day."""

from dataclasses import replace

import pytest

from stillroom.planning.dayplan import DayPlan
from stillroom.planning.daytime import clock_time
from stillroom.planning.timetable import Answer, PlacedBreak
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.entries import Ink
from stillroom.planning.words.lanes import LaneKind
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import granted
from tests.kitchens import day


@pytest.fixture(scope="module")
def plan() -> DayPlan:
    return granted(plan_the_day(day(), seconds=2.0))


@pytest.fixture(scope="module")
def sheet(plan):
    assert isinstance(plan.answer, Answer)
    assert plan.problem is not None
    return day_sheet(plan.problem, plan.answer.timetable)


def test_every_entry_of_a_person_is_a_block_in_their_lane(sheet):
    lane = next(lane for lane in sheet.lanes if lane.kind is LaneKind.PERSON)
    listed = [(e.start_min, e.end_min, e.what) for e in sheet.entries if e.who == "Ada"]
    assert sorted((b.start_min, b.end_min, b.title) for b in lane.blocks) == sorted(
        listed
    )


def test_the_card_of_jars_that_are_filled_has_the_headspace_of_the_list(sheet):
    listed = {e.end_sign for e in sheet.entries if "headspace" in e.end_sign}
    people = [lane for lane in sheet.lanes if lane.kind is LaneKind.PERSON]
    cards = {b.room for lane in people for b in lane.blocks if b.room}
    assert cards == listed
    assert listed


def test_the_list_is_in_order_of_the_clock(sheet):
    starts = [e.start_min for e in sheet.entries]
    assert starts == sorted(starts)


def test_each_load_has_its_clock_in_words(sheet, plan):
    clocks = [e for e in sheet.entries if e.ink is Ink.PROCESS]
    assert len(clocks) == len(plan.answer.timetable.loads)
    for entry in clocks:
        assert entry.end_min - entry.start_min == 10
        assert "full boil" in entry.end_sign


def test_a_load_in_boiling_water_has_no_line_for_venting(sheet, plan):
    for load in plan.answer.timetable.loads:
        mine = [e.start_min for e in sheet.entries if e.load == load.id]
        lit = [load.heat_min] if load.heat_min < load.lower_min else []
        assert mine == [
            *lit,
            load.lower_min,
            load.boil_min,
            load.done_min,
            load.lift_min,
        ]


def test_the_fire_of_a_load_goes_off_at_a_minute_of_its_own(sheet, plan):
    """It stood under the lifting alone, five minutes too late to be read."""
    for load in plan.answer.timetable.loads:
        (off,) = [
            e
            for e in sheet.entries
            if e.load == load.id and e.start_min == load.done_min
        ]
        assert off.what == "Fire off, lid off: jars stay in, 5 min at least"
        assert (off.end_min, off.whose) == (load.lift_min, "whoever is near")


def test_jars_rest_five_minutes_also_where_a_plan_lifts_them_later(plan):
    """Its slot of 14 min was printed as what the jars need."""
    load = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    late = replace(load, lift_min=load.done_min + 14, out_min=load.done_min + 18)
    one = replace(plan.answer.timetable, loads=(late,), steps=())
    said = {e.what: e for e in day_sheet(plan.problem, one).entries}
    off = said["Fire off, lid off: jars stay in, 5 min at least"]
    assert (off.start_min, off.end_min) == (load.done_min, late.lift_min)


def test_what_cannot_be_left_is_inked_so(sheet):
    held = {e.what for e in sheet.entries if e.ink is Ink.HELD}
    assert any("Sugar in" in what for what in held)
    assert not any("Wash" in what for what in held)


def test_the_canner_is_lit_before_it_is_loaded(sheet, plan):
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    lit = [e for e in sheet.entries if e.what.startswith("Light the canner")]
    assert lit[0].end_min == first.lower_min
    assert lit[0].end_min - lit[0].start_min > 10


def test_the_fire_under_a_pot_is_one_block_while_it_stays(sheet):
    fires = [lane for lane in sheet.lanes if lane.kind is LaneKind.FIRE]
    for lane in fires:
        for one, other in zip(lane.blocks, lane.blocks[1:], strict=False):
            assert one.end_min <= other.start_min


def test_clock_runs_past_midnight():
    assert clock_time("23:50", 20) == "0:10 (next day)"


@pytest.mark.parametrize(("begins", "shown"), [(-10, True), (0, False), (30, False)])
def test_a_break_that_begins_when_all_work_is_over_is_left_off(plan, begins, shown):
    """It was left off in the terminal, and stood on the page and on paper."""
    table = plan.answer.timetable
    rest = PlacedBreak(
        person="Ada",
        start_min=table.finish_min + begins,
        end_min=table.finish_min + begins + 20,
    )
    made = day_sheet(plan.problem, replace(table, breaks=(rest,)))
    assert any(e.ink is Ink.REST for e in made.entries) == shown
    mine = next(lane for lane in made.lanes if lane.kind is LaneKind.PERSON)
    assert any(block.ink is Ink.REST for block in mine.blocks) == shown


def test_a_load_under_pressure_says_its_gauge_and_its_venting(sheet, plan):
    """Minutes without their pressure are half a process."""
    problem = replace(
        plan.problem,
        processes=tuple(replace(p, pressure_psi=11.0) for p in plan.problem.processes),
    )
    pressed = day_sheet(problem, plan.answer.timetable)
    assert not any("psi" in e.what or "Vent" in e.what for e in sheet.entries)
    for load in plan.answer.timetable.loads:
        said = {e.what: e for e in pressed.entries if e.load == load.id}
        assert said["Process 10 min at 11 psi"].start_min == load.boil_min
        assert said["Process 10 min at 11 psi"].whose == "whoever is near"
        # a day of boiling water leaves too little for both: one line, none shortened
        together = said.get("Vent 10 min, then up to 11 psi")
        if together is not None:
            assert load.boil_min - load.lowered_min < 15
            assert together.whose == "whoever is near"
        lit = said.get("Light the canner, warm the water")
        assert lit is None or lit.detail == "2 to 3 inches (5 to 8 cm) of hot water"


def under_pressure(plan, **minutes):
    """One load with the minutes of a pressure canner, and its lines by their words."""
    problem = replace(
        plan.problem,
        processes=tuple(replace(p, pressure_psi=11.0) for p in plan.problem.processes),
    )
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    load = replace(
        first,
        **{
            "boil_min": first.lowered_min + 26,
            "done_min": first.lowered_min + 36,
            "lift_min": first.lowered_min + 76,
            "out_min": first.lowered_min + 79,
            "fire_free_min": first.lowered_min + 36,
            **minutes,
        },
    )
    alone = replace(plan.answer.timetable, loads=(load,), steps=())
    return load, day_sheet(problem, alone)


def test_under_pressure_each_thing_has_a_minute_and_somebody_near(plan):
    load, sheet = under_pressure(plan)
    since = load.lowered_min
    lines = [
        (e.start_min - since, e.end_min - since, e.what, e.whose)
        for e in sheet.entries
        if e.start_min >= since and not e.who
    ]
    near = "whoever is near"
    assert lines == [
        (0, 11, "Heat, vent open", near),
        (11, 21, "Vent: 10 min of steady steam", near),
        (21, 26, "Close the vent; at 11 psi the clock starts", near),
        (26, 36, "Process 10 min at 11 psi", near),
        (36, 66, "Fire off: do not touch, 30 min", near),
        (66, 76, "No pressure left: open the vent, wait 10 min", near),
    ]
    inks = {e.what: e.ink for e in sheet.entries}
    assert inks["Vent: 10 min of steady steam"] is Ink.NEAR
    assert inks["Fire off: do not touch, 30 min"] is Ink.STANDS
    (canner,) = [lane for lane in sheet.lanes if lane.kind is LaneKind.CANNER]
    card = next(b for b in canner.blocks if b.title == "Warm the water")
    lit = next(e for e in sheet.entries if e.what.startswith("Light the canner"))
    assert card.detail == lit.detail == "2 to 3 inches (5 to 8 cm) of hot water"


def test_every_load_under_pressure_has_its_water_looked_at_first(plan):
    """A load boils water away: the second went in over what was left."""
    first, _ = under_pressure(plan)
    later = {
        name: getattr(first, name) + first.out_min - first.lower_min
        for name in (
            *("lower_min", "lowered_min", "boil_min", "done_min"),
            *("lift_min", "out_min", "fire_free_min"),
        )
    }
    second = replace(first, id="canner/9", heat_min=later["lower_min"], **later)
    problem = replace(
        plan.problem,
        processes=tuple(replace(p, pressure_psi=11.0) for p in plan.problem.processes),
    )
    two = replace(plan.answer.timetable, loads=(first, second), steps=())
    lowered = [
        e.detail.split(" · ")[0]
        for e in day_sheet(problem, two).entries
        if e.what.startswith("Lower ")
    ]
    water = "first 2 to 3 inches (5 to 8 cm) of hot water in it"
    assert lowered == [water, f"{water} again"]
    relit = replace(two, loads=(first, replace(second, heat_min=first.out_min)))
    relit = replace(relit, loads=(first, replace(relit.loads[1], lower_min=400)))
    lit = [
        e.detail
        for e in day_sheet(problem, relit).entries
        if e.what.startswith("Light the canner")
    ]
    assert set(lit) == {"2 to 3 inches (5 to 8 cm) of hot water"}


def test_raw_packs_are_lowered_into_water_of_their_own_warmth(plan):
    """They went straight into the water that the load before had boiled in."""
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    later = {
        name: getattr(first, name) + first.out_min - first.lower_min
        for name in (
            *("lower_min", "lowered_min", "boil_min", "done_min"),
            *("lift_min", "out_min", "fire_free_min"),
        )
    }
    second = replace(first, id="canner/9", heat_min=later["lower_min"], **later)
    two = replace(plan.answer.timetable, loads=(first, second), steps=())

    def told(*, raw: bool) -> list[str]:
        processes = tuple(replace(p, raw=raw) for p in plan.problem.processes)
        entries = day_sheet(replace(plan.problem, processes=processes), two).entries
        return [e.detail for e in entries if e.what.startswith("Lower ")]

    water = "raw packs: water at 140 °F (60 °C)"
    once, again = told(raw=True)
    assert once.startswith(f"{water}, not hotter, or glass cracks · ")
    assert again.startswith(f"{water} (hot water out, cold in), not hotter, ")
    assert all("140" not in detail for detail in told(raw=False))


@pytest.mark.parametrize(("up", "one_line"), [(14, True), (15, False)])
def test_no_vent_is_made_shorter_by_a_day_that_leaves_too_little(plan, up, one_line):
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    _, sheet = under_pressure(plan, boil_min=first.lowered_min + up)
    said = {e.what: e.end_min - e.start_min for e in sheet.entries}
    assert ("Vent 10 min, then up to 11 psi" in said) is one_line
    assert said.get("Vent: 10 min of steady steam", 10) == 10


def test_a_canner_that_has_stood_for_hours_is_not_called_warm(sheet, plan):
    """Its jars had the counter all day: the next load is lit in the evening."""
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    for later_min, said in ((60, "warm still"), (570, "has stood 9 h 3")):
        heat = first.out_min + later_min
        second = replace(
            first,
            id="canner/9",
            hot=False,
            heat_min=heat,
            lower_min=heat + 20,
            lowered_min=heat + 23,
            boil_min=heat + 40,
            done_min=heat + 50,
            fire_free_min=heat + 50,
            lift_min=heat + 55,
            out_min=heat + 58,
        )
        two = replace(plan.answer.timetable, loads=(first, second), steps=())
        drawn = day_sheet(plan.problem, two)
        (again,) = [e for e in drawn.entries if e.what == "Light the canner again"]
        assert said in again.detail


def test_of_a_load_without_its_process_no_process_is_told(sheet, plan):
    """Its jars broke: its minutes stood there as if it had had them."""
    first = min(plan.answer.timetable.loads, key=lambda load: load.lower_min)
    out = first.boil_min + 2
    broke = replace(first, done_min=out, lift_min=out, out_min=out, fire_free_min=out)
    alone = replace(plan.answer.timetable, loads=(first,), steps=())
    (after,) = alone.moved(out + 30 - first.heat_min).loads
    after = replace(after, id="canner/9")
    two = replace(plan.answer.timetable, loads=(broke, after), steps=())
    drawn = day_sheet(plan.problem, two)
    (told,) = [e for e in drawn.entries if e.load == first.id]
    assert told.what == "No whole process"
    assert (told.start_min, told.end_min) == (first.lower_min, out)
    # the glass was cleared out of cold water
    (lit,) = [e for e in drawn.entries if e.what == "Light the canner again"]
    assert "fill it hot from the tap" in lit.detail
    lane = next(lane for lane in drawn.lanes if lane.name == first.canner)
    titles = [b.title for b in lane.blocks if b.load == first.id]
    assert "No whole process" in titles
    assert not [title for title in titles if "min process" in title]
