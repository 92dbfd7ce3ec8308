"""
Six made-up days of 20 to 160 jars, to measure the planner on.

People, fruit, durations, spreads and equipment are invented, and the process minutes
are not a source for any process: they only have the shape of a real day.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from stillroom.methods.step import Link, Skill, Spread, Step
from stillroom.planning.problem import (
    Batch,
    Break,
    Burner,
    Canner,
    Counter,
    Person,
    Pot,
    Problem,
    Process,
    Want,
)

FOLDER = Path(__file__).parent / "days"
POWER_W = {0: 0.0, 1: 1000.0, 2: 2000.0, 3: 3000.0}
"""The days only say small, medium and large; these ratings stand for them."""
SKILLS = {"any": {Skill.COLD, Skill.KNIFE, Skill.LIFT}, "cook": {Skill.PAN}}
STEP_SKILL = {"any": Skill.COLD, "cook": Skill.PAN}


def day_names() -> tuple[str, ...]:
    """Names of the days, the smallest first."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.json")))


def made_up_day(name: str) -> Problem:
    """
    One of the days; ``name`` may be its beginning ("d3").

    Raises
    ------
    KeyError
        If no day, or more than one, begins like that.
    """
    found = [n for n in day_names() if n.startswith(name)]
    if len(found) != 1:
        raise KeyError(f"{name}: the days are {', '.join(day_names())}")
    day = json.loads((FOLDER / f"{found[0]}.json").read_text(encoding="utf-8"))
    size_of = {p["id"]: p["size"] for p in day["pots"]}
    return Problem(
        starts_at=day["starts_at"],
        horizon_min=day["horizon_min"],
        people=tuple(_person(p) for p in day["people"]),
        burners=tuple(
            Burner(id=b["id"], power_w=POWER_W[b["power"]]) for b in day["burners"]
        ),
        pots=tuple(Pot(id=p["id"], size=p["size"]) for p in day["pots"]),
        mills=day["mills"],
        canners=tuple(_canner(c) for c in day["canners"]),
        counter=Counter(**day["counter"]),
        processes=tuple(
            Process(
                **{**p, "may_ride_in": tuple(p["may_ride_in"]), "source": "made up"}
            )
            for p in day["processes"]
        ),
        batches=tuple(_batch(b, size_of) for b in day["batches"]),
        wants=tuple(Want(**w) for w in day["wants"]),
    )


def _person(given: dict[str, Any]) -> Person:
    return Person(
        id=given["id"],
        skills=frozenset(s for word in given["skills"] for s in SKILLS[word]),
        arrives_min=given["arrives_min"],
        leaves_min=given["leaves_min"],
        breaks=tuple(Break(**b) for b in given["breaks"]),
    )


def _canner(given: dict[str, Any]) -> Canner:
    rest = {k: v for k, v in given.items() if k not in ("burner", "spread_come_up_min")}
    return Canner(
        **rest,
        burners=(given["burner"],),
        come_up_spread=Spread(*given["spread_come_up_min"]),
    )


def _batch(given: dict[str, Any], size_of: dict[str, str]) -> Batch:
    return Batch(
        id=given["id"],
        product=given["product"],
        jars=given["jars"],
        process=given["process"],
        pots=tuple(dict.fromkeys(size_of[pot] for pot in given["pots"])),
        ready_after=given["ready_after"],
        closed_wait_at_most_min=given["closed_wait_at_most_min"],
        steps=tuple(_step(s) for s in given["steps"]),
        links=tuple(Link(**link) for link in given["links"]),
    )


def _step(given: dict[str, Any]) -> Step:
    return Step(
        id=given["id"],
        verb=given["id"].replace("_", " ").capitalize(),
        duration_min=given["duration_min"],
        spread=Spread(*given["spread_min"]),
        basis="made up",
        attention_quarters=given["attention_quarters"],
        skill=STEP_SKILL[given.get("skill", "any")],
        burner_w=POWER_W[given.get("burner_power", 0)],
        in_pot=given.get("in_pot", False),
        on_mill=given.get("on_mill", False),
        same_hands=given.get("same_hands", ""),
        critical=given.get("critical", False),
    )
