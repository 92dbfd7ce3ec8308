"""``why`` where not all has room: what is left out, and the ways out once."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from stillroom.planning.day import Want
from stillroom.planning.day_file.dayfile import write_day
from tests.cli.running import run
from tests.kitchens import day, juice, person, stores


@pytest.fixture(scope="module")
def short_day(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Two batches and time for one of them."""
    two_hours = {"comes": dt.time(8), "goes": dt.time(9, 50)}
    short = day(
        Want(product="plum jelly", jars=16, jar="half-pint"),
        shelf=(juice(), *stores()),
        people=(person(**two_hours),),
        ends=dt.time(9, 50),
        done_by=dt.time(9, 50),
    )
    file: Path = tmp_path_factory.mktemp("short") / "day.toml"
    file.write_text(write_day(short), encoding="utf-8")
    return str(file)


def asked(file: str, *of: str) -> str:
    said = run("why", file, *of, "--seconds", "2")
    assert said.code == 0, said.err
    return " ".join(said.out.split())


def test_a_batch_that_is_left_out_says_why_and_what_would_make_room(short_day: str):
    """It said that the plan had nothing of that name, though it named it so itself."""
    (out,) = run("plan", short_day, "--seconds", "2", "--json").json["left_out"]
    (name,) = out["batches"]
    for of in (name, name.upper(), f"{name}/fill"):
        said = asked(short_day, of)
        assert f"Left out: {name} ({out['jars']} half-pint): {out['why']}." in said
        assert "Why not all of it fits" in said
        assert "The cheapest ways out, each tried" in said
    told = run("why", short_day, name, "--seconds", "2", "--json").json
    assert (told["left_out"], told["chain"], told["start_min"]) == (out, [], None)


def test_the_ways_out_are_said_of_the_end_of_the_day_and_else_pointed_to(
    short_day: str,
):
    assert "The cheapest ways out, each tried" in asked(short_day)
    said = asked(short_day, "load 1")
    assert "The cheapest ways out" not in said
    assert said.endswith(
        'is left out. Why, and ways out: stillroom why DAY.toml "plum jelly 2"'
    )
