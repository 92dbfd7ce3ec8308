"""docs/day-file.md says what the reader does."""

import re
from pathlib import Path

import pytest

from stillroom.planning.day_file import dayschema
from stillroom.planning.day_file.dayfile import check_day, demo_day_text, new_day_text

PAGE = (Path(__file__).parents[3] / "docs" / "day-file.md").read_text(encoding="utf-8")


def section(kind):
    """The part of the page under the heading of a table."""
    heading = re.escape(
        f"[[{kind}]]" if dayschema.TABLES[kind].at_most > 1 else f"[{kind}]"
    )
    return re.split(r"\n##+ ", re.split(rf"\n##+ `{heading}`", PAGE)[1])[0]


def test_the_day_on_the_page_is_valid():
    (day,) = re.findall(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    assert check_day(day) == ()


@pytest.mark.parametrize(
    "kind", [k for k in dayschema.TABLES if k and k != "people.breaks"]
)
def test_the_page_names_every_key_and_no_other(kind):
    first_cells = re.findall(r"^\| (`[^|]*) \|", section(kind), re.MULTILINE)
    named = {key for cell in first_cells for key in re.findall(r"`(\w+)`", cell)}
    tables = {
        k.rpartition(".")[2] for k in dayschema.TABLES if k.startswith("kitchen.")
    }
    assert named == set(dayschema.TABLES[kind].known) - tables


def test_the_messages_on_the_page_are_the_real_ones():
    text = (
        demo_day_text()
        .replace("3.5 kW", "3.5 kX")
        .replace('["front right"]', '["front rihgt"]')
    )
    said = [str(fault) for fault in check_day(text)]
    assert said == PAGE.split("```\n")[-2].splitlines()


def test_every_measure_on_the_page_is_read():
    from stillroom.measures import read_quantity

    (measures,) = re.findall(r"- \*\*Measures\*\*(.*?)`oz` is", PAGE, re.DOTALL)
    found = re.findall(r'`"([^"]+)"`', measures)
    assert len(found) == 14
    for typed in found:
        read_quantity(typed)


@pytest.mark.parametrize("kind", [k for k in dayschema.TABLES if k])
def test_the_day_to_fill_in_names_every_key(kind):
    template = new_day_text()
    for key in dayschema.TABLES[kind].known:
        table = f"[[{kind}.{key}]]"
        named = re.search(rf"(^(# )?|[{{ ]){key} = ", template, re.MULTILINE)
        assert named or table in template


def test_every_switched_off_key_of_the_day_to_fill_in_can_be_switched_on():
    text = re.sub(r"(?m)^# (\w+ = )", r"\1", new_day_text())
    assert text.count("\n# ") < new_day_text().count("\n# ") - 10
    assert check_day(text) == ()
