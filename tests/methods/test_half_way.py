"""Half-way measures: what there is decides what follows."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.procedures import procedure_for
from stillroom.methods import butter, with_pectin
from stillroom.methods.by_name import METHODS
from stillroom.methods.half_way import Remeasured, remeasured
from stillroom.methods.method import Recipe
from stillroom.refusal import Refusal, granted
from tests.cli.running import run
from tests.kitchens import CUP

BUTTER = METHODS["butter"]
PECTIN = METHODS["with_pectin"]


def pear() -> Recipe:
    return granted(butter.scale(granted(procedure_for("pear butter")), 1))


def measured(cups: float) -> Remeasured | Refusal:
    return remeasured(BUTTER, pear(), cups * CUP, "half-pint")


def test_seven_and_a_quarter_cups_of_pear_pulp():
    """8 cups take 4 cups sugar; 7 1/4 take 3 5/8 (725 g): 3/8 cup goes back."""
    answer = granted(measured(7.25))
    sugar = next(c for c in answer.changes if c.name == "sugar")
    assert sugar.was == "4 cups"
    assert sugar.now == "3 5/8 cups (725 g)"
    assert sugar.what == "take back 3/8 cup"
    assert answer.now.likely == pytest.approx(answer.was.likely * 7.25 / 8)


def test_more_pulp_takes_more_sugar():
    answer = remeasured(BUTTER, pear(), 8.0 * CUP, "half-pint")
    assert granted(answer).share == pytest.approx(1.0)


@given(st.floats(2.5, 8.0))
def test_proportions_are_kept(cups):
    answer = granted(measured(cups))
    old = {p.name: p.mass_kg for p in pear().parts}
    for part in answer.recipe.parts:
        if part.mass_kg:
            assert part.mass_kg / old[part.name] == pytest.approx(cups / 8.0)


@pytest.mark.parametrize("cups", [0.5, 30.0])
def test_an_absurd_measure_is_questioned(cups):
    answer = measured(cups)
    assert isinstance(answer, Refusal)


def test_a_jelly_is_never_trimmed():
    recipe = granted(with_pectin.scale(granted(procedure_for("plum jelly")), 1))
    answer = remeasured(PECTIN, recipe, 4.75 * CUP, "half-pint")
    assert isinstance(answer, Refusal)
    assert answer.reason.startswith(
        "plum jelly is a fixed batch: it lacks 1/4 cup of plum juice, and sugar"
    )
    assert "never trimmed" in answer.reason
    assert "press it again" in answer.instead
    more = remeasured(PECTIN, recipe, 5.5 * CUP, "half-pint")
    assert isinstance(more, Refusal)
    assert "chill the other 1/2 cup" in more.instead


@pytest.mark.parametrize(
    ("product", "cups", "never", "instead"),
    [
        ("strawberry jam", 5.0, "sugar and pectin are never", "make more fruit ready"),
        ("apricot-orange conserve", 3.0, "sugar and acid are never", "make more fruit"),
        ("corn relish", 9.0, "vinegar, salt and sugar are never", "prepare what is"),
    ],
)
def test_what_is_short_half_way_is_not_pressed_where_it_is_no_juice(
    product, cups, never, instead
):
    """Corn for a relish was to be wetted and pressed, and its pectin left untrimmed."""
    procedure = granted(procedure_for(product))
    method = METHODS[procedure.method]
    recipe = granted(method.scale(procedure, 1))
    answer = remeasured(method, recipe, cups * CUP, "half-pint")
    assert isinstance(answer, Refusal)
    assert never in answer.reason
    assert answer.instead.startswith(instead)


def test_by_command():
    said = run("measured", "pear butter", "7 1/4 cups", "--json")
    assert said.code == 0
    assert said.json["share"] == pytest.approx(0.9062, abs=1e-3)
    assert "take back" in run("measured", "pear butter", "7 1/4 cups").out
    changes = {c["name"]: c for c in said.json["changes"]}
    assert changes["nutmeg"]["now"] == changes["nutmeg"]["was"] == "1/2 tsp"
    assert changes["nutmeg"]["what"] == "leave it as it is"
    assert all(
        c["what"].startswith("take back") for n, c in changes.items() if n != "nutmeg"
    )
    assert run("measured", "plum jelly", "4 cups").code == 3
    assert run("measured", "pear butter", "7 1/4").code == 2


@pytest.mark.parametrize(
    ("cups", "said", "instead"),
    [
        (4.75, "Nothing changes", "go on with the sugar"),
        (4.5, "Nothing changes", "go on with the sugar"),
        (4.0, "it lacks 1/2 cup of strained juice", "wet the pulp"),
        (
            6.0,
            "4 1/2 cups to 5 cups of strained juice",
            "take 5 cups and chill the other",
        ),
    ],
)
def test_a_syrup_is_measured_by_the_juice_that_was_strained(cups, said, instead):
    """Of 6 1/2 cups of berries come 4 1/2 to 5 cups of juice, as printed."""
    syrup = METHODS["syrup"]
    recipe = granted(syrup.scale(granted(procedure_for("berry syrup")), 1))
    answer = remeasured(syrup, recipe, cups * CUP, "half-pint")
    assert isinstance(answer, Refusal)
    assert said in answer.reason
    assert answer.instead.startswith(instead)


@pytest.mark.parametrize("cups", [5.0, 4.99, 5.01])
def test_a_jelly_that_measures_as_printed_goes_on_as_printed(cups):
    """It was to "take 5 cups and chill the other 0 tsp"."""
    recipe = granted(with_pectin.scale(granted(procedure_for("plum jelly")), 1))
    answer = remeasured(PECTIN, recipe, cups * CUP, "half-pint")
    assert isinstance(answer, Refusal)
    assert answer.reason.endswith("5 cups of plum juice. Nothing changes")
