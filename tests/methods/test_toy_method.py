"""A new way of putting up is one module and rows of data: a toy is planned whole."""

import csv
import datetime as dt
from types import SimpleNamespace

import pytest

from stillroom.book import procedure_table
from stillroom.book.jars import jar_volume_m3
from stillroom.book.procedures import (
    Procedure,
    read_ingredients,
    read_procedure_cautions,
    read_procedures,
)
from stillroom.book.reader import table
from stillroom.methods import by_name
from stillroom.methods.hand_steps import by_hand
from stillroom.methods.jars import (
    before_filling,
    fill_and_close,
    jar_links,
    jar_materials,
    wash_pot,
)
from stillroom.methods.method import Checked, Kept, Later, Work, Yield
from stillroom.methods.portions import uses
from stillroom.methods.scaling import at_multiple
from stillroom.methods.step import Link, Skill, Step
from stillroom.planning.day import Lot, Want
from stillroom.planning.judge.check import violations
from stillroom.planning.timetable import Answer
from stillroom.planning.whole_day import plan_the_day
from stillroom.refusal import Refusal, Source, granted
from tests.kitchens import day, juice, stores

INVENTED = "invented for this test"


def checks(recipe, station):
    return Checked(
        dissolved_m3=0.001,
        pot_needed_m3=0.002,
        pot_given_m3=station.pot.volume_m3,
        back_to_boil_min=None,
        outlook="a toy",
        cautions=recipe.cautions,
    )


def expected_yield(recipe, jar):
    each = granted(jar_volume_m3(jar))
    number = sum(part.volume_m3 or 0.0 for part in recipe.parts) / each
    return Yield(
        jar=jar,
        likely=number,
        low=number,
        high=number,
        printed_low=None,
        printed_high=None,
        basis="volume",
        source=Source(INVENTED, "practice"),
    )


def steps(recipe, station, filling):
    swirl = Step(
        id="swirl",
        verb="Swirl it over the fire",
        end_sign="it sings",
        duration_min=20,
        basis=INVENTED,
        attention_quarters=2,
        skill=Skill.PAN,
        burner_w=1000.0,
        in_pot=True,
    )
    rinse = by_hand("rinse", "Rinse a spoon", "clean", 3)
    last = Link(before="swirl", after="fill", at_most_min=5)
    closed = fill_and_close(filling, 0.25, gels=False)
    return Work(
        steps=(
            *before_filling(filling, station.air),
            rinse,
            swirl,
            *closed,
            wash_pot(),
        ),
        links=(*jar_links(), Link(before="rinse", after="swirl"), last),
        ready_after="wipe_and_lid",
        closed_wait_at_most_min=20,
        later=(Later(after_h=5.0, text="Listen to it.", source=INVENTED),),
    )


TOY = SimpleNamespace(
    NAME="toy",
    KEPT=Kept.SHELF,
    PER_JAR=False,
    PACK="hot",
    scale=at_multiple,
    materials=lambda recipe, jar, jars: (*uses(recipe), *jar_materials(jar, jars)),
    checks=checks,
    expected_yield=expected_yield,
    steps=steps,
)
"""One module-like object with the names and the five functions of a method."""


def rows(path, columns, *cells):
    with path.open("w", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(columns)
        writer.writerows(cells)
    return path


def header(name):
    with table(name).open() as stream:
        return next(csv.reader(stream))


@pytest.fixture
def toy(tmp_path, monkeypatch) -> Procedure:
    """Register the toy and read its recipe from rows like those of the book."""
    monkeypatch.setitem(by_name.METHODS, "toy", TOY)
    monkeypatch.setitem(procedure_table.METHOD_NAMES, "toy", "a toy")
    told = ("", "", "", "", "x", "looked_up")
    parts = rows(
        tmp_path / "parts.csv",
        header("procedure_ingredients"),
        [
            "toy-plum",
            1,
            "plum juice",
            4,
            "cup",
            "",
            "",
            "fruit",
            992,
            "computed",
            *told,
        ],
        ["toy-plum", 2, "sugar", 1, "cup", "", "", "sugar", 200, "computed", *told],
    )
    recipe = rows(
        tmp_path / "recipes.csv",
        header("procedures"),
        [
            *("toy-plum", "plum jelly", "Toy plum", "jelly", "toy", "plum"),
            *("", "", "", "", "it sings", "0.25", "half-pint; pint"),
            *("jelly (any cooked fruit jelly, tested recipe)", "Press the plums."),
            *("all at once", "", "shelf", "", INVENTED, "looked_up", ""),
        ],
    )
    cautions = read_procedure_cautions(table("procedure_cautions"))
    (procedure,) = read_procedures(recipe, read_ingredients(parts), cautions)
    return procedure


def test_a_toy_is_planned_through_the_canner(toy):
    today = day(
        Want(product="Toy plum", jars=10, jar="half-pint"),
        shelf=(juice("plum juice", bags=4), *stores()),
    )
    plan = plan_the_day(today, own=(toy,), seconds=2.0)
    assert not isinstance(plan, Refusal)
    assert len(plan.batches) == 2  # 5 cups fill 5 half-pints
    assert {batch.kept for batch in plan.batches} == {Kept.SHELF}
    assert all(batch.process and batch.process.minutes == 10 for batch in plan.batches)
    assert isinstance(plan.answer, Answer)
    assert violations(plan.problem, plan.answer.timetable) == ()
    assert any("Listen" in after.later.text for after in plan.afterwards)


def test_a_toy_that_keeps_cold_needs_no_canner(toy, monkeypatch):
    monkeypatch.setattr(TOY, "KEPT", Kept.COLD)
    today = day(
        Want(product="Toy plum", jars=5, jar="half-pint", by=dt.time(18)),
        shelf=(juice("plum juice", bags=1), *stores()),
    )
    plan = plan_the_day(today, own=(toy,), seconds=2.0)
    assert not isinstance(plan, Refusal)
    (batch,) = plan.batches
    assert batch.process is None
    assert batch.kept is Kept.COLD
    assert isinstance(plan.answer, Answer)


def test_without_its_module_the_toy_is_refused(toy, monkeypatch):
    monkeypatch.delitem(by_name.METHODS, "toy")
    today = day(
        Want(product="Toy plum", jars=5, jar="half-pint"),
        shelf=(Lot(name="juice", what="plum juice", volume_m3=0.01), *stores()),
    )
    plan = plan_the_day(today, own=(toy,), seconds=1.0)
    assert not isinstance(plan, Refusal)
    (unmet,) = plan.unmet
    assert "no steps are known here" in unmet.reason
