"""One batch of anything, made at an invented stove, and what must hold of its steps."""

from __future__ import annotations

from stillroom.book.procedures import Procedure
from stillroom.book.processes import process_for
from stillroom.methods.by_name import METHODS
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.method import Filling, Kept, Method, Recipe, Station, Work
from stillroom.methods.recipes import own_pack, process_name, recipe_named
from stillroom.methods.today import air_today
from stillroom.planning.network import network_of
from stillroom.planning.problem import Batch
from stillroom.refusal import granted


def station(
    pot_l: float = 15.0,
    burner_w: float = 3500.0,
    efficiency: float = 0.40,
    elevation_m: float = 655.0,
    material: str = "stainless",
) -> Station:
    """An invented gas stove at 2,150 ft."""
    return Station(
        pot=Pot(name="big pot", volume_m3=pot_l / 1000, material=material),
        burner=Burner(name="front", power_w=burner_w),
        heat=Heat.GAS,
        efficiency=efficiency,
        air=granted(air_today(elevation_m=elevation_m)),
    )


def recipe_of(product: str, multiple: int = 1, jar: str = "pint") -> Recipe:
    """The recipe of a product by its name, so many times."""
    procedure = granted(recipe_named(product, jar=jar))
    return granted(method_of(procedure).scale(procedure, multiple))


def method_of(procedure: Procedure) -> Method:
    """The way that a recipe is put up."""
    return METHODS[procedure.method]


def filling_of(recipe: Recipe, jar: str, jars: int, pack: str | None = None) -> Filling:
    """Jars of a batch with their published process at 2,150 ft, where they get one."""
    procedure = recipe.procedure
    process = None
    if method_of(procedure).KEPT is Kept.SHELF:
        process = granted(
            process_for(
                process_name(procedure),
                jar=jar,
                elevation_ft=2150,
                pack=pack or method_of(procedure).PACK or own_pack(procedure),
            )
        )
    return Filling(jar=jar, jars=jars, process=process)


def work_of(
    recipe: Recipe,
    jar: str = "pint",
    jars: int = 4,
    *,
    at: Station | None = None,
    pack: str | None = None,
) -> Work:
    """The steps of one batch, sound as the planner asks for them."""
    filling = filling_of(recipe, jar, jars, pack)
    work = granted(method_of(recipe.procedure).steps(recipe, at or station(), filling))
    sound(work)
    return work


def sound(work: Work) -> None:
    """Every link names steps that are there, nothing goes in a circle."""
    ids = [step.id for step in work.steps]
    assert len(ids) == len(set(ids))
    assert work.ready_after in ids
    for link in work.links:
        assert {link.before, link.after} <= set(ids), link
    for step in work.steps:
        assert step.duration_min >= 1
        assert step.verb
        assert step.basis
        assert 0 <= step.attention_quarters <= 4
    network_of(
        Batch(
            id="batch",
            product="product",
            jars=1,
            process=None,
            pots=(),
            ready_after=work.ready_after,
            closed_wait_at_most_min=0,
            steps=work.steps,
            links=work.links,
        )
    )


def ids_of(work: Work) -> list[str]:
    """The steps by name, in order."""
    return [step.id for step in work.steps]


def step_of(work: Work, id_: str):
    """One step by its name."""
    return next(step for step in work.steps if step.id == id_)
