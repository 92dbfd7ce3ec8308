"""What stands in a dryer or a crock: open until somebody says how many jars it gave."""

from stillroom.stock.after import open_of
from stillroom.stock.commands import Check, Make
from stillroom.stock.events import Batch, Kind, Seen
from stillroom.stock.making import holds
from stillroom.stock.open_lots import Open
from stillroom.stock.told import told
from tests.stock.kitchen import Farm, thing


def of(farm: Farm) -> Open:
    found = open_of(farm.stock, farm.last, farm.at)
    assert found is not None
    return found


def test_what_stands_in_the_dryer_is_closed_by_a_number_of_jars_alone():
    """What else was seen of it leaves it where it stands, and on hold."""
    farm = Farm()
    dried = {"food": "", "canned": False, "process_min": None}
    farm.made("2 quarts dried apples, pantry", stands="in the dryer", **dried)
    stands = "it stands in the dryer: it was not said that it is dry and closed in jars"
    assert holds(farm.stock, farm.last) == (stands,)
    assert farm.do(Check(lot=farm.last, seen=Seen.SOFT, at=farm.at)) is None
    assert of(farm).stands == "in the dryer"
    assert holds(farm.stock, farm.last) == (stands,)
    assert farm.do(Check(lot=farm.last, good=2, at=farm.at)) is None
    assert (of(farm).stands, holds(farm.stock, farm.last)) == ("", ())
    # no lid was looked at, and the record says of none that it was
    said = told(farm.stock, farm.stock.event(farm.stock.sequence))
    assert said.endswith(": 2 dry and closed in jars")
    assert "seals" not in said


def test_jars_of_a_crock_that_are_not_finished_are_told_beside_those_that_are():
    farm = Farm()
    kraut = {"food": "pickle", "canned": False, "process_min": None}
    farm.made("9 quarts sauerkraut, refrigerator", stands="in the crock", **kraut)
    assert farm.do(Check(lot=farm.last, good=7, failed=2, at=farm.at)) is None
    said = told(farm.stock, farm.stock.event(farm.stock.sequence))
    assert ": 7 done fermenting and packed in jars, 2 not" in said


def test_what_is_called_back_and_on_hold_besides_wants_looking_still():
    """Apples stand in the dryer, recalled or not: nobody has said they are dry."""
    farm = Farm()
    dried = {"food": "dried fruit", "canned": False, "process_min": None}
    farm.made("2 quarts dried apples, pantry", stands="in the dryer", **dried)
    farm.recall(farm.last, "mice")
    assert len(of(farm).held) == 2
    assert of(farm).wants_looking


def test_what_is_made_and_fills_no_jars_is_no_lot_of_the_day_after():
    farm = Farm()
    juice = thing("3 bags plum juice, 5 cups each, freezer")
    batch = Batch(food="juice", stands="in the dryer")
    asked = Make(thing=juice, inputs=(), batch=batch, on=farm.at.date(), at=farm.at)
    assert farm.do(asked) is None
    assert farm.stock.lots[farm.last].kind is not Kind.FILLED
    assert open_of(farm.stock, farm.last, farm.at) is None
    assert holds(farm.stock, farm.last) == ()


def test_kraut_booked_by_hand_without_a_process_may_stand_in_its_crock():
    farm = Farm()
    none = {"process_min": None, "due_min": None, "food": "pickle"}
    for what in ("sauerkraut", "fermented dill pickles"):
        assert farm.made(f"6 quarts {what}, cellar", **none) is None
        (why,) = holds(farm.stock, farm.last)
        assert "if it stands in its crock still, it is no jars yet" in why
        assert f"book it as 1 crock {what}" in why
    crock = farm.add("1 crock sauerkraut, cellar")  # as it says, it is booked
    assert holds(farm.stock, crock) == ()


def test_what_was_in_a_canner_or_does_not_ferment_stands_in_no_crock():
    farm = Farm()
    none = {"process_min": None, "due_min": None, "food": "pickle"}
    farm.made("6 quarts sauerkraut, cellar", load=2, **none)
    assert "crock" not in " ".join(holds(farm.stock, farm.last))
    farm.made("6 quarts bread-and-butter pickles, cellar", **none)
    assert "crock" not in " ".join(holds(farm.stock, farm.last))
