"""What is changed and where, as the keeper says it: a sentence for each place."""

from __future__ import annotations

import pytest

from stillroom.planning.day_file.change_keys import change_keys
from stillroom.planning.day_file.change_words import said_plainly
from stillroom.planning.day_file.day_changes import place_in_words
from stillroom.planning.day_file.dayfile import demo_day_text, read_day

CHANGES = [
    # of the day and the kitchen
    ("day.starts", "07:05", "the day starts at 7:05"),
    ("day.ends", "18:00", "the day ends at 18:00"),
    ("day.ends", "nothing", "the day has no end of its own"),
    ("day.done_by", "nothing", "no hour is named by which to be done"),
    ("day.first", '"calm"', "what counts first is calm"),
    ("day.first", "nothing", "no goal is put first"),
    ("day.without", "nothing", "no batch is left out by its name"),
    ("day.invented", "true", "the day is made up"),
    ("day.invented", "false", "the day is a true one"),
    ("day.date", "2026-09-01", "the date of the day is 1 September 2026"),
    ("day.name", "nothing", "nothing is said of the name of the day"),
    ("kitchen.counter", "90", "the counter has room for 90 jars"),
    ("kitchen.counter", "1", "the counter has room for 1 jar"),
    ("kitchen.elevation", '"2,150 ft"', "the kitchen is at 2,150 ft"),
    ("kitchen.barometer", '"27.6 inHg"', "the barometer shows 27.6 inHg"),
    ("kitchen.barometer", "nothing", "no barometer is read"),
    ("kitchen.stove", '"gas"', "the stove is gas"),
    (
        "kitchen.thermometer_boils",
        '"210 F"',
        "the thermometer shows 210 F at a full boil",
    ),
    ("kitchen.thermometer_ice", '"33 F"', "the thermometer shows 33 F in ice"),
    ("kitchen.cooling", '"12 h"', "jars cool for 12 h"),
    ("kitchen.mills", "2", "the kitchen has 2 food mills"),
    ("kitchen.mills", "1", "the kitchen has 1 food mill"),
    ("kitchen.sieves", "1", "the kitchen has 1 sieve"),
    ("kitchen.sieves", "nothing", "the kitchen has no sieve"),
    ("kitchen.mills", "nothing", "the kitchen has no food mill"),
    # of people
    ("people.Ada", "nothing", "Ada is not there"),
    ("people.Bo", "like Ada", "Bo is like Ada"),
    ("people.Ada.comes", '"09:30"', "Ada comes at 9:30"),
    ("people.Ada.goes", "18:00", "Ada goes at 18:00"),
    ("people.Ada.can", '["cold"]', "what Ada can do is cold"),
    ("people.Ada.quarters", "3", "Ada has 3 of 4 quarters of attention"),
    ("people.Ada.breaks", "[]", "Ada has no rest"),
    ("people.Ada.breaks", "[{minutes = 30}]", "the rests of Ada are otherwise"),
    ("people.Ada.away", "[]", "Ada is never away"),
    (
        "people.Ada.away",
        '[["09:30", "10:00"], ["14:00", "14:20"]]',
        "Ada is away from 9:30 to 10:00 and from 14:00 to 14:20",
    ),
    (
        "people.Ada.away",
        '[["10:00"]]',
        "the hours at which Ada is away are otherwise",
    ),
    (
        "people.Ada.away",
        '[["09:30", "10:00"], ["10:00", 5]]',
        "the hours at which Ada is away are otherwise",
    ),
    (
        "people.Ada.away",
        '[["09:30", ""]]',
        "the hours at which Ada is away are otherwise",
    ),
    ("kitchen.burners.left.taken", "[]", "the left burner is ours all day"),
    ("kitchen.burners.left.taken", "nothing", "the left burner is ours all day"),
    (
        "burners.left.taken",
        '[["17:30", "18:15"]]',
        "the left burner is taken from 17:30 to 18:15",
    ),
    (
        "burners.left.taken",
        '[["17:30"]]',
        "the hours at which the left burner is taken are otherwise",
    ),
    ("people.Ada", "{ comes = 9 }", "what is said of Ada is otherwise"),
    ("people.Ada.left_hand", "true", "the left hand of Ada is yes"),
    ("people.Ada.left_hand", "nothing", "nothing is said of the left hand of Ada"),
    ("people.Ada.left_hand", "[]", "the left hand of Ada is otherwise"),
    # of what is wanted and what there is
    ("wants.plum jelly", "nothing", "no plum jelly is wanted"),
    ("wants.plum jelly.jars", "12", "12 jars of plum jelly are wanted"),
    ("wants.plum jelly.jars", "1", "1 jar of plum jelly is wanted"),
    ("wants.plum jelly.by", "11:00", "plum jelly is wanted by 11:00"),
    ("wants.plum jelly.by", "nothing", "plum jelly is wanted by no hour"),
    ("wants.plum jelly.matters", "5", "plum jelly matters 5 of 5"),
    ("shelf.sugar", "nothing", "the shelf has no sugar"),
    ("shelf.lids.quantity", '"3"', "the shelf has 3 lids"),
    ("shelf.sugar.quantity", '"22 lb"', "the shelf has 22 lb of sugar"),
    (
        "shelf.juice.use_by",
        "2026-09-01",
        "juice is to be used by 1 September 2026",
    ),
    ("shelf.juice.use_by", "nothing", "juice has no day to be used by"),
    ("shelf.juice.frozen", "true", "juice is frozen"),
    ("shelf.juice.frozen", "false", "juice is not frozen"),
    # of things
    ("kitchen.pots.enamel pot", "nothing", "the enamel pot is not used"),
    ("kitchen.pots.enamel pot.name", '"big"', "the enamel pot is called big"),
    ("kitchen.pots.enamel pot.volume", '"12 qt"', "the enamel pot holds 12 qt"),
    ("kitchen.burners.left.power", '"3 kW"', "the left burner has 3 kW"),
    (
        "kitchen.canners.old.stands_on",
        '["left", "right"]',
        "the old stands on left and right",
    ),
    ("kitchen.canners.old.kind", '"dial gauge"', "the old is dial gauge"),
    ("kitchen.canners.old.holds", "{ pint = 1 }", "the old holds 1 pint"),
    ("kitchen.canners.old.holds", '{ pint = "x" }', "the old holds other jars"),
    (
        "kitchen.canners.old.layers",
        "{ pint = 1, half-pint = 2 }",
        "the old takes 1 layer of pints and 2 layers of half-pints",
    ),
    (
        "kitchen.canners.old.holds",
        '{ pint = 9, quart = "x" }',
        "the old holds other jars",
    ),
    (
        "kitchen.canners.old.layers",
        '{ pint = "x" }',
        "the layers in the old are otherwise",
    ),
]


@pytest.mark.parametrize(("path", "value", "said"), CHANGES)
def test_a_change_is_said_after_if(path: str, value: str, said: str) -> None:
    assert said_plainly(path, value) == said


DAY = {
    "people": [{"name": "Ada"}],
    "wants": [{"product": "jelly"}],
    "shelf": [{"is": "sugar"}],
    "kitchen": {
        "pots": [{"name": "pot"}],
        "canners": [{"name": "canner"}],
        "burners": [{"name": "left"}],
    },
}
PLACES = [
    ("day.name", "what the day is called"),
    ("day.first", "what comes before all else"),
    ("day.as_published", "planned with the book's figures alone"),
    ("kitchen.name", "what the kitchen is called"),
    ("kitchen.elevation", "how high above the sea the kitchen is"),
    ("kitchen.barometer", "what the barometer shows"),
    ("kitchen.barometer_is", "of what air the barometer tells"),
    ("kitchen.thermometer_boils", "what the thermometer shows in boiling water"),
    ("kitchen.thermometer_ice", "what the thermometer shows in ice"),
    ("kitchen.stove", "the kind of stove"),
    ("kitchen.cooling", "how long a jar keeps its place"),
    ("people[1].comes", "when Ada comes"),
    ("people[1].breaks", "the rests of Ada"),
    ("people[1].away", "when Ada is away"),
    ("people[1].can", "what Ada can do"),
    ("people[1].quarters", "how much attention Ada can give"),
    ("wants[1].by", "when jelly is wanted by"),
    ("wants[1].jar", "the jar for jelly"),
    ("wants[1].for", "what jelly is for"),
    (
        "wants[1].multiple",
        "how many times the tested batch of jelly is made at once",
    ),
    ("shelf[1].is", "what sugar is"),
    ("shelf[1].name", "your own name for sugar"),
    ("shelf[1].frozen", "whether sugar is frozen"),
    ("shelf[1].ready", "when sugar has dripped or thawed"),
    ("shelf[1].use_by", "when sugar is to be used by"),
    ("kitchen.pots[1].volume", "how large the pot is"),
    ("kitchen.pots[1].material", "what the pot is made of"),
    ("kitchen.canners[1].kind", "what kind of canner the canner is"),
    ("kitchen.canners[1].holds", "how many jars the canner holds"),
    ("kitchen.canners[1].layers", "how many layers the canner takes"),
    ("kitchen.canners[1].stands_on", "what the canner stands on"),
    ("kitchen.burners[1].power", "how strong the burner left is"),
    ("kitchen.burners[1].taken", "when the burner left is taken"),
    ("kitchen.burners[1].largest_pot", "the largest pot that the burner left bears"),
    ("people[1]", "Ada"),
    ("people[1].left_hand", "left hand of Ada"),
    ("pots[1].volume", "pots[1].volume"),
    ("kitchen", "kitchen"),
    ("kitchen.burners[2].power", "kitchen.burners[2].power"),  # there is none
]


@pytest.mark.parametrize(("key", "said"), PLACES)
def test_a_place_is_called_as_the_keeper_calls_it(key: str, said: str) -> None:
    assert place_in_words(key, DAY) == said


@pytest.mark.parametrize("value", ["0", "1", "90"])
def test_a_place_that_a_page_names_is_said_as_any_other(value: str) -> None:
    (counter,) = (
        k for k in change_keys(read_day(demo_day_text())) if k.path == "kitchen.counter"
    )
    assert counter.said(value) == said_plainly("kitchen.counter", value)
