"""
The edges: kitchen measures in, SI inside, and kitchen measures out again.

US customary and metric are equal. This file gathers: ``read`` reads any measure,
``read_as`` one of which it is known what it measures, ``write`` writes, ``in_both``
in both systems, ``words`` has the words and their sizes. ``written_in`` tells which
system a person writes in. ``number_words`` knows "a dozen", ``clock`` reads "6 pm".
"""

from stillroom.measures.in_both import apart, both, depth, height
from stillroom.measures.read import EitherComma, Quantity, read_quantity
from stillroom.measures.read_as import (
    read_duration_min,
    read_height_m,
    read_length_m,
    read_mass_kg,
    read_power_w,
    read_pressure_pa,
    read_temperature_k,
    read_volume_m3,
)
from stillroom.measures.words import (
    CUP_M3,
    FOOT_M,
    GALLON_M3,
    INCH_M,
    INCH_OF_MERCURY_PA,
    LITRE_M3,
    OUNCE_KG,
    POUND_KG,
    PSI_PA,
    TABLESPOON_M3,
    TEASPOON_M3,
    Dimension,
)
from stillroom.measures.write import (
    LEAST_IN_A_JUG_M3,
    celsius,
    cups,
    cups_said,
    fahrenheit,
    feet,
    inches,
    kelvin,
    kitchen_mass,
    kitchen_volume,
    minutes_said,
    mixed_number,
)
from stillroom.measures.written_in import writes_metric

__all__ = [
    "CUP_M3",
    "FOOT_M",
    "GALLON_M3",
    "INCH_M",
    "INCH_OF_MERCURY_PA",
    "LEAST_IN_A_JUG_M3",
    "LITRE_M3",
    "OUNCE_KG",
    "POUND_KG",
    "PSI_PA",
    "TABLESPOON_M3",
    "TEASPOON_M3",
    "Dimension",
    "EitherComma",
    "Quantity",
    "apart",
    "both",
    "celsius",
    "cups",
    "cups_said",
    "depth",
    "fahrenheit",
    "feet",
    "height",
    "inches",
    "kelvin",
    "kitchen_mass",
    "kitchen_volume",
    "minutes_said",
    "mixed_number",
    "read_duration_min",
    "read_height_m",
    "read_length_m",
    "read_mass_kg",
    "read_power_w",
    "read_pressure_pa",
    "read_quantity",
    "read_temperature_k",
    "read_volume_m3",
    "writes_metric",
]
