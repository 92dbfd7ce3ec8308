"""Printed yields beside the solids: over 25 recipes, none called what it is not."""

import pytest

from stillroom.planning.which_batches.yields import yield_table
from tests.cli.running import run

ROWS = {row.procedure.id: row for row in yield_table()}


def test_there_are_25_printed_ones_and_more():
    printed = [r for r in ROWS.values() if r.expected.printed_low is not None]
    assert len(printed) >= 25


# Worked out from looked-up figures in the reference notes, at 65 % solids.
DERIVED = [
    ("jelly-apple-none", 3.6),
    ("jelly-crabapple-none", 4.7),
    ("jelly-blackberry-none", 3.4),
]


@pytest.mark.parametrize(("recipe", "derived"), DERIVED)
def test_boiled_down_jellies_agree_with_the_derived_figures(recipe, derived):
    assert ROWS[recipe].expected.likely == pytest.approx(derived, rel=0.05)


def test_impossible_ones_are_named():
    """Solids allow 3.6 of 4 to 5 apple jellies and 5 to 6 of 8 to 9 apple butters."""
    for recipe in ("jelly-apple-none", "butter-apple", "jam-blackberry-powdered"):
        assert ROWS[recipe].verdict == "printed is more than there can be"


def test_what_lacks_a_mass_is_not_called_impossible():
    for row in ROWS.values():
        jelly = row.procedure.kind == "jelly"
        if jelly and (
            "concentrate" in row.procedure.id or "pepper" in row.procedure.id
        ):
            assert row.verdict.startswith("as printed")


def test_the_figures_are_in_order():
    for row in ROWS.values():
        assert 0 < row.expected.low <= row.expected.likely + 1e-9
        assert row.expected.likely <= row.expected.high + 1e-9


def test_by_command():
    body = run("yields", "--json").json
    assert len(body["yields"]) == len(ROWS)
    assert "printed is more" in " ".join(run("yields").out.split())
