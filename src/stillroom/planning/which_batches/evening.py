"""
The evening before: what is set out, thawed and counted, and what stands overnight.

Frozen bags go to the refrigerator in time, jars and lids are counted with those to
spare, and the last look is at the canner of the day before.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping

from stillroom.jar_count import counted, jars_said
from stillroom.methods.jars import to_spare
from stillroom.methods.learned import Share
from stillroom.methods.method import Kept
from stillroom.methods.salted import EVENING_BEFORE
from stillroom.planning.day import Day
from stillroom.planning.dayplan import MadeBatch
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.choices import Fitted
from stillroom.planning.which_batches.out_of_the_freezer import out_of_the_freezer

LAST_DAYS_CANNER = (
    "Was every load processed? Look once at what was last put up: each load had its "
    "time in the canner, and its seals were looked at. Sealed is not processed."
)
"""On every evening list: a load that was forgotten is found by nobody else."""


def evening_before(
    day: Day,
    made: Batched,
    wanted: Mapping[str, dt.datetime] | None = None,
    seals: Share | None = None,
) -> list[str]:
    """
    What is set out, thawed and counted the evening before.

    ``wanted`` has for each lot when the first of it goes into the pot; ``seals`` are
    her own, by which jars and lids are set out to spare.
    """
    # what has hours to stand is begun first
    lines = [*begun_before(made), *out_of_the_freezer(day, made, wanted or {})]
    if not made.batches:
        return lines
    return [*lines, *_to_count_out(made, seals)]


def _to_count_out(made: Batched, seals: Share | None) -> Iterator[str]:
    """Jars, boxes and lids, with those to spare; and a last look at the canner."""
    glass = [
        batch
        for batch in made.batches
        if batch.kept is not Kept.FREEZER and _fills_jars(batch, made)
    ]
    for jar, number in _by_size(glass):
        yield (
            f"Count out {jars_said(number, jar)} and {to_spare(number, seals)} to "
            "spare; look for nicks."
        )
    boxes = [batch for batch in made.batches if batch.kept is Kept.FREEZER]
    for jar, number in _by_size(boxes):
        yield f"Count out {counted(number, f'{jar} freezer box')}; make room to freeze."
    if not glass:  # boxes have neither lids nor hot jars
        return
    sealed = sum(batch.jars for batch in glass if batch.process is not None)
    spare = to_spare(sealed, seals)
    lids = f"{sealed + spare} lids ({sealed} and {spare} to spare), bands"
    yield (
        f"{lids if sealed else 'Lids'}, ladle, funnel, towels or a board for the "
        "hot jars."
    )
    if sealed:
        yield LAST_DAYS_CANNER


def _fills_jars(batch: MadeBatch, made: Batched) -> bool:
    """Whether its jars are filled on the day; a crock's come weeks later."""
    fitted = made.chosen[batch.id].fitted
    needed = fitted.method.materials(fitted.recipe, batch.jar, batch.jars)
    return any(material.name == f"{batch.jar} jars" for material in needed)


def _by_size(batches: Iterable[MadeBatch]) -> Iterable[tuple[str, int]]:
    """Jars of each size, in the order in which the sizes come up."""
    jars: dict[str, int] = {}
    for batch in batches:
        jars[batch.jar] = jars.get(batch.jar, 0) + batch.jars
    return jars.items()


def begun_before(made: Batched) -> dict[str, tuple[str, ...]]:
    """
    What stands overnight, with how much of it there is in all batches together.

    A way of putting up that has such things says so. With each line goes what it is
    said in place of: those of its batches taken alone.
    """
    alike: dict[str, list[Fitted]] = {}
    for batch in made.batches:
        fitted = made.chosen[batch.id].fitted
        alike.setdefault(fitted.recipe.procedure.id, []).append(fitted)
    said: dict[str, tuple[str, ...]] = {}
    for several in alike.values():
        begun = getattr(several[0].method, "evening_before", None)
        if begun is None:
            continue
        recipes = [fitted.recipe for fitted in several]
        alone = tuple(line for recipe in recipes for line in begun(recipe))
        said.update(dict.fromkeys(begun(*recipes), alone))
    in_all = {line for lines in said.values() for line in lines}
    for batch in made.batches:
        for caution in batch.cautions:
            if caution.text.startswith(EVENING_BEFORE) and caution.text not in in_all:
                said.setdefault(caution.text, (caution.text,))
    return said


def who_says_so(made: Batched) -> dict[str, str]:
    """Whose each thing is that stands overnight, as its batches are told it."""
    theirs = {c.text: c.source for b in made.batches for c in b.all_cautions}
    return {
        in_all: theirs[line]
        for in_all, lines in begun_before(made).items()
        for line in lines
        if line in theirs
    }
