"""
What a keeper can be asked before something is explained, and how it is read.

The fields are the same for the command line and the pages: a name, words, a reader
with its range in the keeper's own units, and what is taken where nothing is said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from stillroom import measures
from stillroom.book.elevation import read_elevation_m
from stillroom.measures import both
from stillroom.refusal import Fault, Unreadable, given_as
from stillroom.science.jar import SIZES_M


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One thing to ask."""

    name: str
    label: str
    read: Callable[[str], Any]
    default: str = ""
    """As it is typed; empty where nothing is taken for granted."""
    example: str = ""
    choices: tuple[str, ...] = ()

    @property
    def option(self) -> str:
        """Its option on the command line."""
        return f"--{self.name.replace('_', '-')}"


def _number(unit: str, low: float, high: float) -> Callable[[str], float]:
    """Reader of a plain number, its unit understood, with or without being typed."""

    def read(text: str) -> float:
        plain = text.strip()
        for word in unit.split("|"):
            plain = plain.removesuffix(word).strip()
        said = unit.split("|")[0]
        try:
            number = float(plain)
        except ValueError:
            raise Unreadable(
                f"cannot read {text[:40]!r}: give a number {said}".rstrip()
                + f", {low:g} to {high:g}"
            ) from None
        if not low <= number <= high:
            raise Unreadable(
                f"{text[:40]} is outside {low:g} to {high:g} {said}".rstrip()
            )
        return number

    return read


def _measure(
    read: Callable[[str], float], low: float, high: float, said: str
) -> Callable[[str], float]:
    """Reader of a measure with its unit, held to a range that is said in words."""

    def within(text: str) -> float:
        value = float(read(text))
        if not low * (1 - 1e-9) <= value <= high * (1 + 1e-9):
            raise Unreadable(f"{text[:40]} is outside {said}")
        return value

    return within


def _temperature(low_c: float, high_c: float) -> Callable[[str], float]:
    low, high = low_c + 273.15, high_c + 273.15
    said = f"{both(low, 0)} to {both(high, 0)}"
    return _measure(measures.read_temperature_k, low, high, said)


def _duration(low_min: float, high_min: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        plain = text.strip().removesuffix("min").strip()
        try:
            minutes = float(plain)
        except ValueError:
            minutes = float(measures.read_duration_min(text))
        if not low_min <= minutes <= high_min:
            raise Unreadable(f"{text[:40]} is outside {low_min:g} to {high_min:g} min")
        return minutes

    return read


def _choice(*choices: str) -> Callable[[str], str]:
    def read(text: str) -> str:
        plain = text.strip().casefold()
        if plain not in choices:
            raise Unreadable(
                f"{text[:40]!r} is not known here; give one of {', '.join(choices)}"
            )
        return plain

    return read


def _words(text: str) -> str:
    return text.strip()[:80]


def _chosen(name: str, label: str, choices: tuple[str, ...], default: str) -> Field:
    return Field(
        name=name,
        label=label,
        read=_choice(*choices),
        default=default,
        choices=choices,
        example=default,
    )


JARS = tuple(SIZES_M)
_KG, _M3, _K = measures.read_mass_kg, measures.read_volume_m3, _temperature
_AIR = _measure(
    measures.read_pressure_pa, 60_000.0, 110_000.0, "600 to 1,100 hPa, air on earth"
)


def _field(
    name: str,
    label: str,
    read: Callable[[str], Any],
    default: str = "",
    example: str = "",
) -> Field:
    return Field(
        name=name, label=label, read=read, default=default, example=example or default
    )


FIELDS: Mapping[str, Field] = {
    field.name: field
    for field in (
        _field(
            "elevation", "Height of the kitchen above the sea", read_elevation_m, "0 ft"
        ),
        _field("pressure", "Barometer in the kitchen", _AIR, "", "27.6 inHg"),
        _field("forecast", "Pressure that the forecast gives", _AIR, "", "1019 hPa"),
        _field(
            "boils", "Water boils at, trusted thermometer", _K(80, 105), "", "208.5 F"
        ),
        _chosen("jar", "Jar", JARS, "pint"),
        _field("product", "What is in the jars", _words, "", "plum butter"),
        _field(
            "burner",
            "Power of the burner",
            _measure(measures.read_power_w, 300.0, 20_000.0, "0.3 to 20 kW"),
            "2.5 kW",
        ),
        _chosen("stove", "Stove", ("gas", "coil", "glass-top", "induction"), "gas"),
        _field(
            "base",
            "Juice or fruit in the pot",
            _measure(_KG, 0.1, 15.0, "0.1 to 15 kg"),
            "3 lb",
        ),
        _field(
            "sugar",
            "Sugar that goes in",
            _measure(_KG, 0.05, 15.0, "0.05 to 15 kg"),
            "3 lb",
        ),
        _field(
            "pot", "Weight of the empty pot", _measure(_KG, 0, 20, "0 to 20 kg"), "4 lb"
        ),
        _field(
            "test_water",
            "Water test: water",
            _measure(_KG, 0.2, 20, "0.2 to 20 kg"),
            "",
            "2 kg",
        ),
        _field("test_from", "Water test: from", _K(1, 60), "", "60 F"),
        _field("test_to", "Water test: to", _K(40, 99), "", "200 F"),
        _field("test_min", "Water test: took", _duration(0.5, 300), "", "9 min"),
        _field("ph", "pH of the cooled mix", _number("pH", 2.6, 4.0), "3.1"),
        _field("solids", "Soluble solids", _number("%|°Brix|Brix", 30, 80), "65 %"),
        _field("boil", "The boil takes", _duration(1, 120), "15 min"),
        _field("store", "Coldest of the store", _K(0, 40), "50 F"),
        _field("pectin", "Degree of esterification", _number("%", 50, 85), "62 %"),
        _field("filled", "The filling goes in at", _K(50, 105), "185 F"),
        _field("empty", "The empty jar has", _K(0, 100), "180 F"),
        _field("room", "Room", _K(5, 35), "68 F"),
        _field(
            "contents",
            "Filling in the jar",
            _measure(_M3, 5e-5, 0.002, "50 mL to 2 L"),
            "450 mL",
        ),
        _field(
            "headspace", "Headspace", _measure(_M3, 2e-6, 2e-4, "2 to 200 mL"), "25 mL"
        ),
        _field("jars", "Jars in the load", _number("jars", 1, 40), "7"),
        _field(
            "water",
            "Water in the canner",
            _measure(_M3, 0.002, 0.05, "2 to 50 L"),
            "9 L",
        ),
        _field("water_at", "Water as the first load goes in", _K(5, 98), "180 F"),
        _field("jars_at", "Jars as they go in", _K(1, 98), "180 F"),
        _field("wait", "Minutes to the next load", _duration(0, 600), "15 min"),
        _field(
            "thick",
            "Thickness of a packet",
            _measure(measures.read_length_m, 0.005, 0.3, "0.5 to 30 cm"),
            "2 in",
        ),
        _field("moisture", "Water in the food", _number("%", 30, 95), "85 %"),
        _field(
            "freezer",
            "Freezer holds",
            _measure(_M3, 0.02, 3.0, "20 to 3,000 L"),
            "283 L",
        ),
        _field("freezes_at", "Freezer stands at", _K(-40, -8), "0 F"),
        _field(
            "fresh",
            "Prepared, on the trays",
            _measure(_KG, 0.05, 200, "0.05 to 200 kg"),
            "10 lb",
        ),
        _field("dry_water", "Water left when dry", _number("%", 2, 40), "20 %"),
        _field(
            "vegetables", "Vegetables", _measure(_KG, 0.05, 50, "0.05 to 50 kg"), "2 lb"
        ),
        _field("vinegar", "Vinegar", _measure(_M3, 0, 0.05, "0 to 50 L"), "2 cups"),
        _field(
            "water_in",
            "Water in the brine",
            _measure(_M3, 0, 0.05, "0 to 50 L"),
            "2 cups",
        ),
        _field("salt", "Salt", _measure(_KG, 0, 5, "0 to 5 kg"), "30 g"),
        _field("strength", "Acidity of the vinegar", _number("%", 3, 10), "5 %"),
        _field("puree_ph", "pH as it is", _number("pH", 2.6, 6.0), "4.4"),
        _field("acidity", "Titratable acidity, g/L", _number("g/L", 0.5, 60), "3 g/L"),
        _chosen(
            "main_acid", "Its main acid", ("citric", "malic", "tartaric"), "citric"
        ),
        _chosen(
            "acidifier",
            "Acid to add",
            ("citric acid", "lemon juice", "vinegar 5 %"),
            "citric acid",
        ),
        _field("target", "pH to come to", _number("pH", 2.8, 4.6), "4.1"),
        _field("base_ml", "Titration: base used, mL", _number("mL", 0, 1000), "", "12"),
        _field(
            "base_strength", "Titration: base, mol/L", _number("mol/L", 0.01, 2), "0.1"
        ),
        _field("sample_ml", "Titration: sample, mL", _number("mL", 0.1, 1000), "10"),
        _field(
            "reading",
            "Refractometer shows",
            _number("%|°Brix|Brix", 10, 70),
            "65 °Brix",
        ),
        _field("at", "Drop and prism have", _K(10, 20), "68 F"),
        _chosen("compensates", "Corrects for temperature itself", ("no", "yes"), "no"),
        _field("dies_in", "D: nine of ten die in", _duration(0.001, 1000), "1.5 min"),
        _field("at_heat", "D is stated at", _K(50, 145), "200 F"),
        _field("pack", "Pack", _words, "", "hot"),
        _field("ice", "Your thermometer in ice", _K(-10, 10), "", "32.5 F"),
        _field(
            "probe_boils",
            "Your thermometer in boiling water",
            _K(70, 115),
            "",
            "208.5 F",
        ),
        _field(
            "psi", "Gauge of a pressure canner, psi", _number("psi", 5, 16), "", "11"
        ),
        _field("z", "z: apart for ten times the rate", _number("°F|F", 6, 50), "16 °F"),
    )
}
"""Every field by its name."""


@dataclass(frozen=True, slots=True)
class Given:
    """What was typed, and what is taken where it was not."""

    typed: Mapping[str, str]
    asks: tuple[str, ...]

    def has(self, name: str) -> bool:
        """Whether the keeper gave it."""
        return bool(self.typed.get(name, "").strip())

    def __getitem__(self, name: str) -> Any:
        """Read a field; a fault names it."""
        field = FIELDS[name]
        text = self.typed.get(name, "").strip() or field.default
        with given_as(field.option):
            return field.read(text)

    def check(self) -> None:
        """Read all that was typed, and say all that is wrong with it at once."""
        faults: list[Fault] = []
        for name in self.asks:
            if self.has(name):
                try:
                    self[name]
                except Unreadable as fault:
                    faults += fault.faults
        if faults:
            raise Unreadable(*faults)


def fields_of(names: Iterable[str]) -> tuple[Field, ...]:
    """Return the fields of these names."""
    return tuple(FIELDS[name] for name in names)
