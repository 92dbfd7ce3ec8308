"""Whatever the book freezes, dries or renders: sound steps, or a refusal in words."""

from dataclasses import replace
from types import ModuleType

import pytest

from stillroom.book.freezing_packs import freezing_pack_for
from stillroom.book.trouble import troubles
from stillroom.book.uncanned import (
    WAYS_WITHOUT_A_CANNER,
    freezing_procedure,
    names_without_canner,
    procedure_without_canner,
)
from stillroom.methods import (
    brined,
    calcium_pectin,
    dry,
    freeze,
    freezer_spread,
    pickle,
    render_fat,
    syrup,
)
from stillroom.methods.by_name import METHODS
from stillroom.methods.method import Filling, Kept
from stillroom.refusal import Refusal, Source, granted
from tests.one_batch_of import filling_of, method_of, sound, station, step_of

NEW = (pickle, brined, syrup, freezer_spread, calcium_pectin, freeze, dry, render_fat)
NO_FIGURE = "is not in the book"


@pytest.mark.parametrize("module", NEW, ids=lambda module: module.NAME)
def test_each_is_registered_with_all_its_parts(module: ModuleType):
    assert METHODS[module.NAME] is module
    assert isinstance(module.KEPT, Kept)
    assert isinstance(module.PER_JAR, bool)
    for function in ("scale", "materials", "checks", "expected_yield", "steps"):
        assert callable(getattr(module, function))
    known = {trouble.id for trouble in troubles()}
    assert set(module.TROUBLES) <= known


def test_every_way_without_a_canner_has_its_module():
    assert set(WAYS_WITHOUT_A_CANNER) <= set(METHODS)


@pytest.mark.parametrize("name", names_without_canner())
def test_every_row_makes_sound_steps_or_asks_for_a_figure(name):
    procedure = procedure_without_canner(name)
    if isinstance(procedure, Refusal):
        assert NO_FIGURE in procedure.reason or "memory" in procedure.reason
        return
    assert procedure is not None
    method = method_of(procedure)
    assert method.KEPT is not Kept.SHELF
    assert method.PER_JAR
    recipe = granted(method.scale(procedure, 3))
    expected = method.expected_yield(recipe, "pint")
    if isinstance(expected, Refusal):
        assert NO_FIGURE in expected.reason
        return
    assert expected.low <= expected.likely <= expected.high
    filling = filling_of(recipe, "pint", 2)
    assert filling.process is None
    sound(granted(method.steps(recipe, station(), filling)))
    checked = granted(method.checks(recipe, station()))
    assert checked.cautions
    assert checked.pot_needed_m3 <= checked.pot_given_m3
    assert method.materials(recipe, "pint", 2)[0].name == recipe.base.name


def test_with_a_weight_of_hers_corn_on_the_cob_cools_twice_as_long():
    """9 min in boiling water, 18 in ice water; the weight of a pint is invented."""
    cob = granted(freezing_pack_for("frozen corn on the cob"))
    weighed = replace(
        cob, fill_kg_per_pint=0.3, fill_source=Source("her own scales", "practice")
    )
    recipe = granted(freeze.scale(granted(freezing_procedure(weighed)), 2))
    bare = Filling(jar="pint", jars=2, process=None)
    work = granted(freeze.steps(recipe, station(), bare))
    assert step_of(work, "cool").duration_min == 18
    assert "twice as long" in step_of(work, "cool").end_sign
