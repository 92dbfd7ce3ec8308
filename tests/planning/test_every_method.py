"""Every way of putting up has a worked day, from shelf to timetable."""

import re

import pytest

from stillroom.methods.by_name import METHODS
from stillroom.methods.kitchen import Burner, Canner, CannerKind, Pot
from stillroom.methods.method import Filling
from stillroom.methods.recipes import recipe_named
from stillroom.methods.today import air_in
from stillroom.planning.day import Lot, Want
from stillroom.planning.dayplan import DayPlan
from stillroom.planning.judge.check import violations
from stillroom.planning.timetable import Answer
from stillroom.planning.which_batches.choices import Place, choose
from stillroom.planning.whole_day import plan_the_day
from stillroom.planning.words.sheet import day_sheet
from stillroom.refusal import Refusal, granted
from tests.kitchens import CUP, day, kitchen, stores

# Way, product, jar, jars wanted, and the goods on an invented shelf in kg or cups.
DAYS = [
    ("with_pectin", "plum jelly", "half-pint", 8, {"plum juice": "cups"}),
    ("liquid_pectin", "plum jelly with liquid pectin", "half-pint", 7,
     {"plum juice": "cups"}),
    ("boiled_down", "apple jelly without pectin", "half-pint", 3,
     {"apple juice": "cups"}),
    ("butter", "pear butter", "pint", 4, {"pears": "kg"}),
    ("remade", "remade jelly", "half-pint", 4, {"soft jelly": "cups"}),
    ("hot_pack", "pears", "quart", 7, {"pears": "kg"}),
    ("raw_pack", "peaches packed raw", "quart", 7, {"peaches": "kg"}),
    ("juice", "apple juice", "quart", 4, {"apple juice": "cups"}),
    ("puree", "applesauce", "pint", 6, {"apples": "kg"}),
    ("tomato", "crushed tomatoes", "quart", 5, {"tomatoes": "kg"}),
    ("pressure_pack", "green beans", "pint", 9, {"green beans": "kg"}),
    ("pickle", "bread-and-butter pickles", "pint", 8,
     {"pickling cucumbers": "kg", "onions": "kg"}),
    ("brined", "sauerkraut", "quart", 9, {"cabbage": "kg"}),
    ("syrup", "berry syrup", "half-pint", 9, {"berries": "kg"}),
    ("freezer_spread", "strawberry freezer jam", "half-pint", 5,
     {"strawberries": "kg"}),
    ("freeze", "frozen green beans", "pint", 6, {"green beans": "kg"}),
    ("dry", "dried apples", "pint", 3, {"apples": "kg"}),
    ("render_fat", "lard", "pint", 3, {"pork fat": "kg"}),
]  # fmt: skip


HERE = kitchen(
    burners=(
        Burner(name="front left", power_w=3500.0),
        Burner(name="front right", power_w=3000.0),
        Burner(name="back left", power_w=3000.0),
        Burner(name="back right", power_w=1800.0),
    ),
    canners=(
        Canner(
            name="water canner",
            kind=CannerKind.BOILING_WATER,
            stands_on=("front right",),
            places={"half-pint": 9, "pint": 9, "quart": 7},
        ),
        Canner(
            name="pressure canner",
            kind=CannerKind.DIAL_GAUGE,
            stands_on=("back left",),
            places={"pint": 9, "quart": 7},
        ),
    ),
    pots=(
        Pot(name="big pot", volume_m3=0.0151),
        Pot(name="small pot", volume_m3=0.0114),
    ),
)


def lots(goods: dict[str, str]) -> tuple[Lot, ...]:
    return tuple(
        Lot(name=what, what=what, mass_kg=16.0)
        if measure == "kg"
        else Lot(name=what, what=what, volume_m3=20 * CUP)
        for what, measure in goods.items()
    )


def planned(product: str, jar: str, jars: int, goods: dict[str, str]) -> DayPlan:
    want = Want(product=product, jars=jars, jar=jar)
    shelf = (*lots(goods), Lot(name="quarts", what="quart jars", count=20), *stores())
    return granted(plan_the_day(day(want, shelf=shelf, kitchen=HERE), seconds=2.0))


def test_every_way_has_its_day():
    assert {way for way, *_ in DAYS} == set(METHODS) - {"calcium_pectin"}


def test_calcium_set_pectin_is_refused_till_it_has_a_tested_recipe():
    answer = recipe_named("plum jam with calcium pectin", jar="half-pint")
    assert isinstance(answer, Refusal)
    assert answer.instead


@pytest.mark.parametrize(("way", "product", "jar", "jars", "goods"), DAYS)
def test_a_worked_day(way, product, jar, jars, goods):
    plan = planned(product, jar, jars, goods)
    assert plan.batches, plan.unmet
    assert {b.procedure.method for b in plan.batches} == {way}
    assert isinstance(plan.answer, Answer), plan.answer
    assert plan.problem is not None
    assert violations(plan.problem, plan.answer.timetable) == ()
    canned = sum(load.count for load in plan.answer.timetable.loads)
    on_the_shelf = [b for b in plan.batches if b.process is not None]
    assert canned == sum(b.jars for b in on_the_shelf)
    assert all(b.process or b.keeping.startswith("kept") for b in plan.batches)
    for step in (s for b in plan.problem.batches for s in b.steps):
        assert step.basis, step.id
    assert day_sheet(plan.problem, plan.answer.timetable).entries


OF_ONE = re.compile(r"\b1 (?:[\w-]+ ){0,2}(?:jars|boxes|rims|cups)\b")
OF_MANY = re.compile(r"(?<![\d/])[2-9] (?:[\w-]+ ){0,2}(?:jar|box|rim|cup)\b")


@pytest.mark.parametrize(("way", "product", "jar", "_jars", "_goods"), DAYS)
def test_of_one_jar_there_is_one_in_the_words_of_each_step(
    way, product, jar, _jars, _goods
):
    place = Place(kitchen=HERE, air=granted(air_in(HERE)))
    chosen = granted(choose(Want(product=product, jars=1, jar=jar), place))
    fitted = chosen.fitted
    assert fitted.recipe.procedure.method == way
    counted = 0
    for jars, wrong in ((1, OF_ONE), (5, OF_MANY)):
        filling = Filling(jar=fitted.jar, jars=jars, process=chosen.process)
        work = granted(fitted.method.steps(fitted.recipe, fitted.station, filling))
        for step in work.steps:
            said = f"{step.verb} · {step.note}"
            assert not wrong.search(said), said
            counted += f"{jars} " in step.verb
    assert counted or way in ("brined", "dry")


def test_low_acid_goes_under_pressure_and_only_there():
    plan = planned("green beans", "pint", 9, {"green beans": "kg"})
    (load,) = plan.answer.timetable.loads
    assert load.canner == "pressure canner"
    # USDA Guide 4: pints 20 min; 12 psi on a dial gauge at 2,001 to 4,000 ft.
    assert "20 min at 12 psi" in load.process


def test_tomatoes_get_acid_in_every_jar():
    plan = planned("crushed tomatoes", "quart", 5, {"tomatoes": "kg"})
    steps = [s for b in plan.problem.batches for s in b.steps]
    assert any(s.id == "measure_acid" for s in steps)
