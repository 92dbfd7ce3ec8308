import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stillroom.science.acid import (
    ACIDS,
    LEMON_JUICE,
    VINEGAR_5_PERCENT,
    Sour,
    cations_at,
    ph_of,
    titratable_acidity_g_per_l,
    titration_g_per_l,
)
from stillroom.science.pickle import pack_at_rest
from stillroom.science.puree import (
    acidified,
    estimated_dose,
    estimated_ph,
    puree_of,
)
from stillroom.science.ranges import OutOfRange

food_acids = st.sampled_from(["acetic", "citric", "malic", "tartaric", "lactic"])
totals = st.floats(1e-4, 0.1)
few = settings(max_examples=40, deadline=None)


@few
@given(food_acids, totals, totals)
def test_more_acid_is_never_less_sour(name, one, other):
    low, high = sorted((one, other))
    weak, strong = (ph_of(Sour(acids={name: total})) for total in (low, high))
    assert strong <= weak + 1e-9


@few
@given(food_acids, st.floats(0.002, 0.08), st.floats(2.5, 7.0))  # citrate's own limit
def test_ph_and_cations_are_inverse(name, total, ph):
    cations = cations_at(Sour(acids={name: total}), ph)
    assert ph_of(Sour(acids={name: total}, cations_mol_per_l=cations)) == pytest.approx(
        ph, abs=1e-6
    )


@few
@given(food_acids, st.floats(0.005, 0.08))
def test_half_neutralised_acid_stands_near_its_pk(name, total):
    first = ACIDS[name].pka[0]
    ph = ph_of(Sour(acids={name: total}, cations_mol_per_l=0.5 * total))
    assert ph == pytest.approx(first, abs=0.35)


def test_pure_water_is_neutral():
    assert ph_of(Sour()) == pytest.approx(6.9975, abs=1e-3)


def test_vinegar_titrates_to_its_strength():
    assert titratable_acidity_g_per_l(VINEGAR_5_PERCENT, "acetic") == pytest.approx(
        50.0, rel=0.01
    )
    assert 2.1 < ph_of(LEMON_JUICE) < 2.5
    found = titratable_acidity_g_per_l(LEMON_JUICE, "citric")
    assert found == pytest.approx(48.0, abs=4.0)


@few
@given(st.floats(3.0, 4.7), st.floats(1.0, 6.0), st.sampled_from(["citric", "malic"]))
def test_a_puree_has_both_measurements_that_it_was_made_from(ph, acidity, main):
    puree = puree_of(ph, acidity, main)
    assert ph_of(puree) == pytest.approx(ph, abs=1e-6)
    assert titratable_acidity_g_per_l(puree, main) == pytest.approx(acidity, rel=1e-6)


@few
@given(
    st.floats(0.0, 5.0),
    st.floats(0.0, 5.0),
    st.sampled_from(["citric acid", "lemon juice"]),
)
def test_ph_falls_as_acid_is_added(one, other, acidifier):
    scale = 1.0 if acidifier == "citric acid" else 20.0
    low, high = sorted((one, other))
    puree = puree_of(4.4, 3.0, "citric")
    if high - low > 1e-3:
        assert ph_of(acidified(puree, acidifier, scale * high)) < ph_of(
            acidified(puree, acidifier, scale * low)
        )


@pytest.mark.parametrize("acidifier", ["citric acid", "lemon juice", "vinegar 5 %"])
def test_the_dose_reaches_its_target(acidifier):
    puree = puree_of(4.6, 4.0, "citric")
    dose = estimated_dose(puree, acidifier, 4.2)
    assert ph_of(acidified(puree, acidifier, dose.value)) == pytest.approx(
        4.2, abs=1e-4
    )
    assert dose.low < dose.value < dose.high
    assert estimated_dose(puree, acidifier, 4.6).value == pytest.approx(0.0, abs=1e-3)


def test_a_ph_of_a_puree_is_an_estimate_with_its_spread():
    told = estimated_ph(puree_of(4.4, 3.0, "citric"), "citric acid", 1.0)
    assert told.high - told.low == pytest.approx(0.30)
    assert "meter" in told.source


@given(st.floats(0.2, 5.0), st.floats(0.1, 5.0), st.floats(0.0, 5.0), st.floats(0, 0.3))
def test_salt_and_acid_are_conserved_in_a_pack(food, vinegar, poured, salt):
    pack = pack_at_rest(
        vegetables_kg=food,
        vinegar_m3=vinegar / 1000,
        water_m3=poured / 1000,
        salt_kg=salt,
    )
    assert pack.liquid_kg * pack.salt == pytest.approx(salt, rel=1e-12, abs=1e-15)
    assert pack.liquid_kg * pack.acetic_acid == pytest.approx(0.05 * vinegar, rel=1e-12)
    assert pack.acetic_acid < pack.cover_acetic_acid
    assert pack.salt <= pack.cover_salt


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (
            lambda: Sour(acids={"ascorbic": 0.1}),
            "are known for 'ascorbic'",
        ),
        (lambda: Sour(acids={"citric": -0.1}), "5 % vinegar is 0.833"),
        (lambda: Sour(cations_mol_per_l=float("nan")), "cations_mol_per_l = nan"),
        (lambda: ph_of(Sour(cations_mol_per_l=-0.9)), "Davies"),
        (lambda: puree_of(7.0, 3.0, "citric"), "outside 2.5 to 6.5"),
        (lambda: puree_of(4.4, 0.0, "citric"), "0.30 g/100 mL is 3.0"),
        (lambda: puree_of(4.4, 3.0, "boric"), "cannot be stated as 'boric'"),
        (
            lambda: acidified(puree_of(4.4, 3.0, "citric"), "cola", 1.0),
            "citric acid, lemon juice or vinegar",
        ),
        (
            lambda: estimated_dose(puree_of(3.6, 8.0, "citric"), "vinegar 5 %", 2.8),
            "take a stronger acid",
        ),
        (lambda: titration_g_per_l(12, 0.1, 0, "citric"), "sample_ml = 0"),
        (lambda: pack_at_rest(vegetables_kg=1, vinegar_m3=0), "a pack needs brine"),
        (lambda: pack_at_rest(vegetables_kg=-1, vinegar_m3=1e-3), "vegetables_kg = -1"),
        (lambda: pack_at_rest(vegetables_kg=1, vinegar_m3=0.5), "a litre is 0.001"),
    ],
)
def test_bad_input_is_refused_in_words(call, words):
    with pytest.raises(OutOfRange, match=words):
        call()
