"""How much for the year: her own use first, every printed figure shown."""

import pytest

from stillroom.planning.which_batches.year import year_want
from stillroom.refusal import Refusal, granted
from tests.cli.running import run


def test_four_persons_and_their_pears():
    """The printed plan: 2 quarts a person, so 16 pints for four."""
    want = granted(year_want("pears", persons=4, jar="pint"))
    assert want.jars == 16


@pytest.mark.parametrize(
    ("food", "persons", "jar", "printed", "jars"),
    [
        ("tomatoes", 4, "pint", "40 quarts", 320),
        ("tomatoes", 4, "pint", "63 quarts", 504),
        ("tomatoes", 4, "pint", "16.25 quarts", 130),
        ("peaches", 1, "half-pint", "10 quarts", 40),
        ("corn", 1, "half-gallon", "3 quarts", 2),  # 1 1/2: a begun jar counts
        ("jelly", 3, "half-pint", "13.5 pints", 81),
        # 2 1/4 quarts: one of them holds two, and a quarter of a quart is over
        ("beans, lima", 1, "half-gallon", "2.25 quarts", 2),
        ("succotash", 3, "quart", "1 quart a person", 3),
        ("pears", 60, "quart", "2 quarts", 120),  # the largest household
    ],
)
def test_jars_are_the_printed_amount_and_not_one_more(
    food, persons, jar, printed, jars
):
    want = granted(year_want(food, persons=persons, jar=jar))
    mine = [o for o in want.opinions if printed in o.from_what]
    assert {o.jars for o in mine} == {jars}


def test_of_several_printed_figures_the_lowest_is_proposed():
    """16 1/4 quarts a person: for four 65 quarts, 130 pints; others print up to 63."""
    want = granted(year_want("tomatoes", persons=4, jar="pint"))
    assert want.jars == 130


def test_what_was_not_eaten_at_all_is_not_put_up():
    want = granted(year_want("tomatoes", persons=4, jar="pint", eaten=0))
    assert want.jars == 0
    assert want.because == "as many as were eaten last year"


def test_her_own_use_of_what_no_plan_prints_is_enough():
    want = granted(year_want("bricks", persons=4, jar="pint", eaten=3))
    assert want.jars == 3
    assert [o.from_what for o in want.opinions] == ["3 eaten last year"]


def test_servings_stand_with_a_figure_and_a_part_of_a_whole_by_its_own_name():
    want = granted(year_want("tomatoes", persons=1, jar="quart"))
    said = [o.from_what for o in want.opinions]
    assert "40 quarts a person (4 a week, 40 weeks; 1 cup)" in said
    assert "20 quarts a person" in said  # printed as "of which tomatoes"


def test_no_two_lines_are_alike_and_another_food_is_named():
    want = granted(year_want("tomatoes", persons=4, jar="pint"))
    lines = [(o.from_what, o.source) for o in want.opinions]
    assert len(set(lines)) == len(lines)
    assert lines[0][0].startswith("40 quarts a person")
    assert lines[1][0].startswith("tomato juice: 40 quarts a person")


def test_her_own_use_comes_first():
    want = granted(year_want("pears", persons=4, jar="pint", eaten=9))
    assert want.jars == 9
    assert want.opinions[0].source.how_known == "keeper"
    assert len(want.opinions) >= 2


@pytest.mark.parametrize(
    ("food", "eaten", "because"),
    [
        ("pears", 9, "as many as were eaten last year"),
        ("sauerkraut", None, "by the one figure that is printed"),
        # 252 quarts for a family of four is the most that is printed of tomatoes
        (
            "tomatoes",
            None,
            "by the lowest of 6 printed figures (the highest is 504): a jar too many "
            "is work for nothing",
        ),
    ],
)
def test_the_sentence_says_whose_figure_it_goes_by(food, eaten, because):
    own = ["--eaten", f"{food}={eaten}"] if eaten else []
    said = run("year", food, "--persons", "4", "--jar", "pint", *own)
    assert f"for 4, {because}." in " ".join(said.out.split())


def test_printed_figures_that_disagree_are_all_shown():
    want = granted(year_want("jelly", persons=1, jar="half-pint"))
    assert len({o.jars for o in want.opinions}) >= 2
    assert any("conflict" in o.note for o in want.opinions)


@pytest.mark.parametrize(("food", "persons"), [("bricks", 4), ("pears", 0)])
def test_nonsense_is_refused(food, persons):
    assert isinstance(year_want(food, persons=persons, jar="pint"), Refusal)


def test_by_command():
    said = run("year", "pears", "--persons", "4", "--eaten", "pears=14", "--json")
    assert said.json["wants"][0]["jars"] == 14
    assert run("year", "pears", "--eaten", "pears=many").code == 2
    assert run("year", "bricks").code == 3
