"""Our own figures, worked out the way each published row asks for them."""

from __future__ import annotations

import math
import re

import numpy as np

from stillroom.book.freezing_packs import freezer_load_rule_kg_m3
from stillroom.science import (
    acid,
    air,
    boiling,
    canner,
    cold,
    cylinder,
    headspace,
    lethality,
    modes,
    pickle,
    puree,
    refractometer,
    solutions,
    sugars,
    thermometer,
    water,
)

PSI_PA, FOOT_M, ZERO_K = 6894.757293168, 0.3048, 273.15
ATM = 101_325.0
Row = dict[str, str]


def numbers(text: str) -> list[float]:
    """Numbers in a cell, in their order."""
    return [float(n) for n in re.findall(r"(?<![\w.])[-+]?\d[\d.]*(?:e-?\d+)?", text)]


def suffix(row: Row) -> float:
    """The number that an id ends in."""
    return float(re.split(r"_(?=[-\d])", row["id"])[-1].removesuffix("ft"))


def inputs(row: Row) -> list[float]:
    """Numbers in the inputs of a row; names of the quantities left out."""
    return numbers(re.sub(r"[A-Za-z]+\s*=", " ", row["inputs"]))


# --- air and water


def our_metres(row: Row) -> float:
    z = float(re.findall(r"Z=(-?[\d.]+)", row["inputs"])[0])
    return z if row["inputs"].endswith(" m") else z * FOOT_M


def our_gauge_boils(gauge_psi: float, pressure_pa: float) -> float:
    return water.boiling_point_k(
        air.gauge_to_absolute_pa(gauge_psi * PSI_PA, pressure_pa)
    )


def our_canner_steam(row: Row) -> float:
    gauge = float(re.findall(r"gauge=([\d.]+)", row["inputs"])[0])
    feet = float(re.findall(r"Z=(\d+)", row["inputs"])[0])
    return our_gauge_boils(gauge, air.pressure_pa(feet * FOOT_M)) - ZERO_K


# --- syrup


def our_percent(row: Row) -> float:
    return float(re.findall(r"w=([\d.]+)", row["inputs"])[0]) / 100.0


def our_solution(row: Row, solute: str) -> float:
    return solutions.density_at_20_c_kg_m3(solute, our_percent(row))


def our_rise_at(row: Row) -> float:
    metres = float(re.findall(r"Z=(\d+)", row["inputs"])[0])
    return boiling.boiling_point_rise_k(0.65, air.pressure_pa(metres))


def our_norrish_rise(row: Row) -> float:
    w = suffix(row) / 100.0
    return water.boiling_point_k(
        ATM / boiling.water_activity_in_jar(w)
    ) - water.boiling_point_k(ATM)


def our_extra_rise(row: Row) -> float:
    share = suffix(row) / 100.0
    return boiling.boiling_point_rise_k(
        0.65, ATM, share
    ) - boiling.boiling_point_rise_k(0.65, ATM)


def our_inversion_energy(row: Row) -> float:
    low, high = 350.0, 380.0
    rates = [sugars.inversion_rate_per_s(3.1, kelvin) for kelvin in (low, high)]
    return 8.314462618e-3 * math.log(rates[1] / rates[0]) / (1.0 / low - 1.0 / high)


def our_per_100_g(row: Row) -> float:
    w = sugars.solubility(inputs(row)[0] + ZERO_K)
    return 100.0 * w / (1.0 - w)


def our_temperature_correction(row: Row) -> float:
    celsius, reading = inputs(row)
    right = refractometer.corrected_solids(
        reading / 100.0, celsius + ZERO_K, compensates=False
    )
    return 100.0 * right - reading


# --- kettle


def our_batch() -> tuple[float, float]:
    mix = 0.9904 + 0.600
    return mix, (0.9904 * 0.12 + 0.600) / mix


def our_canner_sim(row: Row) -> tuple[float, float]:
    size, count, jar_c, water_c, net_w = {
        "0": ("quart", 7, 82, 82, 1500),
        "1": ("quart", 7, 82, 82, 2200),
        "2": ("quart", 7, 24, 60, 1500),
        "3": ("pint", 9, 82, 82, 2200),
    }[row["id"][-1]]
    # Steel pot and rack of 4 kg; a quart jar's glass is 0.45 kg, a pint's 0.30 kg.
    metal = 4.0 * 500.0 + count * (0.45 if size == "quart" else 0.30) * 840.0
    pot = canner.Canner(
        water_kg=9.0, net_w=net_w, loss_w_per_k=5.0, metal_j_per_k=metal
    )
    ups = [
        canner.come_up(
            pot,
            PINT if size == "pint" else QUART,
            count,
            water_k=water_c + ZERO_K,
            jar_k=jar_c + ZERO_K,
            boils_k=373.124,
            well_mixed=mixed,
        )
        for mixed in (False, True)
    ]
    return tuple((up.full_boil_s or math.nan) / 60.0 for up in ups)  # type: ignore[return-value]


# --- jar

_SURFACES = {
    "diffusivity_m2_s": 1.4e-7,
    "conductivity_w_per_m_k": 0.5,
    "side_w_m2_k": 1.0 / (1.0 / 1500.0 + 0.003),
    "bottom_w_m2_k": 1.0 / (1.0 / 1500.0 + 0.004),
    "top_w_m2_k": 20.0,
}
HALF_PINT = cylinder.Cylinder(radius_m=0.032, height_m=0.075, **_SURFACES)
PINT = cylinder.Cylinder(radius_m=0.038, height_m=0.105, **_SURFACES)
QUART = cylinder.Cylinder(radius_m=0.045, height_m=0.145, **_SURFACES)
JARS = {"half-pint": HALF_PINT, "pint": PINT, "quart": QUART}
DAY_S = np.array([0.0, 15.0, 40.0, 45.0, 100.0]) * 60.0
DAY_K = np.array([60.0, 100.0, 100.0, 40.0, 25.0]) + ZERO_K


def our_slab(biot: float) -> tuple[float, float]:
    """First root and coefficient of a plane wall, Bi on the half thickness."""
    half = 0.05
    rows_ = np.array([[0.038], [2 * half], [1.4e-7], [0.5], [100.0], [0.0], [0.0]])
    rows_[5] = rows_[6] = biot * 0.5 / half
    axial = modes.Axial(rows_, 1)
    b = axial.root[0, 0]
    middle = math.cos(b / 2) + axial.bottom[0, 0] / b * math.sin(b / 2)
    return b / 2, axial.coefficient[0, 0] * middle


def our_long_cylinder(biot: float) -> tuple[float, float]:
    rows_ = np.array(
        [[0.038], [0.1], [1.4e-7], [0.5], [biot * 0.5 / 0.038], [1.0], [1.0]]
    )
    radial = modes.Radial(rows_, 1)
    return radial.root[0, 0], radial.coefficient[0, 0]


def our_steak_s(row: Row) -> float:
    lam, coefficient = our_slab(0.2)
    left = (2.0 + 11.0) / (25.0 + 11.0)
    fourier = math.log(coefficient * math.cos(lam) / left) / lam**2
    return fourier * 0.01**2 / 0.91e-7


def our_step(row: Row) -> float:
    end = suffix(row) * 60.0
    (centre,) = cylinder.history_k(PINT, [0, 3600], [373.15] * 2, 343.15, [end])
    return centre - ZERO_K


def our_profile(row: Row) -> float:
    (centre,) = cylinder.history_k(PINT, DAY_S, DAY_K, 333.15, [suffix(row) * 60.0])
    return centre - ZERO_K


def our_fh(row: Row) -> tuple[float, float, float, float]:
    jar = JARS[row["id"].removeprefix("fh_")]
    index, lag = cylinder.slowest_mode(jar)
    air_ = cylinder.Cylinder(
        radius_m=jar.radius_m,
        height_m=jar.height_m,
        diffusivity_m2_s=1.4e-7,
        conductivity_w_per_m_k=0.5,
        side_w_m2_k=10.0,
        bottom_w_m2_k=10.0,
        top_w_m2_k=10.0,
    )
    cooling = cylinder.slowest_mode(air_)[0]
    return index / 60.0, float(lag), float(cylinder.cold_spot(jar)), cooling / 60.0


def our_p_profile(row: Row) -> float:
    time = np.arange(0.0, 6001.0, 10.0)
    middle = cylinder.history_k(PINT, DAY_S, DAY_K, 333.15, time)
    if row["id"] == "p_profile":
        return float(lethality.lethality_min(time, middle, lethality.ACID_FOOD))
    cooling = time >= 2400.0
    share = lethality.lethality_min(time[cooling], middle[cooling], lethality.ACID_FOOD)
    return 100.0 * float(
        share / lethality.lethality_min(time, middle, lethality.ACID_FOOD)
    )


def our_vacuum(row: Row) -> tuple[float, float]:
    inside = headspace.pressure_when_cold_pa(
        closed_k=suffix(row) + ZERO_K,
        cold_k=293.15,
        air_pa=ATM,
        contents_m3=450e-6,
        headspace_m3=25e-6,
    )
    return inside / 1000.0, headspace.vacuum_pa(ATM, inside) / 3386.389


# --- lethality


def our_rate(row: Row) -> float:
    kelvin = suffix(row) + ZERO_K
    which = lethality.F0 if row["id"][0] == "L" else lethality.ACID_FOOD
    return lethality.lethal_rate(kelvin, which)


def our_ramp(row: Row) -> float:
    low, high, minutes = {
        "a": (80, 100, 20),
        "b": (100, 121.1, 10),
        "c": (100, 60, 30),
    }[row["id"][-1]]
    time = np.linspace(0.0, minutes * 60.0, 40_001)
    which = lethality.F0 if row["id"][-1] == "b" else lethality.ACID_FOOD
    line = np.linspace(low, high, time.size) + ZERO_K
    return float(lethality.lethality_min(time, line, which))


def our_straight(
    fh_min: float, gaps: tuple[float, float], end: float, which: object
) -> float:
    minutes = fh_min * math.log10(gaps[0] / gaps[1])
    time = np.linspace(0.0, minutes * 60.0, 40_001)
    line = end - gaps[0] * 10.0 ** (-time / 60.0 / fh_min) + ZERO_K
    return float(lethality.lethality_min(time, line, which))  # type: ignore[arg-type]


def our_fh_over_u(row: Row) -> float:
    # From 90 K under, which is worth 1e-9 a minute, to the gap itself.
    return 1.0 / our_straight(1.0, (90.0, suffix(row)), 121.1, lethality.F0)


def our_exercise(row: Row) -> float | tuple[float, ...]:
    d = lethality.decimal_reduction_s
    five = 1.0 / (1.0 - 0.99999)
    match row["id"]:
        case "ex_D":
            return d(300.0, 4600.0, 160.0) / 60.0
        case "ex_12D":
            return 12 * d(66.0, five, 1.0) / 60.0
        case "ex_135":
            return lethality.equivalent_s(2.64 * 60, 394.25, 408.15, 10.0) / 60.0
        case "ex_D0":
            single = d(72.0, five, 1.0) / 60.0
            return single, 12 * single
        case "ex_spoil":
            return lethality.survivors(10.0, 2.88, 1.5)
        case "ex_D150":
            return lethality.equivalent_s(30.0, 394.15, 423.15, 10.5)
        case "ex_9log":
            return -0.5 * math.log10(lethality.survivors(1.0, 270.0, 30.0))
        case "ex_eq100":
            return lethality.equivalent_s(4.5 * 60, 394.15, 373.15, 10.5) / 60.0
        case "ex_eq150":
            return lethality.equivalent_s(4.5 * 60, 394.15, 423.15, 10.5)
    # ex_mix: when the hardier of the two has come down to one in a thousand.
    low, high = 0.0, 30.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        left = max(
            lethality.survivors(3e5, middle, 1.5), lethality.survivors(8e6, middle, 0.8)
        )
        low, high = (middle, high) if left > 1e-3 else (low, middle)
    return low


# --- acid


def our_pure(row: Row) -> float:
    _, name, millimoles = row["id"].split("_")
    total = float(millimoles) / 1000.0
    if name == "hydrochloric":
        return acid.ph_of(acid.Sour(cations_mol_per_l=-total))
    return acid.ph_of(acid.Sour(acids={name: total}))


def our_puree(row: Row) -> float:
    fruit = puree.puree_of(4.40, 3.0, "citric")
    return acid.ph_of(puree.acidified(fruit, "citric acid", suffix(row)))


def our_pickle(row: Row) -> float:
    vinegar, poured = {"0": (0.5, 0.5), "1": (1.0, 0.0), "2": (0.25, 0.75)}[
        row["id"][-1]
    ]
    pack = pickle.pack_at_rest(
        vegetables_kg=1.0, vinegar_m3=vinegar / 1000.0, water_m3=poured / 1000.0
    )
    return 100.0 * pack.acetic_acid


def our_pka(row: Row) -> tuple[float, ...]:
    name = row["inputs"].removeprefix("L-")
    return acid.ACIDS[name].pka[: len(numbers(row["value"]))]


# --- cold, dry, thermometer


def our_plank(row: Row) -> float:
    def t(
        shape: cold.Shape,
        size: float,
        rho: float,
        heat: float,
        at: float,
        air_: float,
        film: float,
        k: float,
    ) -> float:
        return cold.plank_s(
            shape,
            size,
            density_kg_m3=rho,
            latent_heat_j_per_kg=heat,
            freezes_k=at,
            around_k=air_,
            surface_w_m2_k=film,
            conductivity_w_per_m_k=k,
        )

    slab, ball, tube = cold.Shape.SLAB, cold.Shape.SPHERE, cold.Shape.CYLINDER
    fruit = (1000.0, 0.85 * 334e3, 271.95, 255.15, 8.0, 1.5)
    return {
        "geank": lambda: t(slab, 0.0635, 1057, 0.75 * 335e3, 270.4, 244.3, 17, 1.038),
        "sh": lambda: t(ball, 0.07, 1000, 250e3, 271.9, 233.15, 50, 1.2) / 3600,
        "beef": lambda: (
            t(slab, 0.05, 970, 0.73 * 333.2e3, 271.4, 243.15, 5, 1.1) / 3600
        ),
        "pack": lambda: t(slab, 0.04, *fruit) / 3600,
        "pint": lambda: t(tube, 0.08, *fruit) / 3600,
    }[row["id"].split("_")[1]]()


def our_earle(row: Row) -> float:
    def heat(above: float, latent: float, below: float) -> float:
        return cold.heat_to_freeze_j_per_kg(
            above_j_per_kg_k=above,
            start_k=283.15,
            freezes_k=271.15,
            latent_heat_j_per_kg=latent,
            below_j_per_kg_k=below,
            end_k=255.15,
        )

    least = 1e4  # the equation wants some latent heat; it is taken off again
    match row["id"]:
        case "earle_above":
            return heat(3220.0, least, 1670.0) - least - 16 * 1670.0
        case "earle_below":
            return heat(3220.0, least, 1670.0) - least - 12 * 3220.0
    # The text adds its rounded parts, 3.9e4 and 2.8e4.
    return heat(3.9e4 / 12, 2.56e5, 2.8e4 / 16)


def our_freezer_heat(row: Row) -> float:
    kilogram = cold.heat_to_freeze_j_per_kg(
        above_j_per_kg_k=3800.0,
        start_k=293.15,
        freezes_k=271.95,
        latent_heat_j_per_kg=0.85 * 334e3,
        below_j_per_kg_k=1900.0,
        end_k=255.15,
    )
    return (
        cold.freezer_load_kg(10 * FOOT_M**3, freezer_load_rule_kg_m3())[1]
        * kilogram
        / 1e6
    )


def our_two_points(row: Row) -> float:
    mine = thermometer.calibration(
        boil_reading_k=98.0 + ZERO_K,
        water_boils_k=96.65 + ZERO_K,
        ice_reading_k=1.0 + ZERO_K,
    )
    return mine.temperature_k(102.0 + ZERO_K) - ZERO_K
