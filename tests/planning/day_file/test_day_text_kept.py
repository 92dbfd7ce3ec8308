"""A changed day file keeps every word that was not changed."""

import tomllib

import pytest

from stillroom.planning.day_file.day_changes import changed_day_text
from stillroom.planning.day_file.day_text_kept import text_with
from stillroom.planning.day_file.day_values import day_text_of
from stillroom.planning.day_file.dayfile import day_like_text, demo_day_text

DEMO = demo_day_text()

CHANGES = [
    "people.Tilda.goes=19:00",
    "kitchen.counter=120",
    "day.ends=20:30; people.Tilda.goes=20:30",
    "kitchen.canners.second = like long canner",
    "kitchen.canners.second = like long canner; "
    'kitchen.canners.second.stands_on=["x"]; kitchen.burners.x={ power = "2 kW" }',
    "people.Pip=nothing",
    "people.Pip=nothing; kitchen.counter=90",
    "wants.plum jelly=nothing",
    "wants.plum jelly.jars=7; wants.pear butter=nothing",
    "day.done_by=nothing",
    'people.Pip.breaks=[{ minutes = 30, earliest = "11:00", latest = "12:00" }]',
    'people.Otto={ comes = "08:00", goes = "12:00", can = ["cold"] }',
]


def words_of(text: str) -> list[str]:
    """Remarks of a file, wherever they stand."""
    return [line[line.index("#") :] for line in text.splitlines() if "#" in line]


def speaks_of_what_is_there(change: str, values: dict) -> bool:
    """Whether a change is one of this day: its people, its wants, its hour."""
    names = {p["name"] for p in values["people"]}
    products = {w["product"] for w in values["wants"]}
    canners = {c["name"] for c in values["kitchen"]["canners"]}
    return (
        ("done_by" not in change or "done_by" in values["day"])
        and all(name in names or name not in change for name in ("Pip", "Tilda"))
        and ("long canner" not in change or "long canner" in canners)
        and ("wants" not in change or {"plum jelly", "pear butter"} <= products)
    )


CASES = [
    (like, change)
    for like in ("demo", "eighty-jars", "to-fill-in")
    for change in CHANGES
    if speaks_of_what_is_there(change, tomllib.loads(day_like_text(like)))
]


def test_each_change_is_tried_on_some_day():
    assert {change for _, change in CASES} == set(CHANGES)


@pytest.mark.parametrize(("like", "change"), CASES)
def test_every_remark_stays_and_only_what_changes_is_written_anew(like, change):
    text = day_like_text(like)
    values = tomllib.loads(text)
    new = changed_day_text(text, change)
    assert tomllib.loads(new) != values
    assert "inline" not in new
    if "nothing" not in change:
        assert words_of(new) == words_of(text)
    same = [line for line in text.splitlines() if line in new.splitlines()]
    # a row that goes has ten lines at most; all others stay
    assert len(same) >= len(text.splitlines()) - 12


def test_a_remark_behind_a_changed_value_stays():
    new = changed_day_text(DEMO, "kitchen.counter=120")
    line = next(x for x in new.splitlines() if x.startswith("counter"))
    old = next(x for x in DEMO.splitlines() if x.startswith("counter"))
    assert line.startswith("counter = 120")
    assert line[line.index("#") :] == old[old.index("#") :]


def test_a_row_that_is_called_otherwise_is_the_same_row():
    text = (
        '# who comes\n[[people]]\n# my sister\nname = "Ada"  # at the gate by nine\n'
        'goes = "15:00"  # the bus\n\n[[people]]\nname = "Bo"\n'
    )
    after = tomllib.loads(text)
    after["people"][0]["name"] = "Ada Lund"
    assert text_with(text, after) == text.replace('"Ada"', '"Ada Lund"')


def test_a_new_row_stands_with_its_like_and_the_next_heading_stays_below():
    new = changed_day_text(
        DEMO, 'people.Otto={ comes = "08:00", goes = "12:00", can = ["cold"] }'
    )
    otto, shelf = new.index('name = "Otto"'), new.index("[[shelf]]")
    assert new.index('name = "Pip"') < otto < shelf
    assert "[[people]]\nname" in new[otto - 20 : otto + 20]


@pytest.mark.parametrize(
    "text",
    [
        'people = [{name = "Ada"}]\nwants = []\n[day]\nname = "x"\n',
        '[day]\nname = """two\nlines"""\n[[people]]\nname = "Ada"\n',
        '[day]\nname = "a # b"   # c # d\n[[people]]\nname = "Ada"\n[[people]]\n'
        'name = "Ada"\ngoes = "9"\n',
        '["day"]\nname = "x"\n[[people]]\nname = "Ada"\n',
    ],
)
def test_any_layout_comes_to_the_same_values(text):
    after = tomllib.loads(text)
    after["day"]["name"] = 'y # "z"'
    after["people"].append({"name": "Ben", "can": ["cold"]})
    del after["people"][0]
    assert tomllib.loads(text_with(text, after)) == after


def test_values_alone_are_written_where_a_layout_is_not_known():
    text = '["day"]\nname = "x"\n'
    after = {"day": {"name": "y"}}
    assert text_with(text, after) == day_text_of(after)
