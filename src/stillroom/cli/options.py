"""Options that several commands share, and reading them."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from math import nan
from typing import Any, TypeVar

import click

from stillroom import measures
from stillroom.book.elevation import read_elevation_m as elevation_m
from stillroom.measures.clock import without_hour
from stillroom.methods.today import AirToday, air_today
from stillroom.planning.day_file.dayschema import PRESSURE_HPA
from stillroom.refusal import Fault, Unreadable, given_as, granted

F = TypeVar("F", bound=Callable[..., Any])

MOST_SEARCH_S = 3600.0


class SearchSeconds(click.FloatRange):
    """Seconds for a search: 0, for the plan by hand alone, to an hour."""

    name = "seconds"

    def __init__(self) -> None:
        super().__init__(0.0, MOST_SEARCH_S)

    def _describe_range(self) -> str:
        return f"from 0 to {MOST_SEARCH_S:.0f}"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read them; what is no number, and less than none, is refused."""
        try:
            seconds = float(value)
        except ValueError:
            seconds = nan
        if not 0.0 <= seconds <= MOST_SEARCH_S:  # true for nan
            given = str(value)[:40]
            self.fail(
                f"{given} is no time for a search: give 0 to {MOST_SEARCH_S:.0f}, "
                "such as 8",
                param,
                ctx,
            )
        return seconds


class WholeNumber(click.IntRange):
    """A whole number within bounds, refused in words."""

    name = "number"

    def _describe_range(self) -> str:
        return self._bounds()

    def _bounds(self) -> str:
        """Say the bounds, in the help of an option and where they are refused."""
        to = "on" if self.max is None else f"to {self.max:,}"
        return f"from {self.min or 0:,} {to}"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> int:
        """Read it; what is none, and what is out of its bounds, is refused."""
        try:
            number = int(value)
        except ValueError:
            number = None
        low, high = self.min or 0, self.max
        if number is None or number < low or (high is not None and number > high):
            given = f"{str(value)[:40]!r} is no whole number"
            self.fail(f"{given} {self._bounds()}", param, ctx)
        return number


class Moment(click.DateTime):
    """A day with its hour, refused in words."""

    def __init__(self) -> None:
        super().__init__(["%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M"])

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> Any:
        """Read it; what is none is refused."""
        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            self.fail(
                without_hour(str(value))
                or f"{str(value)[:40]!r} is no day with its hour; write "
                "2026-09-01T15:10",
                param,
                ctx,
            )


def as_json(command: F) -> F:
    """Add ``--json``."""
    return click.option(
        "--json", "json_", is_flag=True, help="Print one JSON object and nothing else."
    )(command)


def elevation(command: F) -> F:
    """Add ``--elevation``."""
    return click.option(
        "--elevation", metavar="HEIGHT", help="Height with its unit: 2150ft or 655m."
    )(command)


def read(option: str, reader: Callable[[str], Any], text: str) -> Any:
    """Read an option's measure; a fault names the option."""
    with given_as(option):
        return reader(text)


def read_elevation_m(text: str) -> float:
    """Read an elevation, within what the tables know."""
    return float(read("--elevation", elevation_m, text))


def read_air_pressure_pa(text: str) -> float:
    """Read a barometer, within what the air of a kitchen can be."""
    pascal = float(read("--pressure", measures.read_pressure_pa, text))
    low, high = PRESSURE_HPA
    if not low <= pascal / 100 <= high:
        raise Unreadable(
            Fault(
                f"{text} is not within {low:,.0f} to {high:,.0f} hPa, what a barometer "
                "reads in a kitchen; give its own reading, not a gauge's",
                key="--pressure",
            )
        )
    return pascal


NO_AIR = "the air is not known: give --elevation, such as 2150ft or 655m"
OR_BAROMETER = ", or --pressure, what a barometer in the kitchen reads: 27.6inHg"


def air_of(elevation: str | None) -> AirToday:
    """Today's air from ``--elevation``, which must be there."""
    if elevation is None:
        raise click.UsageError(NO_AIR)
    return granted(air_today(elevation_m=read_elevation_m(elevation)))


def air_by_barometer(elevation: str | None, pressure: str | None) -> AirToday:
    """Today's air where ``--pressure`` may be given too; one of them must be there."""
    if elevation is None and pressure is None:
        raise click.UsageError(NO_AIR + OR_BAROMETER)
    return granted(
        air_today(
            elevation_m=None if elevation is None else read_elevation_m(elevation),
            pressure_pa=None if pressure is None else read_air_pressure_pa(pressure),
        )
    )


def print_json(body: Mapping[str, Any]) -> None:
    """Print one object and nothing else."""
    click.echo(json.dumps(body, ensure_ascii=False, indent=2))
