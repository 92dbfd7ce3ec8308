import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from science.figures import DAY_K, DAY_S, HALF_PINT, JARS, PINT, QUART
from science.finite_volume import Mesh, finite_volume_k
from scipy import special

from stillroom.science import _bessel
from stillroom.science.cylinder import (
    Cylinder,
    cold_spot,
    history_k,
    slowest_mode,
)
from stillroom.science.modes import axial_roots, mean_modes, modes_at
from stillroom.science.ranges import OutOfRange

FOOD = {
    "diffusivity_m2_s": 1.4e-7,
    "conductivity_w_per_m_k": 0.5,
    "side_w_m2_k": 250.0,
    "bottom_w_m2_k": 200.0,
    "top_w_m2_k": 20.0,
}
radii = st.floats(0.025, 0.06)
heights = st.floats(0.06, 0.2)


@pytest.mark.parametrize("size", ["half-pint", "pint", "quart"])
def test_the_cold_spot_agrees_with_finite_volumes_over_the_whole_history(size):
    # Two meshes, extrapolated to none: the error of the finite volumes is second order.
    jar = JARS[size]
    spot = float(cold_spot(jar))
    time, coarse = finite_volume_k(
        jar, DAY_S, DAY_K, 333.15, 20.0, cells=(16, 24), z_share=spot
    )
    _, fine = finite_volume_k(
        jar, DAY_S, DAY_K, 333.15, 20.0, cells=(32, 48), z_share=spot
    )
    other = fine + (fine - coarse) / 3.0
    ours = history_k(jar, DAY_S, DAY_K, 333.15, time, z_share=spot)
    assert np.abs(ours - other).max() <= 0.05


def test_a_plunge_agrees_with_finite_volumes():
    time, fine = finite_volume_k(
        PINT, [0.0, 3600.0], [373.15] * 2, 343.15, 10.0, cells=(36, 54)
    )
    ours = history_k(PINT, [0, 3600], [373.15] * 2, 343.15, time)
    assert np.abs(ours - fine).max() <= 0.05


def test_many_modes_change_nothing_at_the_middle():
    time = np.arange(0.0, 6001.0, 15.0)
    for jar in JARS.values():
        spot = float(cold_spot(jar))
        few = history_k(jar, DAY_S, DAY_K, 333.15, time, z_share=spot)
        many = history_k(jar, DAY_S, DAY_K, 333.15, time, z_share=spot, modes=(15, 120))
        assert np.abs(few - many).max() < 0.005


@pytest.mark.parametrize("biot", [0.01, 0.37, 1.0, 22.0, 4000.0])
def test_roots_agree_with_a_special_function_library(biot):
    roots, j0 = _bessel.cylinder_roots(np.array([biot]), 12)
    miss = roots * special.j1(roots) - biot * special.j0(roots)
    assert np.abs(miss / (1.0 + biot)).max() < 1e-6
    assert j0 == pytest.approx(special.j0(roots), abs=1e-6)
    # One root between each zero of J1 and the next of J0: none is skipped.
    edges = np.concatenate([[0.0], special.jn_zeros(1, 11)])
    assert (roots[0] > edges).all()
    assert (roots[0] < special.jn_zeros(0, 12)).all()


def test_the_second_root_is_the_tabulated_one():
    # Carslaw and Jaeger's table: Bi = 1, second root 4.0795.
    assert _bessel.cylinder_roots(np.array([1.0]), 2)[0][0, 1] == pytest.approx(
        4.0795, abs=5e-5
    )


def test_bessel_functions_agree_with_a_special_function_library():
    x = np.linspace(0.0, 50.0, 301)
    for ours, theirs in zip(
        (*_bessel.j0_j1(x), *_bessel.i0e_i1e(x)),
        (special.j0(x), special.j1(x), special.i0e(x), special.i1e(x)),
        strict=True,
    ):
        assert ours == pytest.approx(theirs, abs=1e-12)


@given(st.floats(0.01, 1e4), st.floats(0.01, 1e4))
def test_axial_roots_solve_their_equation_in_order(bottom, top):
    roots = axial_roots(np.array([bottom]), np.array([top]), 8)[0]
    turns = np.arange(8) * np.pi
    miss = roots - turns - np.arctan(bottom / roots) - np.arctan(top / roots)
    assert np.abs(miss).max() < 1e-9
    assert (np.diff(roots) > 0.0).all()


@settings(max_examples=40, deadline=None)
@given(radii, heights, st.floats(1.05e-7, 1.8e-7), st.floats(278, 372), st.floats(0, 1))
def test_the_middle_stays_between_its_start_and_the_medium(r, h, a, start, z):
    jar = Cylinder(radius_m=r, height_m=h, **(FOOD | {"diffusivity_m2_s": a}))
    time = np.linspace(0.0, 7200.0, 25)
    told = history_k(jar, [0, 7200], [373.15] * 2, start, time, z_share=0.3 + 0.4 * z)
    assert told.min() >= start - 0.02
    assert told.max() <= 373.17
    assert (np.diff(told) > -0.02).all()


@given(radii, heights, st.floats(1.05e-7, 1.8e-7))
def test_doubled_jars_take_four_times_as_long(r, h, a):
    # Lengths doubled and coefficients halved leave every Biot number as it was.
    food = FOOD | {"diffusivity_m2_s": a}
    small = Cylinder(radius_m=r, height_m=h, **food)
    halves = {key: food[key] / 2 for key in food if key.endswith("w_m2_k")}
    large = Cylinder(radius_m=2 * r, height_m=2 * h, **(food | halves))
    assert slowest_mode(large)[0] == pytest.approx(4 * slowest_mode(small)[0], rel=1e-9)
    early = history_k(small, [0, 1800], [373.15] * 2, 293.15, [600, 1800])
    late = history_k(large, [0, 7200], [373.15] * 2, 293.15, [2400, 7200])
    assert late == pytest.approx(early, abs=1e-6)


def test_the_heat_that_flows_in_is_the_heat_that_is_held():
    # Fluxes through the walls of the finite volumes against the mean of our modes.
    mesh = Mesh(PINT, 30, 45)
    assert pytest.approx(-mesh.gain, rel=1e-9) == mesh.matrix.sum(axis=1).A1
    seen = mean_modes(PINT.rows())
    left = seen.weight * seen.left_after(900.0)
    rest = seen.rest_weight * np.exp(-seen.rest_decay * 900.0)
    ours = float(left.sum() + rest[0])
    field = np.full(mesh.volume.size, 1.0)
    from scipy.sparse import identity
    from scipy.sparse.linalg import splu

    unit = identity(field.size, format="csc")
    solver = splu((unit - 5.0 * mesh.matrix).tocsc())
    for _ in range(90):
        field = solver.solve(field + 5.0 * (mesh.matrix @ field))
    theirs = float((field * mesh.volume).sum() / mesh.volume.sum())
    assert ours == pytest.approx(theirs, abs=1e-3)


def test_the_mean_is_the_mean_of_the_points():
    nodes, weights = np.polynomial.legendre.leggauss(12)
    share, weight = 0.5 * (nodes + 1.0), 0.5 * weights
    total = 0.0
    for r, wr in zip(np.sqrt(share), weight, strict=True):  # even in area
        for z, wz in zip(share, weight, strict=True):
            (point,) = history_k(
                PINT, [0, 1200], [373.15] * 2, 333.15, [1200], r_share=r, z_share=z
            )
            total += wr * wz * point
    seen = mean_modes(PINT.rows())
    left = (seen.weight * seen.left_after(1200.0)).sum()
    assert total == pytest.approx(373.15 - 40.0 * left, abs=0.02)


def test_all_modes_together_are_the_start_and_the_ramp():
    for seen in (
        mean_modes(PINT.rows()),
        modes_at(PINT.rows(), np.array([0.5]), modes=(8, 20)),
    ):
        lag = (seen.weight / seen.decay).sum() + seen.rest_ramp_s
        assert lag == pytest.approx(seen.ramp_s)
        assert seen.weight.sum() + seen.rest_weight == pytest.approx(1.0)


def test_long_after_a_ramp_began_the_jar_lags_by_a_constant():
    end = 6 * 3600.0
    told = history_k(PINT, [0, end], [293.15, 293.15 + 60.0], 293.15, [end - 60, end])
    ramp = modes_at(PINT.rows(), np.array([0.5]), modes=(8, 20)).ramp_s[0]
    assert told[1] - told[0] == pytest.approx(60.0 * 60.0 / end, rel=1e-4)
    assert 353.15 - told[1] == pytest.approx(ramp * 60.0 / end, rel=1e-3)


def test_a_jump_is_a_corner_given_twice():
    lifted = [0, 1200, 1200, 3600]
    air = [373.15, 373.15, 298.15, 298.15]
    told = history_k(PINT, lifted, air, 333.15, [1199, 1201, 1500, 3600])
    assert abs(told[1] - told[0]) < 0.1
    assert told[2] > told[1]  # the middle goes on rising
    assert told[3] < told[2]


def test_many_jars_give_what_each_gives():
    many = Cylinder(
        radius_m=np.array([0.032, 0.038, 0.045]),
        height_m=np.array([0.075, 0.105, 0.145]),
        diffusivity_m2_s=1.4e-7,
        conductivity_w_per_m_k=0.5,
        side_w_m2_k=PINT.side_w_m2_k,
        bottom_w_m2_k=PINT.bottom_w_m2_k,
        top_w_m2_k=20.0,
    )
    time = np.arange(0.0, 6001.0, 600.0)
    together = history_k(many, DAY_S, DAY_K, 333.15, time)
    assert together.shape == (3, 11)
    for row, jar in zip(together, (HALF_PINT, PINT, QUART), strict=True):
        # Each is let in at its own hush there and at the shortest here.
        assert row == pytest.approx(
            history_k(jar, DAY_S, DAY_K, 333.15, time), abs=0.02
        )
    assert cold_spot(many) == pytest.approx(
        [cold_spot(jar) for jar in (HALF_PINT, PINT, QUART)]
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"radius_m": 38.0}, "38 mm is 0.038"),
        ({"height_m": float("nan")}, "height_m = nan"),
        ({"diffusivity_m2_s": 1.4e-3}, "jelly is about 1.4e-7"),
        ({"side_w_m2_k": 0.0}, "air to condensing steam"),
    ],
)
def test_a_jar_that_is_none_is_refused(change, words):
    with pytest.raises(OutOfRange, match=words):
        Cylinder(**({"radius_m": 0.038, "height_m": 0.105} | FOOD | change))


@pytest.mark.parametrize(
    ("times", "medium", "out", "words"),
    [
        ([0, 60, 30], [300] * 3, None, "comes before 60 s"),
        ([0, 60], [300] * 3, None, "same length"),
        ([0, 60], [27, 100], None, "Give kelvin"),
        ([0, 60], [300, 300], [0, 90], "Nothing is extrapolated"),
        ([0, 60], [300, 300], [40, 30], "comes before 40 s"),
    ],
)
def test_a_line_that_is_none_is_refused(times, medium, out, words):
    with pytest.raises(OutOfRange, match=words):
        history_k(PINT, times, medium, 293.15, out)
