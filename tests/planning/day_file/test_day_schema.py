"""The published schema says what the reader knows."""

import copy
import datetime as dt
import json
import tomllib

import pytest
from jsonschema import Draft202012Validator

from stillroom.planning.day_file import dayschema
from stillroom.planning.day_file.dayfile import (
    check_day,
    day_schema_text,
    demo_day_text,
    new_day_text,
)

SCHEMA = json.loads(day_schema_text())


def as_json(value):
    """TOML values as JSON knows them: a date is a text."""
    if isinstance(value, dict):
        return {key: as_json(below) for key, below in value.items()}
    if isinstance(value, list):
        return [as_json(below) for below in value]
    return value.isoformat() if isinstance(value, dt.date) else value


def validator():
    return Draft202012Validator(
        SCHEMA, format_checker=Draft202012Validator.FORMAT_CHECKER
    )


def demo():
    return as_json(tomllib.loads(demo_day_text()))


def table_of(kind):
    """The part of the schema that describes a table of the file."""
    table = SCHEMA
    for key in kind.split(".") if kind else ():
        table = table["properties"][key]
        table = table.get("items", table)
    return table


def test_the_schema_is_one():
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("text", [demo_day_text(), new_day_text()])
def test_the_shipped_days_meet_schema_and_reader(text):
    validator().validate(as_json(tomllib.loads(text)))
    assert check_day(text) == ()


@pytest.mark.parametrize("kind", dayschema.TABLES)
def test_schema_and_reader_know_the_same_keys(kind):
    keys, table = dayschema.TABLES[kind], table_of(kind)
    assert set(table["properties"]) == set(keys.known)
    assert set(table["required"]) == set(keys.required)
    assert table["additionalProperties"] is False


@pytest.mark.parametrize("kind", [k for k in dayschema.TABLES if k])
def test_schema_and_reader_take_the_same_number_of_tables(kind):
    *above, key = kind.split(".")
    table = table_of(".".join(above))["properties"][key]
    assert table.get("maxItems", 1) == dayschema.TABLES[kind].at_most


def test_schema_and_reader_allow_the_same_words():
    def words(kind, key):
        return tuple(table_of(kind)["properties"][key]["enum"])

    assert words("kitchen", "stove") == dayschema.HEATS
    assert words("kitchen", "barometer_is") == dayschema.BAROMETERS
    assert words("kitchen.canners", "kind") == dayschema.CANNER_KINDS
    assert words("wants", "for") == dayschema.PURPOSES
    assert tuple(SCHEMA["$defs"]["jar"]["enum"]) == dayschema.JARS
    skills = table_of("people")["properties"]["can"]["items"]["enum"]
    assert tuple(skills) == dayschema.SKILLS


@pytest.mark.parametrize(
    ("kind", "key", "limits"),
    [
        ("kitchen", "counter", dayschema.COUNTER),
        ("kitchen", "mills", dayschema.MILLS),
        ("kitchen", "sieves", dayschema.MILLS),
        ("people", "quarters", dayschema.QUARTERS),
        ("people.breaks", "minutes", dayschema.BREAK_MIN),
        ("wants", "jars", dayschema.WANT_JARS),
        ("wants", "weight", dayschema.WEIGHT),
        ("wants", "multiple", dayschema.MULTIPLE),
    ],
)
def test_schema_and_reader_have_the_same_limits(kind, key, limits):
    number = table_of(kind)["properties"][key]
    assert (number["minimum"], number["maximum"]) == limits


def test_per_jar_limits_are_the_same():
    canner = table_of("kitchen.canners")["properties"]
    for key, limits in (("holds", dayschema.PLACES), ("layers", dayschema.LAYERS)):
        number = canner[key]["additionalProperties"]
        assert (number["minimum"], number["maximum"]) == limits


def every_part(schema, path="schema"):
    yield path, schema
    for key in ("properties", "$defs"):
        for name, below in schema.get(key, {}).items():
            yield from every_part(below, f"{path}.{name}")
    if "items" in schema and path.split(".")[-1] not in (
        *("stands_on", "can", "away", "taken"),
    ):
        yield from every_part(schema["items"], f"{path}[]")


def test_every_part_has_a_title_and_a_description():
    bare = [p for p, s in every_part(SCHEMA) if not {"title", "description"} <= set(s)]
    assert bare == []


def spoiled():
    """Days that both have to refuse."""
    for table, key, value in (
        ("day", "starts", "7.30"),
        ("day", "date", "22 August"),
        ("kitchen", "stove", "wood"),
        ("kitchen", "counter", -1),
        ("kitchen", "colour", "red"),
        ("kitchen", "barometer", "935 hPa"),
        ("kitchen", "barometer_is", "station"),
    ):
        day = demo()
        day[table][key] = value
        yield day
    for table, key, value in (
        ("people", "can", []),
        ("people", "quarters", 5),
        ("shelf", "quantity", 0),
        ("shelf", "paid", -1),
        ("wants", "jars", 0),
        ("wants", "jar", "pnt"),
    ):
        day = demo()
        day[table][0][key] = value
        yield day
    for table in ("day", "kitchen", "people", "shelf", "wants"):
        day = demo()
        del day[table]
        yield day
        day = copy.deepcopy(demo())
        day[table] = []
        yield day


@pytest.mark.parametrize("day", list(spoiled()))
def test_what_the_schema_refuses_the_reader_refuses(day):
    assert not validator().is_valid(day)
    text = "\n".join(f"{key} = {toml(value)}" for key, value in day.items()) + "\n"
    assert check_day(text)


def toml(value):
    if isinstance(value, dict):
        inside = ", ".join(f'"{key}" = {toml(below)}' for key, below in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list):
        return f"[{', '.join(toml(below) for below in value)}]"
    return json.dumps(value, ensure_ascii=False)


def test_the_same_day_on_one_line_for_each_table_is_read():
    text = "\n".join(f"{key} = {toml(value)}" for key, value in demo().items()) + "\n"
    assert check_day(text) == ()
