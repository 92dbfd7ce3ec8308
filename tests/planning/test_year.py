"""How much for the year: her own use first, every printed figure shown."""

import pytest

from stillroom.planning.year import year_want
from stillroom.refusal import Refusal, granted
from tests.cli.running import run


def test_four_persons_and_their_pears():
    """The printed plan: 2 quarts a person, so 16 pints for four."""
    want = granted(year_want("pears", persons=4, jar="pint"))
    assert want.jars in (16, 17)


def test_her_own_use_comes_first():
    want = granted(year_want("pears", persons=4, jar="pint", eaten=9))
    assert want.jars == 9
    assert want.opinions[0].source.how_known == "keeper"
    assert len(want.opinions) >= 2


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
