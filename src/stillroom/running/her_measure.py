"""What went into a lot in the measure that the keeper writes her kitchen in. Pure."""

from __future__ import annotations

from stillroom.methods.portions import volume_words
from stillroom.planning.day_file.dayfile import read_day
from stillroom.planning.which_batches.shelf import mass_words
from stillroom.refusal import Unreadable
from stillroom.stock.amounts import Measure, Unit
from stillroom.stock.commands import Need
from stillroom.stock.drawing import needed_words


def is_metric(day_text: str) -> bool:
    """Whether a day's kitchen is written in litres; of a text that is no day, not."""
    try:
        return bool(day_text.strip()) and read_day(day_text).kitchen.metric
    except Unreadable:
        return False


def needed(need: Need, *, metric: bool) -> str:
    """
    Say what a lot took that the stock does not have.

    >>> vinegar = Need(name="vinegar 5%", unit=Unit.UL, number=1_419_529)
    >>> needed(vinegar, metric=True), needed(vinegar, metric=False)
    ('1.42 L (6 cups) of vinegar 5%', '6 cups of vinegar 5%')
    """
    if metric and need.unit is not Unit.PIECES:
        return f"{_bulk(need.unit, need.number)} of {need.name}"
    return needed_words(need)


def drawn(measure: Measure, number: int, what: str, *, metric: bool) -> str:
    """
    Say what is drawn of a lot; of one that comes in parts as the lot has them.

    >>> drawn(Measure(unit=Unit.MG), 3_628_739, "cucumbers", metric=True)
    '3.63 kg (8 lb) of cucumbers'
    """
    if metric and measure.unit is not Unit.PIECES and not measure.each:
        return f"{_bulk(measure.unit, number)} of {what}"
    return measure.of(number, what)


def _bulk(unit: Unit, number: int) -> str:
    """So many milligrams or microlitres, metric first."""
    if unit is Unit.MG:
        return mass_words(number / 1e6, metric=True)
    return volume_words(number / 1e9, metric=True)
