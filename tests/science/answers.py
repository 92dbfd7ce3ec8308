"""
What this project answers to each published check row, and how far off it is.

`ANSWERS` maps the beginning of a row's id to a function from the numbers in its inputs
to our own figures, in the row's unit. Rows without an answer stand in `CONTEXT`, each
with the reason.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from stillroom.book.heat import efficiency_of
from stillroom.measures import read_pressure_pa
from stillroom.science import (
    acid,
    air,
    boiling,
    canner,
    cold,
    cylinder,
    dry,
    fire,
    gel,
    headspace,
    kettle,
    lethality,
    modes,
    pickle,
    puree,
    refractometer,
    solutions,
    sugars,
    syrup,
    thermometer,
    water,
)

FILE = Path(__file__).parents[1] / "published" / "physics_checks.csv"
PSI_PA, FOOT_M, ZERO_K = 6894.757293168, 0.3048, 273.15
ATM = 101_325.0
CUP_M3 = 2.365882365e-4
Row = dict[str, str]


def rows() -> list[Row]:
    """Every row of the file."""
    with FILE.open(encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


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


def _metres(row: Row) -> float:
    z = float(re.findall(r"Z=(-?[\d.]+)", row["inputs"])[0])
    return z if row["inputs"].endswith(" m") else z * FOOT_M


def _gauge_boils(gauge_psi: float, pressure_pa: float) -> float:
    return water.boiling_point_k(
        air.gauge_to_absolute_pa(gauge_psi * PSI_PA, pressure_pa)
    )


def _canner_steam(row: Row) -> float:
    gauge = float(re.findall(r"gauge=([\d.]+)", row["inputs"])[0])
    feet = float(re.findall(r"Z=(\d+)", row["inputs"])[0])
    return _gauge_boils(gauge, air.pressure_pa(feet * FOOT_M)) - ZERO_K


# --- syrup


def _percent(row: Row) -> float:
    return float(re.findall(r"w=([\d.]+)", row["inputs"])[0]) / 100.0


def _solution(row: Row, solute: str) -> float:
    return solutions.density_at_20_c_kg_m3(solute, _percent(row))


def _rise_at(row: Row) -> float:
    metres = float(re.findall(r"Z=(\d+)", row["inputs"])[0])
    return boiling.boiling_point_rise_k(0.65, air.pressure_pa(metres))


def _norrish_rise(row: Row) -> float:
    w = suffix(row) / 100.0
    return water.boiling_point_k(
        ATM / boiling.water_activity_in_jar(w)
    ) - water.boiling_point_k(ATM)


def _extra_rise(row: Row) -> float:
    share = suffix(row) / 100.0
    return boiling.boiling_point_rise_k(
        0.65, ATM, share
    ) - boiling.boiling_point_rise_k(0.65, ATM)


def _inversion_energy(row: Row) -> float:
    low, high = 350.0, 380.0
    rates = [sugars.inversion_rate_per_s(3.1, kelvin) for kelvin in (low, high)]
    return 8.314462618e-3 * math.log(rates[1] / rates[0]) / (1.0 / low - 1.0 / high)


def _per_100_g(row: Row) -> float:
    w = sugars.solubility(inputs(row)[0] + ZERO_K)
    return 100.0 * w / (1.0 - w)


def _temperature_correction(row: Row) -> float:
    celsius, reading = inputs(row)
    right = refractometer.corrected_solids(
        reading / 100.0, celsius + ZERO_K, compensates=False
    )
    return 100.0 * right - reading


# --- kettle


def _batch() -> tuple[float, float]:
    mix = 0.9904 + 0.600
    return mix, (0.9904 * 0.12 + 0.600) / mix


def _canner_sim(row: Row) -> tuple[float, float]:
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


def _slab(biot: float) -> tuple[float, float]:
    """First root and coefficient of a plane wall, Bi on the half thickness."""
    half = 0.05
    rows_ = np.array([[0.038], [2 * half], [1.4e-7], [0.5], [100.0], [0.0], [0.0]])
    rows_[5] = rows_[6] = biot * 0.5 / half
    axial = modes.Axial(rows_, 1)
    b = axial.root[0, 0]
    middle = math.cos(b / 2) + axial.bottom[0, 0] / b * math.sin(b / 2)
    return b / 2, axial.coefficient[0, 0] * middle


def _long_cylinder(biot: float) -> tuple[float, float]:
    rows_ = np.array(
        [[0.038], [0.1], [1.4e-7], [0.5], [biot * 0.5 / 0.038], [1.0], [1.0]]
    )
    radial = modes.Radial(rows_, 1)
    return radial.root[0, 0], radial.coefficient[0, 0]


def _steak_s(row: Row) -> float:
    lam, coefficient = _slab(0.2)
    left = (2.0 + 11.0) / (25.0 + 11.0)
    fourier = math.log(coefficient * math.cos(lam) / left) / lam**2
    return fourier * 0.01**2 / 0.91e-7


def _step(row: Row) -> float:
    end = suffix(row) * 60.0
    (centre,) = cylinder.history_k(PINT, [0, 3600], [373.15] * 2, 343.15, [end])
    return centre - ZERO_K


def _profile(row: Row) -> float:
    (centre,) = cylinder.history_k(PINT, DAY_S, DAY_K, 333.15, [suffix(row) * 60.0])
    return centre - ZERO_K


def _fh(row: Row) -> tuple[float, float, float, float]:
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


def _p_profile(row: Row) -> float:
    time = np.arange(0.0, 6001.0, 10.0)
    middle = cylinder.history_k(PINT, DAY_S, DAY_K, 333.15, time)
    if row["id"] == "p_profile":
        return float(lethality.lethality_min(time, middle, lethality.ACID_FOOD))
    cooling = time >= 2400.0
    share = lethality.lethality_min(time[cooling], middle[cooling], lethality.ACID_FOOD)
    return 100.0 * float(
        share / lethality.lethality_min(time, middle, lethality.ACID_FOOD)
    )


def _vacuum(row: Row) -> tuple[float, float]:
    inside = headspace.pressure_when_cold_pa(
        closed_k=suffix(row) + ZERO_K,
        cold_k=293.15,
        air_pa=ATM,
        contents_m3=450e-6,
        headspace_m3=25e-6,
    )
    return inside / 1000.0, headspace.vacuum_pa(ATM, inside) / 3386.389


# --- lethality


def _rate(row: Row) -> float:
    kelvin = suffix(row) + ZERO_K
    which = lethality.F0 if row["id"][0] == "L" else lethality.ACID_FOOD
    return lethality.lethal_rate(kelvin, which)


def _ramp(row: Row) -> float:
    low, high, minutes = {
        "a": (80, 100, 20),
        "b": (100, 121.1, 10),
        "c": (100, 60, 30),
    }[row["id"][-1]]
    time = np.linspace(0.0, minutes * 60.0, 40_001)
    which = lethality.F0 if row["id"][-1] == "b" else lethality.ACID_FOOD
    line = np.linspace(low, high, time.size) + ZERO_K
    return float(lethality.lethality_min(time, line, which))


def _straight(
    fh_min: float, gaps: tuple[float, float], end: float, which: object
) -> float:
    minutes = fh_min * math.log10(gaps[0] / gaps[1])
    time = np.linspace(0.0, minutes * 60.0, 40_001)
    line = end - gaps[0] * 10.0 ** (-time / 60.0 / fh_min) + ZERO_K
    return float(lethality.lethality_min(time, line, which))  # type: ignore[arg-type]


def _fh_over_u(row: Row) -> float:
    # From 90 K under, which is worth 1e-9 a minute, to the gap itself.
    return 1.0 / _straight(1.0, (90.0, suffix(row)), 121.1, lethality.F0)


def _exercise(row: Row) -> float | tuple[float, ...]:
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


def _pure(row: Row) -> float:
    _, name, millimoles = row["id"].split("_")
    total = float(millimoles) / 1000.0
    if name == "hydrochloric":
        return acid.ph_of(acid.Sour(cations_mol_per_l=-total))
    return acid.ph_of(acid.Sour(acids={name: total}))


def _puree(row: Row) -> float:
    fruit = puree.puree_of(4.40, 3.0, "citric")
    return acid.ph_of(puree.acidified(fruit, "citric acid", suffix(row)))


def _pickle(row: Row) -> float:
    vinegar, poured = {"0": (0.5, 0.5), "1": (1.0, 0.0), "2": (0.25, 0.75)}[
        row["id"][-1]
    ]
    pack = pickle.pack_at_rest(
        vegetables_kg=1.0, vinegar_m3=vinegar / 1000.0, water_m3=poured / 1000.0
    )
    return 100.0 * pack.acetic_acid


def _pka(row: Row) -> tuple[float, ...]:
    name = row["inputs"].removeprefix("L-")
    return acid.ACIDS[name].pka[: len(numbers(row["value"]))]


# --- cold, dry, thermometer


def _plank(row: Row) -> float:
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


def _earle(row: Row) -> float:
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


def _freezer_heat(row: Row) -> float:
    kilogram = cold.heat_to_freeze_j_per_kg(
        above_j_per_kg_k=3800.0,
        start_k=293.15,
        freezes_k=271.95,
        latent_heat_j_per_kg=0.85 * 334e3,
        below_j_per_kg_k=1900.0,
        end_k=255.15,
    )
    return cold.freezer_load_kg(10 * FOOT_M**3)[1] * kilogram / 1e6


def _two_points(row: Row) -> float:
    mine = thermometer.calibration(
        boil_reading_k=98.0 + ZERO_K,
        water_boils_k=96.65 + ZERO_K,
        ice_reading_k=1.0 + ZERO_K,
    )
    return mine.temperature_k(102.0 + ZERO_K) - ZERO_K


Answer = Callable[[Row], "float | tuple[float, ...]"]

ANSWERS: dict[str, Answer] = {
    # air
    "atm_p0": lambda r: air.SEA_LEVEL_PRESSURE_PA,
    "atm_lapse": lambda r: air.LAPSE_RATE_K_PER_M,
    "atm_M": lambda r: air.MOLAR_MASS_KG_MOL,
    "atm_R": lambda r: air.GAS_CONSTANT_J_MOL_K,
    "atm_r0": lambda r: air.EARTH_RADIUS_M,
    "atm_g0": lambda r: air.STANDARD_GRAVITY_M_S2,
    "atm_11km": lambda r: air._layer_pressure_pa(11_000.0),
    "atm_psi_": lambda r: air.pressure_pa(_metres(r)) / PSI_PA,
    # 5 m under the range that the program answers for: the bare equation.
    "atm_psi_-1000": lambda r: air._layer_pressure_pa(-304.8146) / PSI_PA,
    "atm_geo_psi_": lambda r: air.pressure_pa(_metres(r)) / PSI_PA,
    "p_*m": lambda r: air.pressure_pa(_metres(r)),
    "inhg_": lambda r: (
        read_pressure_pa("29.921 inHg") / (29.921 if r["id"] == "inhg_pa" else 1.0)
    ),
    "station_qnh": lambda r: air.station_pressure_pa(ATM, 1524.0) / 100.0,
    # water
    "if97_t35_": lambda r: water.saturation_pressure_pa(inputs(r)[0]) / 1e6,
    "if97_t36_": lambda r: water.boiling_point_k(inputs(r)[0] * 1e6),
    "sat_p_": lambda r: water.saturation_pressure_pa(inputs(r)[0] + ZERO_K) / 1e6,
    "sat_hfg_": lambda r: water.latent_heat_j_per_kg(inputs(r)[0] + ZERO_K) / 1e3,
    "hfg_": lambda r: water.latent_heat_j_per_kg(inputs(r)[0] + ZERO_K) / 1e3,
    "rho_w_": lambda r: water.density_kg_m3(inputs(r)[0] + ZERO_K),
    "psig_": lambda r: _gauge_boils(inputs(r)[0], 14.696 * PSI_PA) * 1.8 - 459.67,
    "boil_*m": lambda r: water.boiling_point_k(air.pressure_pa(_metres(r))) - ZERO_K,
    "boil_*ft": lambda r: water.boiling_point_k(air.pressure_pa(_metres(r))) - ZERO_K,
    "canner_*psi": _canner_steam,
    "dialrule_": _canner_steam,
    "boil_1hPa": lambda r: (
        100.0
        * (water.boiling_point_k(ATM + 50) - water.boiling_point_k(ATM - 50))
        / 100.0
    ),
    "boil_*hPa": lambda r: water.boiling_point_k(inputs(r)[0] * 100.0) - ZERO_K,
    # syrup
    "suc_rho_": lambda r: syrup.density_at_20_c_kg_m3(_percent(r)),
    "suc_n_": lambda r: refractometer.refractive_index(_percent(r)),
    "oiv_n_": lambda r: refractometer.refractive_index(_percent(r)),
    "suc_fp_": lambda r: ZERO_K - syrup.freezing_point_k(_percent(r)),
    "suc_eta_": lambda r: 1e3 * syrup.viscosity_pa_s(_percent(r), 293.15),
    "oiv_tc_": _temperature_correction,
    "suc_sol_": _per_100_g,
    "suc_solw_": lambda r: 100.0 * sugars.solubility(inputs(r)[0] + ZERO_K),
    "sol_vavrinecz_20": lambda r: 100.0 * sugars.solubility_newer(293.15),
    "baume_": lambda r: syrup.baume(inputs(r)[0] / 100.0),
    "bpe_lowe_": lambda r: (
        100.0 - 0.026 + boiling.boiling_point_rise_k(suffix(r) / 100.0, ATM)
    ),
    "bpe_sp_*m": _rise_at,
    "bpe_sp_": lambda r: boiling.boiling_point_rise_k(_percent(r), ATM),
    "bpe_norrish_": _norrish_rise,
    "bpe_inv_": _extra_rise,
    "aw_fp_": lambda r: boiling.sucrose_water_activity(
        _percent(r), syrup.freezing_point_k(_percent(r))
    ),
    "aw_sat_": lambda r: boiling.sucrose_water_activity(
        sugars.solubility(inputs(r)[0] + ZERO_K), inputs(r)[0] + ZERO_K
    ),
    "aw_jam_": lambda r: boiling.water_activity_in_jar(0.65, suffix(r) / 100.0),
    "aw_list_jam": lambda r: boiling.water_activity_in_jar(0.67, 0.4),
    "inv_E_": _inversion_energy,
    "inv_k_": lambda r: 60.0 * sugars.inversion_rate_per_s(suffix(r), 377.5, 0.45),
    "fructose_rho_": lambda r: _solution(r, "fructose"),
    "glucose_rho_": lambda r: _solution(r, "glucose"),
    "rho_hot_65": lambda r: syrup.density_kg_m3(0.65, 373.15),
    # acid
    "sodium_rho_": lambda r: _solution(r, "salt"),
    "citric_rho_": lambda r: solutions.density_at_20_c_kg_m3(
        "citric acid", _percent(r)
    ),
    "acetic_rho_": lambda r: solutions.density_at_20_c_kg_m3(
        "acetic acid", _percent(r)
    ),
    "nacl_fp_": lambda r: ZERO_K - solutions.brine_freezing_point_k(_percent(r)),
    "pka_*": _pka,
    "pH_": _pure,
    "vin_ph": lambda r: acid.ph_of(acid.VINEGAR_5_PERCENT),
    "vin_mol": lambda r: acid.VINEGAR_5_PERCENT.acids["acetic"],
    "ta_wine": lambda r: acid.titration_g_per_l(12.0, 0.1, 15.0, "tartaric"),
    "ta_tart": lambda r: acid.titration_g_per_l(12.6, 0.1, 15.0, "tartaric") / 10.0,
    "eqw_": lambda r: acid.ACIDS[r["id"].split("_")[1]].equivalent_g,
    "pickle_": _pickle,
    "brine_wv": lambda r: 100.0 * solutions.salt_share(0.050, 0.950),
    "puree_": _puree,
    # gel
    "gel_rule_usda": lambda r: gel.RISE_K * 1.8,
    "gel_rule_cruess": lambda r: boiling.boiling_point_rise_k(0.65, ATM),
    "gel_yield_a": lambda r: kettle.mass_after_boil_down_kg(*_batch(), 0.65),
    "gel_yield_b": lambda r: 100.0 * _batch()[1],
    "gel_ratio_": lambda r: kettle.mass_after_boil_down_kg(
        1.0, *(float(p) / 100.0 for p in r["id"].split("_")[2:])
    ),
    "solids_from_rise_": lambda r: 100.0 * boiling.solids_from_rise(inputs(r)[0], ATM),
    # kettle
    "eff_*": lambda r: (
        100.0 * efficiency_of(r["id"].split("_")[-1].replace("electric", "coil")).share
    ),
    "eff2_gas": lambda r: 100.0 * efficiency_of("gas").share,
    "eff2_induction": lambda r: 100.0 * efficiency_of("induction").share,
    "eff_test_gas": lambda r: (
        100.0
        * fire.measured_efficiency(0.946, 288.706, 373.15, 510.0, 992 * 1055.06 / 510.0)
    ),
    "eff_test_ind": lambda r: (
        100.0
        * fire.measured_efficiency(0.946, 288.706, 373.15, 350.0, 430 * 1055.06 / 350.0)
    ),
    "qt_energy": lambda r: kettle.heating_s(
        0.946, water.heat_capacity_j_per_kg_k(330.9), 288.706, 373.15, 1000.0, 1.0
    ),
    "co_syrup_": lambda r: tuple(
        syrup.heat_capacity_by_parts_j_per_kg_k(_percent(r), c + ZERO_K) / 1e3
        for c in (20.0, 95.0)
    ),
    "ket_heatup": lambda r: (
        kettle.heating_s(
            1.590,
            syrup.heat_capacity_by_parts_j_per_kg_k(0.452, 333.15),
            293.15,
            374.15,
            3500.0,
            0.4,
        )
        / 60.0
    ),
    "ket_boil": lambda r: (
        kettle.boil_down_s(*_batch(), 0.65, 2.25e6, 3500.0, 0.4) / 60.0
    ),
    "ket_rate": lambda r: 3600.0 * fire.evaporation_kg_per_s(1000.0, 1.0, 375.65),
    "canner_sim_": _canner_sim,
    # jar
    "eig_cyl_": lambda r: _long_cylinder(suffix(r)),
    "eig_slab_": lambda r: _slab(suffix(r)),
    "steak_lam": lambda r: _slab(0.2),
    "steak_t": _steak_s,
    "ash_f_slab": lambda r: math.log(10.0) / _slab(1e6)[0] ** 2,
    "ash_f_cyl": lambda r: math.log(10.0) / _long_cylinder(9_990.0)[0] ** 2,
    "ash_j_slab": lambda r: _slab(1e6)[1],
    "j_can": lambda r: _slab(1e6)[1] * _long_cylinder(9_990.0)[1],
    "jar_step_": _step,
    "jar_prof_": _profile,
    "fh_*": _fh,
    "vac_": _vacuum,
    "exp_": lambda r: 100.0 * headspace.expansion(293.15, suffix(r) + ZERO_K),
    # lethality
    "cool_share_model": _p_profile,
    "p_profile": _p_profile,
    "L_": _rate,
    "P_": _rate,
    "ex_": _exercise,
    "asep_F": lambda r: lethality.equivalent_s(90 * 60.0, 394.15, 413.15, 8.0),
    "bot_12D": lambda r: -0.23 * math.log10(lethality.survivors(1.0, 2.76, 0.23)),
    "ramp_": _ramp,
    "e1_a": lambda r: _straight(20.0, (50.0, 1.0), 121.1, lethality.F0),
    "e1_b": lambda r: _straight(25.0, (30.0, 2.0), 100.0, lethality.ACID_FOOD),
    "fhU_": _fh_over_u,
    "f0_ref": lambda r: (lethality.F0.temperature_k - ZERO_K, lethality.F0.z_k),
    # freezing, drying, thermometer
    "plank_": _plank,
    "earle_": _earle,
    "frz_heat": _freezer_heat,
    "dry_": lambda r: dry.dried_mass_kg(
        1.0, *(p / 100.0 for p in numbers(r["inputs"])[:2])
    ),
    "thermo_ice": lambda r: (
        thermometer.ICE_K - ZERO_K,
        thermometer.ICE_K * 1.8 - 459.67,
    ),
    "thermo_2pt": _two_points,
}

CONTEXT = {
    "ri_poly": "coefficients; the rows suc_n_ and oiv_n_ check the inverse",
    "eff2_electric": "a conflict: plans take the lower print, 74 %",
    "inv_dH": "the heat of inversion is left out of every balance here",
    "sol_herzfeld": "our fit to the same rows is closer, 0.012 % at most",
    "tc_above20": "refused until the table is typed from its source",
    "alpha_": "context for the spread of jellies, butters and purees",
    "glass_err": "the glass has no heat capacity in our model; a test carries it",
    "fao_": "sums without the readings behind them",
    "pka_citric_T": "pK at 25 °C is a constant here",
    "psi_pa": "an exact definition",
}


@dataclass(frozen=True)
class Checked:
    """One row, our figures beside the printed ones, and the tolerance of each."""

    row: Row
    table: str
    printed: tuple[float, ...]
    ours: tuple[float, ...]
    allowed: tuple[float, ...]

    @property
    def worst(self) -> float:
        """Largest error over its tolerance. [1]"""
        return max(self.shares())

    def shares(self) -> Iterator[float]:
        """Each error over its tolerance; a tolerance of nought wants equality."""
        for printed, ours, allowed in zip(
            self.printed, self.ours, self.allowed, strict=True
        ):
            error = abs(ours - printed)
            # Figures that are equal in print may differ in their last binary digit.
            yield error / max(allowed, 1e-12 * max(abs(printed), 1e-300))


def table_of(row: Row) -> str | None:
    """Which of `ANSWERS` answers a row: the longest beginning that fits."""
    fits = [key for key in ANSWERS if _fits(key, row["id"])]
    return max(fits, key=len, default=None)


def is_context(row: Row) -> bool:
    """Whether a row is not to be asserted: marked so, or in `CONTEXT`."""
    if row["tolerance"] == "-" or row["quantity"].startswith(("TRAP", "MISPRINT")):
        return True
    return any(row["id"].startswith(key) for key in CONTEXT)


def checked(row: Row) -> Checked:
    """Our answer to a row."""
    table = table_of(row)
    if table is None:
        raise KeyError(f"{row['id']} has neither an answer nor a reason in CONTEXT")
    got = ANSWERS[table](row)
    ours = tuple(float(x) for x in got) if isinstance(got, tuple) else (float(got),)
    return Checked(row, table, _printed(row), ours, _allowed(row, len(ours)))


def _fits(key: str, name: str) -> bool:
    return re.fullmatch(re.escape(key).replace(r"\*", ".*") + ".*", name) is not None


def _printed(row: Row) -> tuple[float, ...]:
    if row["id"] == "thermo_2pt":
        return (100.64,)  # the row's own note: r = 102.0
    return tuple(numbers(re.sub(r"z/H|\(.*?\)|[a-zA-Z]+\s*=", " ", row["value"])))


def _allowed(row: Row, count: int) -> tuple[float, ...]:
    text = row["tolerance"]
    if row["id"].startswith("fh_"):
        # fh and fc in minutes; j and the height are printed to their last digit.
        return (0.2, 0.0006, 0.003, 0.2)
    if "%" in text:
        return tuple(numbers(text)[0] / 100.0 * abs(p) for p in _printed(row))
    return tuple((numbers(text) * count)[:count])
