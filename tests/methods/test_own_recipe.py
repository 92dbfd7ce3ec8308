"""A keeper's own recipe: measured, classed, and given a process or stored cold."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.book.limits import (
    class_rule,
    ingredient_named,
    read_class_ingredients,
    read_class_rules,
    recipes_spanning,
    spans_of,
)
from stillroom.book.never import never_in_a_spread
from stillroom.book.of_which_fruit import by_its_table
from stillroom.book.procedures import Procedure
from stillroom.book.processes import process_for
from stillroom.book.produce import NEEDS_ACID, fruits
from stillroom.book.reader import table
from stillroom.methods.by_name import METHODS
from stillroom.methods.kitchen import Burner, Heat, Pot
from stillroom.methods.method import Filling, Station
from stillroom.methods.own_class import Classed, ColdOnly, as_procedure, classed
from stillroom.methods.own_recipe import OwnIngredient, OwnRecipe, measure
from stillroom.methods.today import air_today
from stillroom.refusal import Refusal, Unreadable, granted

PLUMS = ("6 cups", "plums", "pitted, crushed")
BOX = ("1 box", "powdered pectin", "")
SUGAR = ("8 cups", "sugar", "")
LEMON = ("1/4 cup", "bottled lemon juice", "")
JAM = (PLUMS, BOX, SUGAR, LEMON)
JELLY_SUGAR = ("7 cups", "sugar", "")


def recipe(*lines, kind="jam", method="with_pectin", jar="half-pint", **more):
    """Invented recipes: quantity, name, preparation."""
    return OwnRecipe(
        title="My own",
        kind=kind,
        method=method,
        jar=jar,
        ingredients=tuple(
            OwnIngredient(quantity=q, name=n, prep=p) for q, n, p in lines
        ),
        **more,
    )


def why(answer) -> str:
    assert isinstance(answer, ColdOnly), answer
    return " / ".join(
        f"{no.reason} -> {no.instead} ({no.source})" for no in answer.reasons
    )


def station() -> Station:
    return Station(
        pot=Pot(name="big pot", volume_m3=0.012, material="stainless"),
        burner=Burner(name="front", power_w=3500.0),
        heat=Heat.GAS,
        efficiency=0.40,
        air=granted(air_today(elevation_m=655.0)),
    )


def test_a_good_plum_jam_gets_the_jam_process_with_a_caution():
    answer = classed(recipe(*JAM), elevation_ft=2150)
    assert isinstance(answer, Classed)
    # USDA Complete Guide, Guide 7: jam in half-pints, 1,001 to 6,000 ft: 10 min.
    assert answer.process is not None
    assert answer.process.minutes == 10
    assert answer.process.how_known == "looked_up"
    assert answer.product == "plum jam"
    assert answer.headspace_in == 0.25
    assert "untested" in answer.cautions[0].text
    about = {e.about: e for e in answer.evidence}
    assert {"acid", "sugar to pectin", "sugar to fruit", "solids", "thickness"} <= set(
        about
    )
    assert all(e.source.text and e.source.how_known for e in answer.evidence)
    # 1,600 g sugar + 49.6 g pectin + 1,440 g plums at 14.3 % + 61 g at 8 % of 3,151 g.
    assert about["solids"].text.startswith("59% (58% to 60%)")
    assert about["sugar to pectin"].text.startswith("1.6 kg of sugar to a box")


def test_without_an_elevation_no_minutes_are_given():
    answer = classed(recipe(*JAM))
    assert isinstance(answer, Classed)
    assert answer.process is None
    assert answer.jars == ("half-pint", "pint")


def test_it_never_gets_another_process_than_the_book_publishes():
    for elevation_ft in (0, 1000, 1000.5, 6000, 6001, 9999):
        answer = classed(recipe(*JAM), elevation_ft=elevation_ft)
        assert isinstance(answer, Classed)
        published = granted(
            process_for("plum jam", jar="half-pint", elevation_ft=elevation_ft)
        )
        assert answer.process == published


@pytest.mark.parametrize(
    ("lines", "more", "reason"),
    [
        ((*JAM, ("1/2 cup", "honey", "")), {}, "with honey.*01600960"),
        ((*JAM[:3], ("1/4 cup", "lemon juice", "with onion")), {}, "onions"),
        ((*JAM, ("1", "red onion", "chopped")), {}, "onions and garlic are low-acid"),
        ((*JAM, ("2", "jalapeno peppers", "")), {}, "peppers are low-acid"),
        ((*JAM, ("1/4 cup", "fresh basil", "")), {}, "herbs are low-acid"),
        ((*JAM, ("2 tbsp", "corn starch", "")), {}, "thickener keeps the heat"),
        ((*JAM, ("1/2 cup", "heavy cream", "")), {}, "dairy and eggs"),
        ((*JAM, ("1 tbsp", "butter", "")), {}, "3 tsp of butter is more than the 0.5"),
        ((*JAM, ("1 cup", "walnuts", "chopped")), {}, "nuts are low in acid"),
        ((*JAM, ("1 tbsp", "olive oil", "")), {}, "(fat and oil|low-acid)"),
        ((PLUMS, BOX, ("8 cups", "fruit sugar", "")), {}, "know nothing of 'fruit"),
        ((PLUMS, ("1 box", "low-sugar powdered pectin", ""), SUGAR), {}, "own tested"),
        ((*JAM, ("1 cup", "plum tomatoes", "")), {}, "tomatoes are borderline"),
        ((*JAM, ("4 oz", "bacon", "crisp")), {}, "meat and fish"),
        ((*JAM, ("1 tsp", "canning powder", "")), {}, "no substitute for heat"),
        ((*JAM, ("1/2 cup", "rum", "")), {}, "know nothing of 'rum'"),
        ((*JAM, ("1 tsp", "baking soda", "")), {}, "takes up the acid"),
        ((*JAM, ("1 cup", "carrots", "grated")), {}, "vegetables and roots"),
        ((PLUMS, BOX, ("4 cups", "sugar", "")), {}, "no process is published for less"),
        ((PLUMS, ("3 boxes", "powdered pectin", ""), SUGAR), {}, "533 g of sugar to"),
        ((*JAM, ("6 cups", "water", "")), {}, "soluble solids as it goes into"),
        (
            (("2 cups", "plum juice", ""), ("3 cups", "water", ""), BOX, JELLY_SUGAR),
            {"kind": "jelly"},
            r"1\.43 kg of water and the like to 1 kg of fruit .* at most 359 g",
        ),
        ((*JAM, ("1/4 cup", "ground cinnamon", "")), {}, "12 tsp of spice"),
        ((("6 cups", "elderberries", "crushed"), BOX, SUGAR), {}, "pH 4.92"),
        ((("6 cups", "figs", "crushed"), BOX, SUGAR), {}, "figs are not reliably acid"),
        ((("6 cups", "bananas", "mashed"), BOX, SUGAR), {}, "bananas are not acid"),
        ((("6 cups", "peaches", "white, crushed"), BOX, SUGAR), {}, "white-fleshed"),
        ((("6 cups", "prickly pears", "crushed"), BOX, SUGAR), {}, "prickly"),
        (JAM, {"jar": "quart"}, "quart jars is published"),
        (JAM, {"jar": "jelly glass"}, "jelly glass"),
        (JAM, {"headspace_in": 0.5}, "0.5 in of headspace"),
        (JAM, {"method": "boiled_down"}, "has powdered pectin and says"),
        (JAM, {"method": "liquid_pectin"}, "has powdered pectin and says"),
        ((PLUMS, SUGAR), {}, "has no pectin and says"),
        (JAM, {"kind": "jelly"}, "a jelly is made of strained juice"),
        ((PLUMS, BOX), {}, "there is no sugar in it"),
        ((BOX, SUGAR), {}, "there is no fruit in it"),
        (JAM, {"method": "cold"}, "kept cold"),
        (JAM, {"measured_ph": 4.9}, "pH 4.9, above 4.6"),
        (
            (("4 cups", "blueberry pulp", ""), ("2 cups", "sugar", "")),
            {"kind": "butter", "method": "butter"},
            "no published process is known for 'blueberry butter'",
        ),
    ],
)
def test_what_no_process_covers_is_stored_cold_with_its_reason(lines, more, reason):
    answer = classed(recipe(*lines, **more), elevation_ft=2150)
    assert isinstance(answer, ColdOnly)
    assert re.search(reason, why(answer)), why(answer)
    assert answer.storage.text.startswith("Refrigerate or freeze")
    assert all(no.instead and no.source for no in answer.reasons)
    assert isinstance(as_procedure(recipe(*lines, **more)), Refusal)


def test_above_the_tables_it_is_stored_cold():
    answer = classed(recipe(*JAM), elevation_ft=10_001)
    assert "nothing is extrapolated" in why(answer)


def test_every_reason_is_given_at_once():
    answer = classed(recipe(*JAM, ("1", "onion", ""), ("1 cup", "honey", "")))
    assert isinstance(answer, ColdOnly)
    assert len(answer.reasons) == 2


def test_every_fruit_that_needs_acid_is_refused_by_every_name():
    for fruit in fruits().values():
        for name in (fruit.name, *fruit.aliases):
            answer = ingredient_named(f"ripe {name}", "crushed")
            if fruit.acid_class == NEEDS_ACID:
                assert isinstance(answer, Refusal), name
            else:
                assert answer.role == "fruit", name


def test_her_own_readings_are_shown_and_give_no_process():
    good = classed(recipe(*JAM, measured_ph=3.2, measured_brix=66), elevation_ft=0)
    assert isinstance(good, Classed)
    shown = [e for e in good.evidence if e.source.how_known == "keeper"]
    assert [e.holds for e in shown] == [None, None]
    bad = recipe(*JAM, ("1", "onion", ""), measured_ph=3.2, measured_brix=70)
    assert isinstance(classed(bad, elevation_ft=0), ColdOnly)


@pytest.mark.parametrize(
    ("line", "question"),
    [
        (("", "sugar", ""), "how much sugar"),
        (("a handful", "sugar", ""), "no unit is called 'handful'"),
        (("some", "sugar", ""), "no number stands"),
        (("2 C", "sugar", ""), "may be cups or Celsius"),
        (("2 to 3 cups", "sugar", ""), "how much sugar"),
        (("3 ft", "sugar", ""), "is a length"),
        (("0 cups", "sugar", ""), "is nothing"),
        (("900 kg", "sugar", ""), "more than a pot holds"),
        (("4 cups", "plums", "sliced"), "how much do 4 cups of plums, sliced weigh"),
        (("12", "plums", ""), "not all of a size"),
        (("6 tbsp", "powdered pectin", ""), "weigh"),
        (("1 box", "liquid pectin", ""), '"1 pouch"'),
        (("2", "powdered pectin", ""), '"1 box"'),
    ],
)
def test_what_cannot_be_measured_is_asked_and_gets_no_process(line, question):
    own = recipe(PLUMS, BOX, SUGAR, line)
    answer = classed(own, elevation_ft=0)
    assert isinstance(answer, ColdOnly)
    assert question in str(answer.questions[0])
    assert answer.questions[0].key == "ingredients[4]"
    refused = as_procedure(own)
    assert isinstance(refused, Refusal)
    assert "cannot be measured yet" in refused.reason


def test_what_the_keeper_weighs_is_taken_as_hers():
    plums = OwnIngredient(
        name="plums", quantity="6 cups", prep="sliced", weighs="3 lb 2 oz"
    )
    own = OwnRecipe(
        title="",
        kind="jam",
        method="with_pectin",
        jar="pint",
        ingredients=(plums, *recipe(BOX, SUGAR).ingredients),
    )
    answer = classed(own)
    assert isinstance(answer, Classed)
    weighed = answer.measured.ingredients[0]
    assert weighed.mass_kg == pytest.approx(1.417, abs=1e-3)
    assert weighed.source is not None
    assert weighed.source.how_known == "keeper"


@pytest.mark.parametrize(
    ("line", "kg"),
    [
        (("4 cups", "apples", "chopped"), 0.500),  # 125 g a cup, release 28
        (("4 cups", "apples", "peeled and sliced"), 0.440),  # 110 g a cup
        (("1 cup", "whole blueberries", ""), 0.148),
        (("2 cups", "apple juice", ""), 0.496),  # 248 g a cup
        (("1 cup", "pear pulp", ""), 0.244),  # as applesauce
        (("1 cup", "packed brown sugar", ""), 0.220),
        (("1/2 tsp", "citric acid", ""), None),  # too little to move a balance
        (("1 tsp", "cinnamon", "ground"), None),
        (("2", "cinnamon sticks", ""), None),
        (("1 1/2 lb", "plums", "any way"), 0.680388555),
        (("1 cup", "rum", ""), None),  # refused: its mass decides nothing
    ],
)
def test_a_quantity_becomes_the_mass_that_is_published_for_it(line, kg):
    found = measure(recipe(line))
    assert not found.questions
    assert found.ingredients[0].mass_kg == (kg if kg is None else pytest.approx(kg))


def test_a_recipe_of_nothing_is_asked_what_goes_into_it():
    answer = classed(recipe())
    assert isinstance(answer, ColdOnly)
    assert answer.questions[0].text == "what goes into it?"


def test_spice_that_was_weighed_counts_too():
    spiced = recipe(*JAM, ("2 g", "ground cinnamon", ""))
    assert isinstance(classed(spiced), Classed)
    over = recipe(*JAM, ("1 oz", "ground cinnamon", ""))
    assert "spice and peel is more" in why(classed(over))


def test_a_way_of_making_it_that_no_tested_recipe_has_is_stored_cold(monkeypatch):
    juice = ("5 cups", "plum juice", "")
    odd = recipe(juice, ("4 cups", "sugar", ""), kind="jelly", method="butter")
    assert "no tested jelly" in why(classed(odd))
    spans = granted(spans_of("jam", "with_pectin"))
    monkeypatch.setattr(
        "stillroom.methods.own_rules.spans_of", lambda *_: (None, *spans[1:])
    )
    assert "no tested jam of the book gives" in why(classed(recipe(*JAM)))


def test_kind_method_and_jar_are_asked_for():
    found = measure(recipe(*JAM, kind="", method="", jar=""))
    assert [q.key for q in found.questions] == ["kind", "method", "jar"]


def test_pectin_by_the_box_by_weight_and_in_boxes_of_a_weight_is_the_same():
    for said in ("1 box", "49.6 g", "1 box of 49.6 g", "1 package"):
        [pectin] = measure(recipe((said, "powdered pectin", ""))).of_role("pectin")
        assert pectin.mass_kg == pytest.approx(0.0496)
        assert (float(pectin.quantity), pectin.unit) == (pytest.approx(1), "package")


@pytest.mark.parametrize(
    ("own", "process_product"),
    [
        (recipe(*JAM), "plum jam"),
        (
            recipe(
                ("5 cups", "plum juice", ""), BOX, ("7 cups", "sugar", ""), kind="jelly"
            ),
            "plum jelly",
        ),
        (
            recipe(
                ("4 cups", "crushed strawberries", ""),
                ("7 cups", "sugar", ""),
                ("1 pouch", "liquid pectin", ""),
                method="liquid_pectin",
            ),
            "strawberry jam",
        ),
        (
            recipe(
                ("4 cups", "plum juice", ""),
                ("3 cups", "sugar", ""),
                kind="jelly",
                method="boiled_down",
            ),
            "plum jelly",
        ),
        (
            recipe(
                ("8 cups", "pear pulp", ""),
                ("4 cups", "sugar", ""),
                ("1 tsp", "nutmeg", ""),
                kind="butter",
                method="butter",
            ),
            "pear butter",
        ),
        (
            recipe(
                ("3 cups", "crushed strawberries", ""),
                ("3 cups", "crushed raspberries", ""),
                BOX,
                SUGAR,
                ("1/4 tsp", "butter", "against foam"),
            ),
            "jam",
        ),
    ],
)
def test_methods_work_on_it_as_on_a_tested_recipe(own, process_product):
    procedure = granted(as_procedure(own))
    assert isinstance(procedure, Procedure)
    assert procedure.name == process_product
    assert procedure.how_known == "keeper"
    assert procedure.source == "the keeper's own recipe"
    assert "untested" in procedure.cautions[0].text
    method = METHODS[procedure.method]
    made = granted(method.scale(procedure, 1))
    process = granted(
        process_for(by_its_table(procedure.name), jar="half-pint", elevation_ft=2150)
    )
    checked = granted(method.checks(made, station()))
    assert any("untested" in caution.text for caution in checked.cautions)
    expected = granted(method.expected_yield(made, "half-pint"))
    assert 2 < expected.low <= expected.likely <= expected.high < 16
    work = granted(
        method.steps(made, station(), Filling(jar="half-pint", jars=8, process=process))
    )
    assert len(work.steps) > 5
    assert sum(part.mass_kg or 0 for part in made.parts) == pytest.approx(
        sum(i.mass_kg or 0 for i in measure(own).ingredients)
    )


def test_a_fruit_that_is_always_tested_with_acid_has_a_caution_without_it():
    def cautions(*more):
        # HG 56, peach jam: 3 3/4 cups crushed, 1/2 cup lemon juice, 5 cups sugar.
        peaches = ("3 3/4 cups", "crushed peaches", "")
        answer = classed(recipe(peaches, BOX, ("5 cups", "sugar", ""), *more))
        assert isinstance(answer, Classed)
        return " ".join(c.text for c in answer.cautions)

    assert "tested jam of peach here adds an acid" in cautions()
    assert "adds an acid" in cautions(LEMON)
    assert "adds an acid" not in cautions(("1/2 cup", "lemon juice", ""))
    assert "white-fleshed ones are lower in acid" in cautions()


def test_the_tables_have_all_their_rows():
    assert len(read_class_rules(table("class_rules"))) == 19
    assert len(never_in_a_spread()) == 15
    assert len(set(read_class_ingredients(table("class_ingredients")).values())) == 15


def test_more_sugar_than_tested_is_a_caution():
    lots = recipe(
        ("4 cups", "crushed plums", ""), BOX, ("8 1/2 cups", "sugar", ""), LEMON
    )
    answer = classed(lots)
    assert isinstance(answer, Classed)
    text = " ".join(c.text for c in answer.cautions)
    assert "crystallise" in text
    assert "Too little fruit to be sold under the name of jam" in text


@given(ounces=st.integers(1, 96))
def test_sugar_decides_at_the_edge_of_what_is_tested(ounces):
    """Berry jam: 800 g to 960 g of fruit; blackberry jam: 8 1/2 cups to a box."""
    lines = (PLUMS, BOX, (f"{ounces} fl oz", "sugar", ""))
    tested = 48 <= ounces <= 68  # to 1.44 kg of plums: 1,200 g and 1,700 g
    assert isinstance(classed(recipe(*lines)), Classed) is tested


@pytest.mark.parametrize("method", ["with_pectin", "boiled_down"])
def test_water_that_makes_up_the_juice_or_is_boiled_off_is_no_other_jelly(method):
    lines = [("5 cups", "plum juice", ""), ("1/2 cup", "water", "")]
    pectin = (
        [BOX, JELLY_SUGAR] if method == "with_pectin" else [("4 cups", "sugar", "")]
    )
    own = recipe(*lines, *pectin, kind="jelly", method=method)
    assert isinstance(classed(own), Classed)


def test_the_spans_are_those_of_the_book():
    # Berry jam, B2909 p.20: 4 cups (800 g) to a box; blackberry jam: 8 1/2 cups, 1 box.
    to_pectin, to_fruit, _ = granted(spans_of("jam", "with_pectin"))
    assert to_pectin is not None
    assert to_pectin.low * 49.6 == pytest.approx(800)
    assert to_pectin.high * 49.6 == pytest.approx(1700)
    assert to_fruit.low == pytest.approx(800 / 960)
    assert isinstance(spans_of("jelly", "butter"), Refusal)
    assert all(
        p.keeping == "shelf" and not p.refuse
        for kind in ("jelly", "jam", "butter")
        for method in METHODS
        for p in recipes_spanning(kind, method)
    )


def test_every_tested_recipe_that_can_be_written_down_passes_its_own_class():
    """What is in the book as tested must not be refused when a keeper types it."""
    passed = 0
    for kind, method in (("jelly", "with_pectin"), ("jam", "with_pectin")):
        for tested in recipes_spanning(kind, method):
            lines = []
            for i in tested.ingredients:
                if i.mass_kg is None:
                    continue
                lines.append(
                    OwnIngredient(
                        name=i.name,
                        prep=i.prep,
                        quantity=f"{i.mass_kg * 1000:.1f} g",
                    )
                )
            own = OwnRecipe(
                title=tested.title,
                kind=kind,
                method=method,
                jar="half-pint",
                ingredients=tuple(lines),
            )
            answer = classed(own)
            names = " ".join(i.name for i in tested.ingredients)
            if isinstance(answer, ColdOnly):
                # Nuts, raisins and orange are known in their tested recipe alone.
                assert any(
                    "know nothing of" in no.reason or "nuts" in no.reason
                    for no in answer.reasons
                ), (tested.id, names, why(answer))
            else:
                passed += 1
    assert passed >= 12


def test_the_tables_of_class_rules():
    rules = read_class_rules(table("class_rules"))
    assert class_rule("jelly", "solids_at_end").value == 65  # 21 CFR 150.140
    assert class_rule("jam", "solids_at_end").value == 65  # 21 CFR 150.160
    assert class_rule("butter", "solids_at_end").value == 43  # 21 CFR 150.110
    assert all(rule.source.how_known != "memory" for rule in rules.values())
    known = read_class_ingredients(table("class_ingredients"))
    assert known["powdered pectin"].each_kg == 0.0496  # 1 3/4 oz, Guide 7
    words = [word for row in never_in_a_spread() for word in row.phrases]
    assert {"honey", "onion", "garlic", "starch", "milk", "egg", "oil"} <= set(words)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("kind,rule,value,unit,words,source,how_known\njam,a,1,x,,s,looked_up\n", ""),
        (
            "kind,rule,value,unit,words,source,how_known\ncake,a,1,x,,s,looked_up\n",
            "kind",
        ),
        (
            "kind,rule,value,unit,words,source,how_known\njam,a,1,x,,,looked_up\n",
            "source",
        ),
        (
            "kind,rule,value,unit,words,source,how_known\n"
            "jam,a,1,x,,s,looked_up\njam,a,2,x,,s,looked_up\n",
            "twice",
        ),
    ],
)
def test_a_class_rule_without_its_source_is_not_believed(tmp_path, text, wrong):
    file = tmp_path / "rules.csv"
    file.write_text(text, encoding="utf-8")
    if wrong:
        with pytest.raises(Unreadable, match=wrong):
            read_class_rules(file)
    else:
        assert len(read_class_rules(file)) == 1


def test_one_name_for_two_ingredients_is_not_believed(tmp_path):
    file = tmp_path / "ingredients.csv"
    file.write_text(
        "ingredient,words,role,each_g,each,source,how_known\n"
        "sugar,sweet,sugar,,,s,looked_up\nwater,sweet,liquid,,,s,looked_up\n"
    )
    with pytest.raises(Unreadable, match=r"line 3.*'sweet' is already the name"):
        read_class_ingredients(file)


@given(
    st.text(max_size=60) | st.sampled_from(["1 tsp", "1/4 cup", "1 cup", "2 lb"]),
    st.text(max_size=40)
    | st.sampled_from(["water", "sugar", "lemon juice", "peaches", "red onion"]),
    st.just("") | st.text(max_size=40),
)
def test_nothing_typed_breaks_it_or_passes_for_an_ingredient(quantity, name, prep):
    """Whatever is typed beside a good jam: it is known, refused or asked for."""
    answer = classed(recipe(*JAM, (quantity, name, prep)), elevation_ft=0)
    if isinstance(answer, Classed):
        assert not isinstance(ingredient_named(name, prep), Refusal)
    else:
        assert answer.reasons or answer.questions


def test_a_fruit_that_is_refused_is_fruit_all_the_same():
    figs = ("6 cups", "figs", "crushed")
    said = why(classed(recipe(figs, BOX, SUGAR, LEMON)))
    assert "figs are not reliably acid" in said
    assert "there is no fruit in it" not in said
    assert "there is no fruit in it" in why(classed(recipe(BOX, SUGAR, LEMON)))
