"""A recipe whose way of putting up is not known here is refused, never a stumble."""

import pytest

from stillroom.book.procedures import METHOD_NAMES, procedures
from stillroom.methods import by_name
from stillroom.methods.by_name import METHODS, method_named
from stillroom.methods.today import air_in
from stillroom.planning.day import Want
from stillroom.planning.which_batches.batches import make_batches
from stillroom.planning.which_batches.choices import Place, fit
from stillroom.planning.which_batches.leftovers import leftovers
from stillroom.planning.which_batches.shelf import Shelf
from stillroom.refusal import Refusal, granted
from tests.kitchens import day, kitchen


def test_every_known_way_is_found_by_its_name():
    for name, method in METHODS.items():
        assert method_named(name) is method
        assert name == method.NAME


def test_every_recipe_is_of_a_way_that_has_a_name():
    assert {p.method for p in procedures()} <= set(METHOD_NAMES)


def test_an_unknown_way_is_refused_with_what_there_is():
    refusal = method_named("smoking")
    assert isinstance(refusal, Refusal)
    assert "smoking" in refusal.reason
    assert "powdered pectin" in refusal.instead


@pytest.fixture
def no_pectin_yet(monkeypatch):
    """As if jelly with powdered pectin were not among the ways yet."""
    known = {name: m for name, m in METHODS.items() if name != "with_pectin"}
    monkeypatch.setattr(by_name, "METHODS", known)


@pytest.mark.usefixtures("no_pectin_yet")
def test_a_want_of_a_way_that_is_missing_is_unmet_in_words():
    today = day(Want(product="plum jelly", jars=8, jar="half-pint"))
    shelf = Shelf(today.shelf)
    made = make_batches(
        today, Place(kitchen=today.kitchen, air=granted(air_in(today.kitchen))), shelf
    )
    (unmet,) = made.unmet
    assert "no steps are known here for jelly and jam with powdered" in unmet.reason
    assert leftovers(made, shelf)


@pytest.mark.parametrize(
    ("product", "why"),
    [
        ("elderberry jelly", "pH 4.92"),
        ("red currant jelly", "size that is not known"),
        ("sweet pepper relish", ""),
    ],
)
def test_what_the_book_does_not_answer_with_is_not_planned(product, why):
    here = kitchen()
    answer = fit(product, "pint", 1, Place(kitchen=here, air=granted(air_in(here))))
    assert isinstance(answer, Refusal)
    assert why in answer.reason
    assert answer.instead
