"""What if: changes on the day file, planned anywhere, beside the day as it is."""

import datetime as dt
import re
import tomllib
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from itertools import combinations
from multiprocessing import get_context

import pytest

from stillroom.planning.day import Lot, Want
from stillroom.planning.day_file.change_keys import in_words
from stillroom.planning.day_file.day_changes import changed_day_text, day_text_of
from stillroom.planning.day_file.day_values import TABLES_WITH_ROWS
from stillroom.planning.day_file.dayfile import demo_day_text, read_day, write_day
from stillroom.planning.judge.check import violations
from stillroom.planning.other_days.what_if import (
    AS_IT_IS,
    outcome,
    outcome_of,
    plan_changed,
    plans_at_hand,
    what_if,
)
from stillroom.planning.plan import plan_day
from stillroom.planning.timetable import NoneFound
from stillroom.planning.way_changes import Kind, starting_earlier
from stillroom.planning.ways.held_plan import (
    KnownPlan,
    as_far_as_it_holds,
    only,
    what_holds,
)
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Unreadable
from tests.kitchens import day, juice, person, stores
from tests.planning.small_days import butter, jelly
from tests.planning.small_days import day as small_day

DEMO = demo_day_text()


def changed(change):
    return read_day(changed_day_text(DEMO, change))


def test_a_key_of_a_person():
    tilda = next(
        p for p in changed("people.Tilda.goes=19:00").people if p.name == "Tilda"
    )
    assert tilda.goes == dt.time(19)


def test_the_rest_of_the_day_stays_as_it_was():
    same = read_day(changed_day_text(DEMO, "kitchen.counter=108"))
    assert same == read_day(DEMO)
    assert changed("kitchen.counter=120").kitchen.counter_places == 120


def test_a_row_like_another():
    kitchen = changed("kitchen.canners.second = like long canner").kitchen
    second = next(c for c in kitchen.canners if c.name == "second")
    first = next(c for c in kitchen.canners if c.name == "long canner")
    assert second.places == first.places
    assert len(kitchen.canners) == 3


def test_a_row_written_out_and_one_with_spaces_in_its_name():
    burners = changed(
        'kitchen.burners.camping stove={ power = "2 kW" }'
    ).kitchen.burners
    assert burners[-1].name == "camping stove"
    assert burners[-1].power_w == 2000.0
    pots = changed("kitchen.pots.enamel pot.volume=16 qt").kitchen.pots
    assert pots[-1].volume_m3 == pytest.approx(16 * 0.000946353, rel=1e-5)


def test_a_row_taken_out():
    assert "Pip" not in {p.name for p in changed("people.Pip=nothing").people}


def test_two_changes_in_one():
    both = changed("people.Pip=nothing; kitchen.counter=90")
    assert both.kitchen.counter_places == 90
    assert len(both.people) == 2


def test_a_want_by_its_product():
    want = read_day(DEMO).wants[0]
    found = changed(f"wants.{want.product}.jars=7")
    assert next(w for w in found.wants if w.product == want.product).jars == 7


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("", "is no change"),
        ("people.Tilda.goes", "is no change"),
        ("people=3", "names no row"),
        (
            "kitchen.canners.long canner.holds.half-pint=9",
            "names a part of holds: write it whole, kitchen.canners.long canner.holds="
            "{ half-pint = 9, pint = 9 }",
        ),
        (
            "people.Tilda.breaks.minutes=9",
            "write it whole, people.Tilda.breaks=VALUE",
        ),
        ("garden.rows=3", "is no place in a day file"),
        ("people.Otto=nothing", "there are Tilda"),
        ("people.Otto=like Nobody", "there are Tilda"),
        ("people.Otto=5", "gives no row"),
        ("people.Tilda=", "the word nothing to take it out"),
        ("people.Otto.goes=19:00", "comes"),
        (
            "people.Otto.goes=19:00",
            'no row of people is called "Otto"; there are Tilda, Corwin, Pip. A new '
            "one is written whole, or like one of them: people.Otto=like Tilda",
        ),
        ("people.Tilda.goes=noon", "noon"),
        ("people.Tilda.gose=19:00", "not known"),
        ("kitchen.counter=many", "many"),
        ('kitchen.canners.long canner.stands_on=["moon"]', "moon"),
        ("x" * 3000, "too many"),
        ("people.Tilda.breaks=" + "[" * 900, "Tilda"),
    ],
)
def test_what_cannot_be_changed_is_said(change, words):
    with pytest.raises(Unreadable, match=words):
        changed_day_text(DEMO, change)


def test_a_day_file_with_faults_says_its_own():
    with pytest.raises(Unreadable, match="people"):
        changed_day_text("[day]\nname = 'x'\n", "kitchen.counter=9")


def test_values_are_written_so_that_they_read_back():
    values = tomllib.loads(DEMO)
    assert tomllib.loads(day_text_of(values)) == values
    odd = {"a": {'q"\\ \u007f': 'tab\t, "quote", \\, é'}, "b": [1.5, True, [["x"]]]}
    assert tomllib.loads(day_text_of(odd)) == odd


@pytest.fixture(scope="module")
def small():
    return write_day(day(people=(person("Ada"), person("Ben"))))


def test_one_helper_less_is_never_sooner(small):
    as_it_is, alone = what_if(small, ["people.Ben=nothing"], seconds=3)
    assert (as_it_is.change, alone.change) == (AS_IT_IS, "people.Ben=nothing")
    assert as_it_is.why_not == alone.why_not == ""
    assert alone.finish_min >= as_it_is.finish_min
    assert as_it_is.jars == alone.jars


def test_a_day_that_fits_no_longer_says_why(small):
    short = "people.Ada.goes=09:00; people.Ben.goes=09:00"
    _, none = what_if(small, [short], seconds=2)
    assert none.finish_min is None
    assert none.why_not


def test_threads_and_processes_give_the_same_table(small):
    changes = ["people.Ben=nothing"]
    plain = what_if(small, changes, seconds=2)
    with ThreadPoolExecutor(max_workers=2) as pool:
        threads = what_if(small, changes, seconds=2, executor=pool)
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        apart = what_if(small, changes, seconds=2, executor=pool)
    finishes = [[o.finish_min for o in table] for table in (plain, threads, apart)]
    assert finishes[0] == finishes[1] == finishes[2]


def test_the_days_own_plan_is_where_the_others_begin(small, monkeypatch):
    own = plan_the_day(read_day(small), seconds=2, deterministic=True)
    begun = []

    def watched(day, **given):
        begun.append(given["begin_with"])
        return plan_the_day(day, **given)

    monkeypatch.setattr("stillroom.planning.other_days.what_if.plan_the_day", watched)
    roomier = "kitchen.counter=200"
    base, more = what_if(small, [roomier], seconds=0.3, as_it_is=own)
    assert [[k.plan for k in known] for known in begun] == [
        [own.answer.timetable]
    ]  # once: the day as it is has its plan
    assert base.finish_min == own.answer.finish_min
    assert more.finish_min <= base.finish_min


def test_a_plan_that_needs_no_change_is_told_from_one_that_does(small):
    """Room that nothing takes needs no change; a fire twice as strong does."""
    changes = [
        "kitchen.counter=200",
        "kitchen.burners.front left.power=7 kW",
        "day.starts=07:30; people.Ada.comes=07:30; people.Ben.comes=07:30",
        "wants.plum jelly.jars=8",
    ]
    base, roomier, hotter, sooner, fewer = what_if(small, changes, seconds=1)
    assert roomier.jars == hotter.jars == sooner.jars == base.jars > fewer.jars
    assert roomier.holds_as_it_is
    assert not hotter.holds_as_it_is
    assert not sooner.holds_as_it_is
    assert not fewer.holds_as_it_is
    assert not base.holds_as_it_is


def test_a_plan_is_held_as_far_as_another_day_allows():
    problem = small_day(jelly(), butter(), people=2)
    plan = plan_day(problem, seconds=3, deterministic=True).timetable
    assert as_far_as_it_holds(problem, plan) == plan
    fewer = replace(problem, batches=problem.batches[:1])
    held = as_far_as_it_holds(fewer, plan)
    assert {s.batch for s in held.steps} == {"jelly-1"}
    assert as_far_as_it_holds(fewer, held) == held
    assert as_far_as_it_holds(problem, held) is None  # butter is not in it
    short = replace(problem, horizon_min=plan.finish_min - 1)
    assert as_far_as_it_holds(short, plan) is None
    bare = replace(problem, canners=())
    assert as_far_as_it_holds(bare, plan) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("people.Pip.goes=noon", 'when Pip goes: "noon" is no clock time'),
        ("people.Pip.can=['fly']", "what Pip can do"),
        ("wants.plum jelly.jars=-3", "how many jars of plum jelly are wanted"),
        ("day.ends=25:00", "when the day ends"),
        ("kitchen.pots.enamel pot.volume=much", "how large the enamel pot is"),
    ],
)
def test_a_fault_is_said_as_the_keeper_calls_its_place(change, words):
    with pytest.raises(Unreadable) as fault:
        changed_day_text(DEMO, change)
    assert words in str(fault.value)
    assert "[" not in str(fault.value).removeprefix(f"with {change}: ")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (
            "day.ends=21:00; people.Tilda.goes=21:00; wants.pear butter=nothing",
            "the day ends at 21:00 and no pear butter is wanted",
        ),
        (
            "people.Tilda.goes=21:00; wants.pear butter.jars=4; day.starts=06:50",
            "Tilda goes at 21:00, 4 jars of pear butter are wanted and the day starts "
            "at 6:50",
        ),
        ("wants.pear butter.jars=1", "1 jar of pear butter is wanted"),
        (
            'kitchen.burners.one more burner={ power = "3 kW" }; kitchen.mills=2',
            "there is one more burner and the kitchen has 2 food mills",
        ),
        (
            "kitchen.canners.another=like long canner",
            "there is another canner like long canner",
        ),
        (
            "kitchen.canners.second=like long canner",
            "there is another canner like long canner, second",
        ),
        (
            "kitchen.canners.one more canner=like long canner; "
            'kitchen.canners.one more canner.stands_on=["fire 1"]',
            "there is one more canner like long canner",
        ),
        ("people.Pip=nothing", "Pip is not there"),
        ('day.without="plum jelly 4"', "plum jelly 4 is left out"),
        (
            'day.without="plum jelly 4; pear butter 2"; day.ends=21:00',
            "plum jelly 4 and pear butter 2 are left out and the day ends at 21:00",
        ),
        ("kitchen.counter=120", "the counter has room for 120 jars"),
        ("day.done_by=nothing", "no hour is named by which to be done"),
        ("day.done_by=12:00", "the day is to be done by 12:00"),
        ("kitchen.canners.long canner=nothing", "the long canner is not used"),
        (
            'kitchen.canners.long canner.stands_on=["front left"]',
            "the long canner stands on front left",
        ),
        ("kitchen.pots.enamel pot.volume=16 qt", "the enamel pot holds 16 qt"),
        ("kitchen.burners.left=nothing", "the left burner is not used"),
        ("kitchen.mills=1", "the kitchen has 1 food mill"),
        ("wants.pear butter.by=09:30", "pear butter is wanted by 9:30"),
        ('people.Pip.can=["cold", "knife"]', "what Pip can do is cold and knife"),
        ("people.Pip.breaks=[]", "Pip has no rest"),
        (
            'people.Pip.breaks=[{ minutes = 9, earliest = "9:30", latest = "12:00" }]',
            "the rests of Pip are otherwise",
        ),
        ("people.Corwin.away=[]", "Corwin is never away"),
        (
            'people.Corwin.away=[["09:30", "10:00"], ["14:00", "14:20"]]',
            "Corwin is away from 9:30 to 10:00 and from 14:00 to 14:20",
        ),
        (
            "kitchen.canners.long canner.holds={ half-pint = 7, quart = 1 }",
            "the long canner holds 7 half-pints and 1 quart",
        ),
        (
            "kitchen.canners.long canner.layers={ half-pint = 2, pint = 1 }",
            "the long canner takes 2 layers of half-pints and 1 layer of pints",
        ),
        (
            'kitchen.canners.long canner.holds={ half-pint = "many" }',
            "the long canner holds other jars",
        ),
        ("people.Corwin.away=[5]", "the hours at which Corwin is away are otherwise"),
        ("shelf.plum juice=nothing", "the shelf has no plum juice"),
        ("shelf.plum juice.frozen=false", "plum juice is not frozen"),
        ("day.first=nothing", "no goal is put first"),
        ("day.ends=nothing", "the day has no end of its own"),
        ('day.first=["done early"]', "what counts first is done early"),
        ('shelf.figs={ quantity = "2 lb" }', "the shelf has figs, too"),
        ("wants.fig jam=like plum jelly", "fig jam is wanted, too"),
    ],
)
def test_typed_changes_are_said_as_after_if(typed, words):
    assert in_words(read_day(DEMO), typed) == words


@pytest.mark.parametrize("value", ["nothing", "5", "true", "x"])
def test_no_place_of_the_file_is_said_as_it_is_written_there(value):
    today = read_day(DEMO)
    values = tomllib.loads(DEMO)
    places = [f"day.{key}" for key in values["day"]]
    places += [f"kitchen.{k}" for k, v in values["kitchen"].items() if type(v) is str]
    for table, key in TABLES_WITH_ROWS.items():
        rows = values
        for part in table.split("."):
            rows = rows[part]
        places += [f"{table}.{row[key]}" for row in rows]
        places += [f"{table}.{row[key]}.{field}" for row in rows for field in row]
    assert len(places) > 100
    for place in places:
        said = in_words(today, f"{place}={value}")
        assert place not in said
        assert not re.search(r"[a-z]_[a-z]|[\[{=]|there is no .*\.", said), said


def test_an_outcome_is_plain(small):
    import pickle

    found = outcome("x", small, 1.0, 1)
    assert pickle.loads(pickle.dumps(found)) == found


def test_an_outcome_says_what_is_left_out_and_how_many_jars() -> None:
    # eight batches of eight jars or seven do not fit an hour and a half of one person
    today = day(
        Want(product="plum jelly", jars=62, jar="half-pint"),
        shelf=(juice("plum juice", bags=8), *stores()),
        people=(person(goes=dt.time(10)),),
    )
    plan = plan_the_day(today, seconds=0.5, explain=False)
    found = outcome_of("x", today, plan)
    out = [name for left in plan.left_out for name in left.batches]
    assert [name for name, _ in found.left_out] == out
    assert found.left_out_jars == sum(left.jars for left in plan.left_out) > 0
    assert len(out) + found.batches == 8


# --- a day with one thing more never comes to less ---


@pytest.fixture(scope="module")
def overfull():
    """Four batches of one jelly and a butter of 164 min; one person has 190 min."""
    text = write_day(
        day(
            Want(product="plum jelly", jars=31, jar="half-pint"),
            Want(product="pear butter", jars=4, jar="pint"),
            shelf=(
                juice("plum juice", bags=4),
                Lot(name="pears", what="pears", mass_kg=9.0),
                *stores(),
            ),
            people=(person(goes=dt.time(11, 10)),),
            ends=dt.time(11, 10),
        )
    )
    return text, plan_the_day(read_day(text), seconds=2.0, workers=1)


MORE = [
    'people.Otto={ comes = "08:00", goes = "11:10", can = ["cold", "knife"] }',
    "people.Otto=like Ada",
    'kitchen.burners.camping stove={ power = "2 kW" }',
    "kitchen.counter=300",
    "day.starts=07:30; people.Ada.comes=07:30",
    "day.ends=11:40; people.Ada.goes=11:40",
    "kitchen.mills=2",
]


@pytest.mark.parametrize("more", MORE)
def test_a_day_with_one_thing_more_has_never_fewer_jars_nor_a_worse_set(overfull, more):
    # half a second finds less by itself than two seconds did for the day as it is
    text, plan = overfull
    assert plan.left_out
    base, other = what_if(text, [more], seconds=0.5, workers=1, as_it_is=plan)
    assert other.jars >= base.jars
    assert other.finish_min is not None
    missed = [name for name, _ in base.left_out]
    left = {name for name, _ in other.left_out}
    # the first in which the two differ is one that it has more
    assert [n in left for n in missed] <= [True] * len(missed)
    assert left <= set(missed) or other.jars > base.jars


def test_a_way_out_keeps_what_it_promised(overfull):
    text, plan = overfull
    ways = [way for way in plan.too_much.ways_out if way.typed]
    assert len(ways) >= 3
    found = what_if(
        text, [way.typed for way in ways], seconds=0.5, workers=1, as_it_is=plan
    )
    whole = found[0].jars + found[0].left_out_jars
    for way, other in zip(ways, found[1:], strict=True):
        gone = sum(c.amount for c in way.changes if c.kind is Kind.LEAVE_OUT)
        assert other.jars == whole - gone
        assert other.left_out == ()
        assert other.finish_min <= way.finish_min


def test_without_a_plan_at_hand_a_day_is_planned_as_before(overfull):
    text, _ = overfull
    base, same = what_if(text, ["kitchen.counter=300"], seconds=0.5, workers=1)
    assert same.jars >= base.jars


def test_a_plan_is_held_by_its_clock_where_the_day_starts_at_another_hour():
    problem = small_day(jelly(), butter(), people=2)
    plan = plan_day(problem, seconds=3, deterministic=True).timetable
    order = ["jelly-1", "butter-1"]
    known = KnownPlan(starts_at="08:00", plan=plan)
    sooner = starting_earlier(problem, 30)
    held = what_holds(sooner, [known], order)
    assert held.kept == tuple(order)
    assert held.plan == plan.moved(30)  # 08:00 is minute 30 of a day from 07:30


def test_of_a_plan_that_ends_too_late_the_batches_that_end_in_time_hold():
    problem = small_day(jelly(), butter(), people=2)
    plan = plan_day(problem, seconds=3, deterministic=True).timetable
    ends = {
        name: max(
            [s.end_min for s in plan.steps if s.batch == name]
            + [load.out_min for load in plan.loads if name in dict(load.jars)]
        )
        for name in ("jelly-1", "butter-1")
    }
    first, last = sorted(ends, key=lambda name: ends[name])
    assert ends[first] < ends[last]
    people = tuple(replace(p, leaves_min=ends[first]) for p in problem.people)
    short = replace(problem, horizon_min=ends[first], people=people)
    known = KnownPlan(starts_at="08:00", plan=plan)
    assert what_holds(short, [known], [last, first]).kept == (first,)


def test_work_that_two_may_share_is_held_as_one_did_it():
    """Cutting pears becomes two halves where somebody else can cut as well."""
    pears = (Lot(name="pears", what="pears", mass_kg=9.0), *stores())
    butter = Want(product="pear butter", jars=4, jar="pint")
    alone = write_day(day(butter, shelf=pears, people=(person("Ada"),)))
    plan = plan_the_day(read_day(alone), seconds=1, deterministic=True)
    helped = changed_day_text(alone, "people.Ben=like Ada")
    begun = []

    def watched(problem):
        begun.append(what_holds(problem, plans_at_hand(plan), _ids(problem)))
        return NoneFound(impossible=False, bound_min=0, bound_why="", reached=None)

    plan_the_day(read_day(helped), seconds=0.3, answer_of=watched, explain=False)
    (held,) = begun
    halves = [s for s in held.plan.steps if s.step.endswith("other_half")]
    assert halves
    assert len(held.kept) == len(plan.batches)
    assert held.plan.finish_min == plan.answer.finish_min


def _ids(problem):
    return [b.id for b in problem.batches]


def test_a_changed_day_planned_by_itself_keeps_what_its_way_promised(overfull):
    # as after `plan DAY --with`: another command, that has only the file and the change
    text, _ = overfull
    given = {"seconds": 1.0, "workers": 1, "deterministic": True}
    plan = plan_the_day(read_day(text), **given)
    way = next(way for way in plan.too_much.ways_out if way.typed)
    again = plan_changed(text, way.typed, **given)
    gone = sum(c.amount for c in way.changes if c.kind is Kind.LEAVE_OUT)
    whole = sum(b.jars for b in plan.batches) + sum(o.jars for o in plan.left_out)
    assert sum(b.jars for b in again.batches) == whole - gone
    assert again.answer.finish_min <= way.finish_min


def test_of_plans_at_hand_one_that_is_missed_more_but_has_fewer_jars_waits():
    # the butter of 7 jars is missed most, two jellies are 16 jars; the day as it is has
    # the jellies, and a plan with the butter alone does not take their place
    problem = small_day(jelly(), jelly("jelly-2"), butter(), people=2)
    order = ["butter-1", "jelly-1", "jelly-2"]

    def known(*names):
        few = only(problem, names)
        plan = plan_day(few, seconds=1, deterministic=True).timetable
        return KnownPlan(starts_at="08:00", plan=plan)

    jellies, alone = known("jelly-1", "jelly-2"), known("butter-1")
    assert set(what_holds(problem, [alone], order).kept) == {"butter-1"}
    both = what_holds(problem, [jellies, alone], order)
    assert set(both.kept) == {"jelly-1", "jelly-2"}
    whole = known(*order)
    assert set(what_holds(problem, [jellies, whole], order).kept) == set(order)


def test_any_batches_of_a_plan_hold_without_the_others():
    # four loads follow one another in hot water; where one is not run, the next is
    # heated anew: 20 min before it is lowered, or 30 where it is now the first
    batches = [jelly(), jelly("jelly-2"), jelly("jelly-3"), butter()]
    problem = small_day(*batches, people=2)
    plan = plan_day(problem, seconds=3, deterministic=True).timetable
    assert sum(load.hot for load in plan.loads) == 3
    names = [b.id for b in batches]
    for number in (1, 2, 3):
        for kept in combinations(names, number):
            held = as_far_as_it_holds(only(problem, kept), plan)
            assert held is not None, kept
            assert violations(only(problem, kept), held) == ()
            (first, *_) = held.loads
            assert first.lower_min - first.heat_min == 30
            assert not first.hot


def test_a_changed_day_says_why_it_does_not_fit_as_the_plan_does() -> None:
    text = write_day(day(Want(product="plum jelly", jars=8, jar="half-pint")))
    _, none = what_if(text, ["kitchen.counter=0"], seconds=0.5)
    assert none.why_not.endswith("; the counter has room for none")
