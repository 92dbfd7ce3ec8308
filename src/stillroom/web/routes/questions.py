"""Before the pot is on: fruit to juice, and what there is to whole batches."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from stillroom.book.elevation import read_elevation_m
from stillroom.book.procedures import answered_procedures, procedure_for
from stillroom.book.processes import Process
from stillroom.measures import (
    read_mass_kg,
    read_volume_m3,
    writes_metric,
)
from stillroom.methods.getting_juice import JuiceAsked, juice_asked
from stillroom.methods.kitchen import Heat, Kitchen
from stillroom.methods.portions import quantity_words, weighs_beside
from stillroom.methods.today import air_today
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.which_batches.batch_words import (
    at_the_pot,
    burner_as_typed,
    cautions_of,
    gap_words,
    heat_words,
    how_many,
    kept_words,
    lot_as_typed,
    no_elevation,
    of_one_batch,
    outlook_words,
    pot_as_typed,
    process_words,
    spoon_words,
    teaspoon_as_typed,
    until_words,
)
from stillroom.planning.which_batches.juice_words import (
    NEVER_TRIMMED,
    juice_for,
    more_words,
    short_words,
)
from stillroom.planning.which_batches.one_batch import (
    OneBatch,
    one_batch,
    small_kitchen,
)
from stillroom.refusal import Caution, Refusal, Unreadable
from stillroom.web.asking import (
    SIZES,
    Faults,
    one_of,
    question_page,
    typed,
    whole,
)
from stillroom.web.routes.book import kitchen_elevation
from stillroom.web.shop import Shop

SEA_LEVEL_M = 0.0
COMMON_BURNER = "2.5 kW"
"""What a burner is taken for where none is named, as at the terminal."""
HEATS = tuple(heat.value for heat in Heat)


def juice_page(request: Request) -> Response:
    """Say how much fruit a measure of juice takes, and what to do with too little."""
    asked = typed(request, "fruit", "need", "product", "pressed", "got")
    faults = Faults()
    answer: JuiceAsked | Refusal | None = None
    if any(asked.values()):
        answer = _juice(asked, faults)
    said: tuple[str, ...] = ()
    if isinstance(answer, JuiceAsked):
        said = tuple(w for w in (short_words(answer), more_words(answer)) if w)
    return question_page(
        request,
        "juice.html",
        answer,
        faults,
        asked=asked,
        said=said,
        never=NEVER_TRIMMED,
        products=sorted(
            {p.name for p in answered_procedures() if "juice" in p.base.name}
        ),
    )


def _juice(asked: dict[str, str], faults: Faults) -> JuiceAsked | Refusal | None:
    faults.needs("fruit", asked["fruit"], "name the fruit, such as red currants")
    if asked["need"] and asked["product"]:
        faults.found["product"] = (
            "give what the recipe asks for or a product of the book, one of the two"
        )
    elif not asked["product"]:
        words = "give what the recipe asks for, such as 6 1/2 cups, or a product"
        faults.needs("need", asked["need"], words)
    if asked["pressed"] and not asked["got"]:
        faults.found["got"] = "say what juice that fruit gave, or leave its weight out"
    need, pressed, got = (
        faults.read(name, asked[name], reader) if asked[name] else None
        for name, reader in (
            ("need", read_volume_m3),
            ("pressed", read_mass_kg),
            ("got", read_volume_m3),
        )
    )
    if faults.found:
        return None
    recipe = None
    if need is None:
        need = juice_for(asked["product"], fruit=asked["fruit"])
        recipe = procedure_for(asked["product"])
    if isinstance(need, Refusal):
        return need
    return juice_asked(
        asked["fruit"],
        need_m3=need,
        fruit_kg=pressed,
        got_m3=got,
        recipe=None if isinstance(recipe, Refusal) else recipe,
        metric=writes_metric(asked["need"], asked["pressed"], asked["got"]),
    )


def batch_page(request: Request) -> Response:
    """Say how many whole batches there are, and whether the pot holds one."""
    asked = typed(
        request,
        *("product", "have", "pot", "burner", "stove", "multiple", "jar"),
        *("teaspoon", "elevation"),
    )
    sent = any(asked.values())
    kitchen = _kitchen(request)
    asked["elevation"] = asked["elevation"] or kitchen_elevation(request)
    asked["stove"] = asked["stove"] or (kitchen.heat if kitchen else Heat.GAS).value
    asked["burner"] = asked["burner"] or COMMON_BURNER
    asked["multiple"] = asked["multiple"] or "1"
    asked["jar"] = asked["jar"] or "half-pint"
    faults = Faults()
    spoon_kg = None
    if asked["teaspoon"]:
        spoon_kg = faults.read(
            "teaspoon", asked["teaspoon"], lambda text: teaspoon_as_typed(text, key="")
        )
    answer = _batch(asked, faults) if sent else None
    made = answer if isinstance(answer, OneBatch) else None
    return question_page(
        request,
        "one_batch.html",
        answer,
        faults,
        asked=asked,
        words=_batch_words(made, spoon_kg) if made else {},
        process=made.process if made and isinstance(made.process, Process) else None,
        parts=_parts(made) if made else (),
        steps=at_the_pot(made) if made else (),
        cautions=_cautions(made, asked) if made else (),
        none=made.process if made and isinstance(made.process, Refusal) else None,
        pots=tuple(f"{pot.volume_m3 * 1000:.3g} L" for pot in kitchen.pots)
        if kitchen
        else (),
        burners=tuple(f"{burner.power_w:g} W" for burner in kitchen.burners)
        if kitchen
        else (),
        products=sorted({p.name for p in answered_procedures()}),
        sizes=SIZES,
        heats=HEATS,
    )


def _batch(asked: dict[str, str], faults: Faults) -> OneBatch | Refusal | None:
    lot = faults.read("have", asked["have"], lambda text: lot_as_typed(text, key=""))
    pot = faults.read("pot", asked["pot"], lambda text: pot_as_typed(text, key=""))
    burner = faults.read(
        "burner", asked["burner"], lambda text: burner_as_typed(text, key="")
    )
    heat = faults.read("stove", asked["stove"], one_of(*HEATS))
    multiple = faults.read("multiple", asked["multiple"], whole)
    height_m = SEA_LEVEL_M
    if asked["elevation"]:
        height_m = faults.read("elevation", asked["elevation"], read_elevation_m)
    faults.needs("product", asked["product"], "name what it becomes: plum jelly")
    faults.needs("have", asked["have"], "say what you have, such as 6 bags of 5 cups")
    faults.needs("pot", asked["pot"], "say what the pot holds to its brim: 12 qt, 11 L")
    if faults.found:
        return None
    air = air_today(elevation_m=height_m)
    if isinstance(air, Refusal):
        return air
    metric = writes_metric(asked["have"])
    return one_batch(
        asked["product"],
        lot,
        small_kitchen(pot, burner, Heat(heat), air, metric=metric),
        air,
        multiple=multiple,
        jar=asked["jar"],
        with_process=bool(asked["elevation"]),
    )


def _batch_words(made: OneBatch, spoon_kg: float | None) -> dict[str, str]:
    """Return the sentences that the terminal says too."""
    return {
        "title": made.fitted.recipe.procedure.title,
        "how_many": how_many(made),
        "taken": made.taken,
        "of_one": of_one_batch(made),
        "until": until_words(made.fitted.recipe.procedure),
        "heat": heat_words(made),
        "gap": gap_words(made),
        "spoons": "" if spoon_kg is None else spoon_words(made, spoon_kg),
        "outlook": outlook_words(made),
        "process": process_words(made.process)
        if isinstance(made.process, Process)
        else "",
        "kept": "" if made.process else kept_words(made),
    }


def _parts(made: OneBatch) -> list[tuple[str, str, str]]:
    """Measure, mass and name of each part; a unit stays beside its number."""
    rows = []
    for part in made.fitted.recipe.parts:
        name = part.name + (f", {part.prep}" if part.prep else "")
        rows.append((_kept(quantity_words(part)), _kept(weighs_beside(part)), name))
    return rows


def _kept(measure: str) -> str:
    return measure.replace(" ", "\N{NO-BREAK SPACE}")


def _cautions(made: OneBatch, asked: dict[str, str]) -> tuple[Caution, ...]:
    unknown = no_elevation("fill in the height of the kitchen")
    given = cautions_of(made)
    return given if asked["elevation"] else (*given, unknown)


def _kitchen(request: Request) -> Kitchen | None:
    """Her own kitchen, whose pots and fires are offered; none where none is saved."""
    shop: Shop = request.app.state.shop
    text = shop.day_text()
    if not text.strip():
        return None
    try:
        return read_day(text).kitchen
    except Unreadable:
        return None


ROUTES = [
    Route("/book/juice", juice_page),
    Route("/book/batch", batch_page),
]
