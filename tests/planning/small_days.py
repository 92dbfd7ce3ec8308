"""Small invented days for the planner's tests; every figure in them is made up."""

from __future__ import annotations

from stillroom.methods.step import Link, Skill, Step
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
    Window,
)
from stillroom.planning.timetable import PlacedLoad

ALL_SKILLS = frozenset(Skill)
HALF_PINT = Process(
    id="half-pint-10", jar="half_pint", minutes=10, may_ride_in=("half-pint-10",)
)
PINT = Process(id="pint-10", jar="pint", minutes=10, may_ride_in=("pint-10", "pint-15"))
LONG_PINT = Process(id="pint-15", jar="pint", minutes=15, may_ride_in=("pint-15",))


def person(name: str, **changes: object) -> Person:
    """Someone who can do everything and is there all day."""
    given: dict[str, object] = {
        "id": name,
        "skills": ALL_SKILLS,
        "arrives_min": 0,
        "leaves_min": 960,
    }
    return Person(**{**given, **changes})  # type: ignore[arg-type]


def canner(name: str = "canner", **changes: object) -> Canner:
    """A canner of 16 half-pints or 9 pints; a load of ten minutes takes 35."""
    given: dict[str, object] = {
        "id": name,
        "burners": ("strong-1",),
        "places": {"half_pint": 16, "pint": 9},
        "first_heat_min": 30,
        "reheat_min": 20,
        "stays_hot_min": 25,
        "load_min": 4,
        "come_up_min": 12,
        "rest_min": 5,
        "unload_min": 4,
    }
    return Canner(**{**given, **changes})  # type: ignore[arg-type]


def jelly(name: str = "jelly-1", **changes: object) -> Batch:
    """Jars and sugar made ready, a no-wait boil, filling while it is hot."""
    pan = {"skill": Skill.PAN, "in_pot": True, "same_hands": "pan"}
    fire = {**pan, "burner_w": 2000.0}
    steps = (
        step("wash_jars", 5, 3),
        step("measure_sugar", 4, 3),
        step("heat_jars", 15, 0, burner_w=1000.0),
        step("boil", 12, 2, **fire),
        step("full_boil", 7, 4, **fire, critical=True),
        step("hard_boil", 1, 4, **fire, critical=True),
        step("skim", 3, 4, **pan, critical=True),
        step("fill", 5, 4, in_pot=True, critical=True),
        step("lid", 4, 3),
        step("wash_pot", 6, 3, in_pot=True),
    )
    links = (
        Link(before="wash_jars", after="heat_jars"),
        Link(before="heat_jars", after="fill", at_most_min=45),
        Link(before="measure_sugar", after="full_boil"),
        Link(before="boil", after="full_boil", at_most_min=0),
        Link(before="full_boil", after="hard_boil", at_most_min=0),
        Link(before="hard_boil", after="skim", at_most_min=0),
        Link(before="skim", after="fill", at_most_min=2, why="it gels"),
        Link(before="fill", after="lid", at_most_min=2),
        Link(before="fill", after="wash_pot"),
    )
    given: dict[str, object] = {
        "id": name,
        "product": "jelly",
        "jars": 8,
        "process": "half-pint-10",
        "pots": ("big",),
        "ready_after": "lid",
        "closed_wait_at_most_min": 20,
        "steps": steps,
        "links": links,
    }
    return Batch(**{**given, **changes})  # type: ignore[arg-type]


def butter(name: str = "butter-1", **changes: object) -> Batch:
    """Soften, mill, cook down slowly; fills pints."""
    steps = (
        step("cut", 20, 3, skill=Skill.KNIFE),
        step("soften", 25, 1, burner_w=2000.0, in_pot=True),
        step("mill", 12, 3, skill=Skill.KNIFE, in_pot=True, on_mill=True),
        step("cook", 60, 1, burner_w=1000.0, in_pot=True, same_hands="stir"),
        step("mound", 20, 2, burner_w=1000.0, in_pot=True, same_hands="stir"),
        step("fill", 6, 4, in_pot=True, critical=True),
        step("lid", 3, 3),
        step("wash_mill", 6, 3, on_mill=True),
        step("wash_pot", 8, 3, in_pot=True),
    )
    links = (
        Link(before="cut", after="soften", at_most_min=120),
        Link(before="soften", after="mill", at_most_min=60),
        Link(before="mill", after="cook", at_most_min=30),
        Link(before="mill", after="wash_mill"),
        Link(before="cook", after="mound", at_most_min=0),
        Link(before="mound", after="fill", at_most_min=5),
        Link(before="fill", after="lid", at_most_min=3),
        Link(before="fill", after="wash_pot"),
    )
    given: dict[str, object] = {
        "id": name,
        "product": "butter",
        "jars": 7,
        "process": "pint-10",
        "pots": ("small", "big"),
        "ready_after": "lid",
        "closed_wait_at_most_min": 20,
        "steps": steps,
        "links": links,
    }
    return Batch(**{**given, **changes})  # type: ignore[arg-type]


def placed_load(name: str, lower_min: int, **changes: object) -> PlacedLoad:
    """A load of ten minutes as it lies in a plan: forty from lowering to its end."""
    given: dict[str, object] = {
        "id": name,
        "canner": name.partition("/")[0],
        "process": "half-pint-10",
        "process_min": 10,
        "jars": (("jelly-1", 8),),
        "hot": False,
        "heat_min": lower_min - 30,
        "lower_min": lower_min,
        "lowered_min": lower_min + 4,
        "boil_min": lower_min + 16,
        "done_min": lower_min + 26,
        "lift_min": lower_min + 31,
        "out_min": lower_min + 40,
        "fire_free_min": lower_min + 26,
        "lowered_by": "p1",
        "lifted_by": "p1",
    }
    return PlacedLoad(**{**given, **changes})  # type: ignore[arg-type]


def step(name: str, minutes: int, quarters: int, **more: object) -> Step:
    """A step by its figures."""
    return Step(
        id=name,
        verb=name,
        duration_min=minutes,
        attention_quarters=quarters,
        **more,  # type: ignore[arg-type]
    )


def day(
    *batches: Batch,
    people: int | tuple[Person, ...] = 1,
    big_pots: int = 1,
    **changes: object,
) -> Problem:
    """A day of these batches in a small kitchen."""
    if isinstance(people, int):
        people = tuple(person(f"p{n + 1}") for n in range(people))
    given: dict[str, object] = {
        "starts_at": "08:00",
        "horizon_min": 480,
        "people": people,
        "burners": (
            Burner(id="weak-1", power_w=1000.0),
            Burner(id="weak-2", power_w=1000.0),
            Burner(id="middle-1", power_w=2000.0),
            Burner(id="middle-2", power_w=2000.0),
            Burner(id="strong-1", power_w=3000.0),
        ),
        "pots": (
            *(Pot(id=f"big-{n + 1}", size="big") for n in range(big_pots)),
            Pot(id="small-1", size="small"),
        ),
        "mills": 1,
        "canners": (canner(),),
        "counter": Counter(places=60, cooling_min=1440),
        "processes": (HALF_PINT, PINT, LONG_PINT),
        "batches": batches,
        "wants": (),
    }
    return Problem(**{**given, **changes})  # type: ignore[arg-type]


def full_day() -> Problem:
    """A day in which every rule of the checker has something to judge."""
    people = (
        person(
            "keeper",
            breaks=(Break(duration_min=20, earliest_min=100, latest_start_min=200),),
        ),
        person(
            "helper",
            skills=frozenset({Skill.COLD, Skill.KNIFE}),
            arrives_min=15,
            leaves_min=420,
            away=((60, 75),),
        ),
    )
    return day(
        jelly("jelly-1"),
        jelly("jelly-2"),
        butter("butter-1"),
        people=people,
        counter=Counter(places=23, cooling_min=1440),
        wants=(Want(product="butter", by_min=150, weight=2),),
    )


def work(
    name: str, *steps: Step, links: tuple[Link, ...] = (), **more: object
) -> Batch:
    """Steps that go through no canner."""
    given: dict[str, object] = {
        "id": name,
        "product": name,
        "jars": 0,
        "process": None,
        "pots": (),
        "ready_after": "",
        "closed_wait_at_most_min": 0,
        "steps": steps,
        "links": links,
    }
    return Batch(**{**given, **more})  # type: ignore[arg-type]


def one_fire() -> Problem:
    """Jars to can and a pot to cook on the only fire, the pot not before minute 35."""
    jars = work(
        "a",
        step("lid", 4, 3),
        jars=5,
        process="half-pint-10",
        ready_after="lid",
        closed_wait_at_most_min=60,
    )
    cook = work(
        "b",
        step("cook", 10, 0, burner_w=900.0),
        windows=(Window(step="cook", earliest_min=35),),
    )
    return day(jars, cook, burners=(Burner(id="strong-1", power_w=3000.0),))
