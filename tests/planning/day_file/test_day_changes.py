"""A day file changed at one place: what it comes to, and how it is said."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace

import pytest

from stillroom.planning.day import Lot
from stillroom.planning.day_file.change_keys import change_keys, in_words
from stillroom.planning.day_file.day_changes import changed_day_text, place_in_words
from stillroom.planning.day_file.day_differs import differences
from stillroom.planning.day_file.day_text_kept import text_with
from stillroom.planning.day_file.dayfile import demo_day_text, read_day
from stillroom.planning.day_file.dayfile_write import write_day
from stillroom.refusal import Unreadable
from tests.kitchens import CUP, day

DEMO = demo_day_text()


def demo(*changes: tuple[str, str]) -> str:
    text = DEMO
    for old, new in changes:
        assert text.count(old) >= 1
        text = text.replace(old, new, 1)
    return text


# --- what it comes to -----------------------------------------------------------


OUT = ("invented = true", 'invented = true\nwithout = "plum jelly 2; pear butter 1"')


def test_who_wants_no_more_of_it_leaves_none_of_it_out_by_name():
    """Else the changed day names a batch that is none of it, and is refused."""
    changed = read_day(changed_day_text(demo(OUT), "wants.plum jelly=nothing"))
    assert changed.without == ("pear butter 1",)
    both = "wants.plum jelly=nothing; wants.pear butter=nothing"
    assert read_day(changed_day_text(demo(OUT), both)).without == ()


def test_what_somebody_else_wants_still_stays_left_out_by_name():
    again = '\n[[wants]]\nproduct = "plum jelly"\njars = 2\njar = "pint"\n'
    text = demo(OUT) + again
    changed = read_day(changed_day_text(text, "wants.plum jelly=nothing"))
    assert [want.jar for want in changed.wants if want.product == "plum jelly"]
    assert changed.without == ("plum jelly 2", "pear butter 1")


def test_a_burner_is_taken_by_a_change_on_one_line():
    change = 'burners.front left.taken=[["17:30", "18:15"]]'
    changed = changed_day_text(DEMO, change)
    burner = read_day(changed).kitchen.burners[0]
    assert burner.taken == ((dt.time(17, 30), dt.time(18, 15)),)
    again = read_day(changed_day_text(changed, "burners.front left.taken=nothing"))
    assert again == read_day(DEMO)
    said = in_words(read_day(DEMO), change)
    assert said == "the front left burner is taken from 17:30 to 18:15"
    (differs,) = differences(DEMO, changed)
    assert differs.place == "when the burner front left is taken"


def test_a_row_made_like_another_keeps_the_name_that_it_has():
    changed = read_day(changed_day_text(DEMO, "people.pip=like Corwin"))
    assert [person.name for person in changed.people] == ["Tilda", "Corwin", "Pip"]
    assert changed.people[2].goes == dt.time(19)


def unnamed() -> str:
    """A day of which no lot has a name of its own."""
    lots = re.sub(r'(?m)^name = "[^"]*"\n', "", DEMO[DEMO.index("[[shelf]]") :])
    text = DEMO[: DEMO.index("[[shelf]]")] + lots
    assert all(lot.name == lot.what for lot in read_day(text).shelf)
    return text


def test_a_lot_without_a_name_of_its_own_is_changed_by_what_it_is():
    text = unnamed()
    first = read_day(text).shelf[0].what
    changed = read_day(changed_day_text(text, f"shelf.{first.title()}.frozen=true"))
    assert changed.shelf[0].frozen
    assert len(changed.shelf) == len(read_day(text).shelf)
    gone = read_day(changed_day_text(text, f"shelf.{first}=nothing"))
    assert first not in [lot.what for lot in gone.shelf]


def test_a_lot_that_is_not_there_is_told_which_there_are_by_what_they_are():
    text = unnamed()
    with pytest.raises(Unreadable) as fault:
        changed_day_text(text, "shelf.moon rock=nothing")
    names = ", ".join(lot.what for lot in read_day(text).shelf)
    assert str(fault.value).endswith(f"; there are {names}")


def test_one_that_there_is_is_said_of_as_one():
    alone = write_day(day())
    (name,) = (person.name for person in read_day(alone).people)
    with pytest.raises(Unreadable, match=f"; there is {name}$"):
        changed_day_text(alone, "people.Otto=nothing")


def test_what_is_written_above_the_next_thing_stays_when_one_is_taken_out():
    text = '[[people]]\nname = "Ann"\n\n[[people]]\nname = "Bo"\n\n# the shelf\n'
    left = text_with(text, {"people": [{"name": "Ann"}]})
    assert left.endswith('name = "Ann"\n\n# the shelf\n')


def test_bags_are_written_though_the_words_name_only_their_sum():
    lot = Lot(
        name="juice",
        what="plum juice",
        volume_m3=10 * CUP,
        bags=2,
        bag_m3=5 * CUP,
        frozen=True,
        typed="10 cups",
    )
    (read,) = read_day(write_day(day(shelf=(lot,)))).shelf
    assert (read.bags, read.bag_m3) == (2, pytest.approx(5 * CUP))
    kept = replace(lot, typed="2 bags of 5 cups")
    assert 'quantity = "2 bags of 5 cups"' in write_day(day(shelf=(kept,)))


def test_of_two_wants_for_one_product_each_is_held_against_its_own():
    def text(first: int, second: int) -> str:
        wants = (
            f'[[wants]]\nproduct = "plum jelly"\njars = {n}\njar = "pint"\n'
            for n in (first, second)
        )
        return "".join(wants)

    found = differences(text(4, 8), text(5, 8))
    assert found is not None
    assert [(one.then, one.now) for one in found] == [("4", "5")]


# --- how it is said -------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ("day.starts=06:30; people.Tilda.comes=06:30", "the day starts at 6:30"),
        ("day.ends=21:00; people.Tilda.goes=21:00", "the day ends at 21:00"),
        (
            "day.ends=21:00; people.Tilda.goes=20:30",
            "the day ends at 21:00 and Tilda goes at 20:30",
        ),
        (
            "day.starts=06:30; people.Tilda.goes=06:30",
            "the day starts at 6:30 and Tilda goes at 6:30",
        ),
        ("shelf.blackberry juice=nothing", "the shelf has no blackberry juice"),
        (
            "shelf.blackberry juice.use_by=nothing",
            "blackberry juice has no day to be used by",
        ),
        ("shelf.blackberry juice.frozen=false", "blackberry juice is not frozen"),
        ("shelf.blackberry juice.frozen=true", "blackberry juice is frozen"),
        ("day.as_published=true", "the book's figures alone count"),
        ("day.as_published=false", "past days count, too"),
        ("people.Nobody.goes=18:00", "Nobody goes at 18:00"),
    ],
)
def test_a_change_is_said_as_a_keeper_says_it(changes, said):
    assert in_words(read_day(DEMO), changes) == said


def test_a_late_minutes_weight_is_not_how_much_a_want_matters():
    values = {"wants": [{"product": "plum jelly"}]}
    said = {
        key: place_in_words(f"wants[1].{key}", values) for key in ("weight", "matters")
    }
    assert said == {
        "weight": "how much a late minute of plum jelly counts",
        "matters": "how much plum jelly matters",
    }


def test_one_more_is_never_called_as_something_that_is_there():
    """Else the change would replace that one, and add nothing."""
    today = read_day(demo(('name = "long canner"', 'name = "another"')))
    paths = [key.path for key in change_keys(today) if "another canner" in key.says]
    assert paths == ["kitchen.canners.another 2"]


@pytest.mark.parametrize(
    ("change", "instead"),
    [
        ("people.Tilda.name=nothing", "another name, or take it out: people.Tilda"),
        ("people.nobody.name=nothing", "take it out: people.nobody=nothing"),
        ("wants.pear butter.product=nothing", "another product, or take it out:"),
        ("kitchen.pots.enamel pot.name=nothing", "take it out: kitchen.pots.enamel"),
    ],
)
def test_what_is_called_by_its_name_keeps_one(change, instead):
    with pytest.raises(Unreadable, match=re.escape(instead)):
        changed_day_text(demo_day_text(), change)


def test_a_lot_without_its_name_is_called_by_what_it_is():
    change = "shelf.pears from the lane.name=nothing"
    day = read_day(changed_day_text(demo_day_text(), change))
    assert [lot.name for lot in day.shelf if lot.what == "pears"] == ["pears"]
    kept = read_day(demo_day_text())
    assert len(day.shelf) == len(kept.shelf)
