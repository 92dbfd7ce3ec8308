"""Invented kitchens and days that tests plan for."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stillroom.methods.kitchen import Burner, Canner, CannerKind, Heat, Kitchen, Pot
from stillroom.methods.step import Skill
from stillroom.planning.day import Day, Helper, Lot, Want

CUP = 2.365882365e-4
ALL_SKILLS = frozenset(Skill)


def kitchen(**changes: object) -> Kitchen:
    """Two strong burners, one pot of 12 qt and one of 8 qt, one canner."""
    plain = Kitchen(
        name="test kitchen",
        elevation_m=655.0,
        pressure_pa=None,
        heat=Heat.GAS,
        burners=(
            Burner(name="front left", power_w=3500.0),
            Burner(name="front right", power_w=3000.0),
            Burner(name="back left", power_w=1800.0),
        ),
        pots=(
            Pot(name="big pot", volume_m3=0.01136),
            Pot(name="small pot", volume_m3=0.00757),
        ),
        canners=(
            Canner(
                name="canner",
                kind=CannerKind.BOILING_WATER,
                stands_on=("front right",),
                places={"half-pint": 9, "pint": 9, "quart": 7},
            ),
        ),
        mills=1,
        counter_places=80,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def juice(
    what: str = "plum juice",
    bags: int = 3,
    bag_cups: float = 5.0,
    use_by: dt.date | None = None,
) -> Lot:
    """Frozen juice in bags."""
    return Lot(
        name=f"frozen {what}",
        what=what,
        volume_m3=bags * bag_cups * CUP,
        bags=bags,
        bag_m3=bag_cups * CUP,
        frozen=True,
        use_by=use_by,
    )


def stores(
    sugar_kg: float = 20.0, boxes: int = 12, jars: int = 60, lids: int = 80
) -> tuple[Lot, ...]:
    """Sugar, pectin, half-pint jars and lids."""
    return (
        Lot(name="sugar", what="sugar", mass_kg=sugar_kg),
        Lot(name="pectin", what="regular powdered pectin", count=boxes),
        Lot(name="half-pints", what="half-pint jars", count=jars),
        Lot(name="pints", what="pint jars", count=jars),
        Lot(name="lids", what="lids", count=lids),
        Lot(name="orange juice", what="orange juice", volume_m3=4 * CUP),
    )


def person(name: str = "Ada", **changes: object) -> Helper:
    """Someone who can do everything, all day."""
    plain = Helper(name=name, comes=dt.time(8), goes=dt.time(20), can=ALL_SKILLS)
    return replace(plain, **changes)  # type: ignore[arg-type]


def day(*wants: Want, shelf: tuple[Lot, ...] | None = None, **changes: object) -> Day:
    """A day from eight to eight with one person."""
    plain = Day(
        name="test day",
        date=dt.date(2026, 8, 22),
        starts=dt.time(8),
        ends=dt.time(20),
        kitchen=kitchen(),
        people=(person(),),
        shelf=(juice(), *stores()) if shelf is None else shelf,
        wants=wants or (Want(product="plum jelly", jars=16, jar="half-pint"),),
        invented=True,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]
