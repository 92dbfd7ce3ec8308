"""A count and a size of jar are joined in one place: of one there is one."""

import re
from pathlib import Path

import pytest

from stillroom.jar_count import counted, jars_said
from stillroom.stock.amounts import JAR_SIZES, Measure, Unit
from stillroom.stock.cover import Cover
from stillroom.web.wording import jars

SRC = Path(__file__).parents[1] / "src" / "stillroom"
PIECES = Measure(unit=Unit.PIECES)
BY_HAND = re.compile(
    r"\}\}?\s*\{\{?[^{}]*\b(jar|part|size)\b[^{}]*\}\}?s\b"  # "{count} {size}s"
)


@pytest.mark.parametrize("size", JAR_SIZES)
@pytest.mark.parametrize("number", [0, 1, 2])
def test_every_size_is_said_by_its_number(size: str, number: int):
    one = number == 1
    words = f"{number} {size}" if one else f"{number} {size}s"
    empties = f"{number} {size} jar" if one else f"{number} {size} jars"
    assert counted(number, size) == words
    assert jars(number, size) == words
    assert Measure(unit=Unit.PIECES, part=size).words(number) == words
    assert jars_said(number, size) == empties
    assert PIECES.of(number, f"{size} jars") == empties
    assert f"{number} {PIECES.name(number, f'{size} jars')}" == empties


@pytest.mark.parametrize("size", JAR_SIZES)
def test_how_far_one_jar_goes_is_said_of_one(size: str):
    row = Cover(
        what="plum jelly",
        part=size,
        on_hand=1,
        past=0,
        used=0,
        weeks_looked=10,
        gone=(),
        next_in_weeks=None,
        last_put_up="",
    )
    assert row.words.startswith(f"1 {size} of plum jelly; none used")


def test_no_other_place_hangs_an_s_on_a_size_behind_its_number():
    assert BY_HAND.search("{opinion.jars} {row.part}s, {why}")
    assert BY_HAND.search("<b>{{ o.jars }} {{ row.part }}s</b>")
    files = [*SRC.rglob("*.py"), *SRC.rglob("*.html")]
    found = [f.name for f in files if BY_HAND.search(f.read_text("utf-8"))]
    # asked whether "6 pints green beans" are jars: of one it would be the same question
    assert found == ["jars_or_measure.py"]
