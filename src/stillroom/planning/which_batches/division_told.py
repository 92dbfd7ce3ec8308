"""What is said of a product whose jars may be divided into pots in several ways."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stillroom.planning.dayplan import Divided
from stillroom.planning.which_batches.batches import Batched
from stillroom.planning.which_batches.day_divided import Trials, Way
from stillroom.planning.which_batches.divisions import Division


def divisions_told(
    made: Batched,
    ways: Mapping[str, Sequence[Division]],
    trials: Trials,
    best: Way,
    *,
    searched: bool,
) -> list[Divided]:
    """What to say of each product whose jars may be divided in more than one way."""
    said = []
    plain = trials.plain
    for group in made.groups:
        of_group = ways.get(group.name, ())
        if len(of_group) < 2:
            continue
        other = best if group.name in best.sizes else None
        if other is None:
            near = [w for w in trials.others if w.plan and group.name in w.sizes]
            other = min(near, key=lambda way: way.worth, default=None)
        why = next(
            (
                division.why
                for division in of_group
                if other is not None and division.sizes == other.sizes.get(group.name)
            ),
            "",
        )
        said.append(
            Divided(
                product=group.chosen.product,
                jar=group.chosen.fitted.jar,
                plain=of_group[0].sizes,
                other=None if other is None else other.sizes[group.name],
                taken=group.name in best.sizes,
                why=why,
                plain_ends_min=_ends(plain),
                other_ends_min=None if other is None else _ends(other),
                plain_loads=0 if plain.plan is None else len(plain.plan.loads),
                other_loads=0
                if other is None or other.plan is None
                else len(other.plan.loads),
                searched=searched,
                ways=len(of_group),
                one_is=getattr(group.chosen.fitted.method, "ONE_IS", ""),
                in_pots=group.chosen.fitted.checked.pot_needed_m3 > 0.0,
                canned=group.chosen.process is not None,
            )
        )
    return said


def _ends(way: Way) -> int | None:
    return None if way.plan is None else way.plan.finish_min
