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

from science.figures import (
    ATM,
    PSI_PA,
    ZERO_K,
    Row,
    inputs,
    numbers,
    our_batch,
    our_canner_sim,
    our_canner_steam,
    our_earle,
    our_exercise,
    our_extra_rise,
    our_fh,
    our_fh_over_u,
    our_freezer_heat,
    our_gauge_boils,
    our_inversion_energy,
    our_long_cylinder,
    our_metres,
    our_norrish_rise,
    our_p_profile,
    our_per_100_g,
    our_percent,
    our_pickle,
    our_pka,
    our_plank,
    our_profile,
    our_pure,
    our_puree,
    our_ramp,
    our_rate,
    our_rise_at,
    our_slab,
    our_solution,
    our_steak_s,
    our_step,
    our_straight,
    our_temperature_correction,
    our_two_points,
    our_vacuum,
    suffix,
)

from stillroom.book.heat import efficiency_of
from stillroom.measures import read_pressure_pa
from stillroom.science import (
    acid,
    air,
    boiling,
    dry,
    fire,
    gel,
    headspace,
    hydrometer,
    kettle,
    lethality,
    refractometer,
    solutions,
    sugars,
    syrup,
    thermometer,
    water,
)

FILE = Path(__file__).parents[1] / "published" / "physics_checks.csv"


def rows() -> list[Row]:
    """Every row of the file."""
    with FILE.open(encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


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
    "atm_psi_": lambda r: air.pressure_pa(our_metres(r)) / PSI_PA,
    # 5 m under the range that the program answers for: the bare equation.
    "atm_psi_-1000": lambda r: air._layer_pressure_pa(-304.8146) / PSI_PA,
    "atm_geo_psi_": lambda r: air.pressure_pa(our_metres(r)) / PSI_PA,
    "p_*m": lambda r: air.pressure_pa(our_metres(r)),
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
    "psig_": lambda r: our_gauge_boils(inputs(r)[0], 14.696 * PSI_PA) * 1.8 - 459.67,
    "boil_*m": lambda r: water.boiling_point_k(air.pressure_pa(our_metres(r))) - ZERO_K,
    "boil_*ft": lambda r: (
        water.boiling_point_k(air.pressure_pa(our_metres(r))) - ZERO_K
    ),
    "canner_*psi": our_canner_steam,
    "dialrule_": our_canner_steam,
    "boil_1hPa": lambda r: (
        100.0
        * (water.boiling_point_k(ATM + 50) - water.boiling_point_k(ATM - 50))
        / 100.0
    ),
    "boil_*hPa": lambda r: water.boiling_point_k(inputs(r)[0] * 100.0) - ZERO_K,
    # syrup
    "suc_rho_": lambda r: syrup.density_at_20_c_kg_m3(our_percent(r)),
    "suc_n_": lambda r: refractometer.refractive_index(our_percent(r)),
    "oiv_n_": lambda r: refractometer.refractive_index(our_percent(r)),
    "suc_fp_": lambda r: ZERO_K - syrup.freezing_point_k(our_percent(r)),
    "suc_eta_": lambda r: 1e3 * syrup.viscosity_pa_s(our_percent(r), 293.15),
    "oiv_tc_": our_temperature_correction,
    "suc_sol_": our_per_100_g,
    "suc_solw_": lambda r: 100.0 * sugars.solubility(inputs(r)[0] + ZERO_K),
    "sol_vavrinecz_20": lambda r: 100.0 * sugars.solubility_newer(293.15),
    "baume_": lambda r: hydrometer.baume(inputs(r)[0] / 100.0),
    "bpe_lowe_": lambda r: (
        100.0 - 0.026 + boiling.boiling_point_rise_k(suffix(r) / 100.0, ATM)
    ),
    "bpe_sp_*m": our_rise_at,
    "bpe_sp_": lambda r: boiling.boiling_point_rise_k(our_percent(r), ATM),
    "bpe_norrish_": our_norrish_rise,
    "bpe_inv_": our_extra_rise,
    "aw_fp_": lambda r: boiling.sucrose_water_activity(
        our_percent(r), syrup.freezing_point_k(our_percent(r))
    ),
    "aw_sat_": lambda r: boiling.sucrose_water_activity(
        sugars.solubility(inputs(r)[0] + ZERO_K), inputs(r)[0] + ZERO_K
    ),
    "aw_jam_": lambda r: boiling.water_activity_in_jar(0.65, suffix(r) / 100.0),
    "aw_list_jam": lambda r: boiling.water_activity_in_jar(0.67, 0.4),
    "inv_E_": our_inversion_energy,
    "inv_k_": lambda r: 60.0 * sugars.inversion_rate_per_s(suffix(r), 377.5, 0.45),
    "fructose_rho_": lambda r: our_solution(r, "fructose"),
    "glucose_rho_": lambda r: our_solution(r, "glucose"),
    "rho_hot_65": lambda r: syrup.density_kg_m3(0.65, 373.15),
    # acid
    "sodium_rho_": lambda r: our_solution(r, "salt"),
    "citric_rho_": lambda r: solutions.density_at_20_c_kg_m3(
        "citric acid", our_percent(r)
    ),
    "acetic_rho_": lambda r: solutions.density_at_20_c_kg_m3(
        "acetic acid", our_percent(r)
    ),
    "nacl_fp_": lambda r: ZERO_K - solutions.brine_freezing_point_k(our_percent(r)),
    "pka_*": our_pka,
    "pH_": our_pure,
    "vin_ph": lambda r: acid.ph_of(acid.VINEGAR_5_PERCENT),
    "vin_mol": lambda r: acid.VINEGAR_5_PERCENT.acids["acetic"],
    "ta_wine": lambda r: acid.titration_g_per_l(12.0, 0.1, 15.0, "tartaric"),
    "ta_tart": lambda r: acid.titration_g_per_l(12.6, 0.1, 15.0, "tartaric") / 10.0,
    "eqw_": lambda r: acid.ACIDS[r["id"].split("_")[1]].equivalent_g,
    "pickle_": our_pickle,
    "brine_wv": lambda r: 100.0 * solutions.salt_share(0.050, 0.950),
    "puree_": our_puree,
    # gel
    "gel_rule_usda": lambda r: gel.RISE_K * 1.8,
    "gel_rule_cruess": lambda r: boiling.boiling_point_rise_k(0.65, ATM),
    "gel_yield_a": lambda r: kettle.mass_after_boil_down_kg(*our_batch(), 0.65),
    "gel_yield_b": lambda r: 100.0 * our_batch()[1],
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
        syrup.heat_capacity_by_parts_j_per_kg_k(our_percent(r), c + ZERO_K) / 1e3
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
        kettle.boil_down_s(*our_batch(), 0.65, 2.25e6, 3500.0, 0.4) / 60.0
    ),
    "ket_rate": lambda r: 3600.0 * fire.evaporation_kg_per_s(1000.0, 1.0, 375.65),
    "canner_sim_": our_canner_sim,
    # jar
    "eig_cyl_": lambda r: our_long_cylinder(suffix(r)),
    "eig_slab_": lambda r: our_slab(suffix(r)),
    "steak_lam": lambda r: our_slab(0.2),
    "steak_t": our_steak_s,
    "ash_f_slab": lambda r: math.log(10.0) / our_slab(1e6)[0] ** 2,
    "ash_f_cyl": lambda r: math.log(10.0) / our_long_cylinder(9_990.0)[0] ** 2,
    "ash_j_slab": lambda r: our_slab(1e6)[1],
    "j_can": lambda r: our_slab(1e6)[1] * our_long_cylinder(9_990.0)[1],
    "jar_step_": our_step,
    "jar_prof_": our_profile,
    "fh_*": our_fh,
    "vac_": our_vacuum,
    "exp_": lambda r: 100.0 * headspace.expansion(293.15, suffix(r) + ZERO_K),
    # lethality
    "cool_share_model": our_p_profile,
    "p_profile": our_p_profile,
    "L_": our_rate,
    "P_": our_rate,
    "ex_": our_exercise,
    "asep_F": lambda r: lethality.equivalent_s(90 * 60.0, 394.15, 413.15, 8.0),
    "bot_12D": lambda r: -0.23 * math.log10(lethality.survivors(1.0, 2.76, 0.23)),
    "ramp_": our_ramp,
    "e1_a": lambda r: our_straight(20.0, (50.0, 1.0), 121.1, lethality.F0),
    "e1_b": lambda r: our_straight(25.0, (30.0, 2.0), 100.0, lethality.ACID_FOOD),
    "fhU_": our_fh_over_u,
    "f0_ref": lambda r: (lethality.F0.temperature_k - ZERO_K, lethality.F0.z_k),
    # freezing, drying, thermometer
    "plank_": our_plank,
    "earle_": our_earle,
    "frz_heat": our_freezer_heat,
    "dry_": lambda r: dry.dried_mass_kg(
        1.0, *(p / 100.0 for p in numbers(r["inputs"])[:2])
    ),
    "thermo_ice": lambda r: (
        thermometer.ICE_K - ZERO_K,
        thermometer.ICE_K * 1.8 - 459.67,
    ),
    "thermo_2pt": our_two_points,
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
